package flight

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestKinds(t *testing.T) {
	for _, r := range []struct {
		word          string
		kind          Kind
		ground, climb bool
	}{
		{"idle", Idle, true, true},
		{"taxi", Taxi, true, true},
		{"run_up", RunUp, true, true},
		{"take_off", TakeOff, false, true},
		{"climb", Climb, false, true},
		{"level", Level, false, false},
		{"descend", Descend, false, false},
		{"shut_down", ShutDown, true, true},
	} {
		k, err := KindOf(r.word)
		if err != nil || k != r.kind {
			t.Errorf("%s is %v, %v", r.word, k, err)
		}
		if k.OnGround() != r.ground || k.ClimbsAway() != r.climb {
			t.Errorf("%s: on the ground %v, at climb efficiency %v", r.word, k.OnGround(), k.ClimbsAway())
		}
	}
	if len(Kinds()) != int(ShutDown)+1 {
		t.Errorf("%d words for %d kinds", len(Kinds()), ShutDown+1)
	}
	if _, err := KindOf("loop"); err == nil || !strings.Contains(err.Error(), `"loop"`) {
		t.Errorf("an unknown kind gives %v", err)
	}
}

func TestOutput(t *testing.T) {
	near(t, "throttle", (&Leg{Kind: Climb, Throttle: 0.75, Power: 9e3}).Output(80e3), 60e3, 0)
	near(t, "power", (&Leg{Kind: Level, Power: 50e3}).Output(80e3), 50e3, 0)
	near(t, "more power than there is", (&Leg{Kind: Level, Power: 90e3}).Output(80e3), 80e3, 0)
	near(t, "neither", (&Leg{Kind: Idle}).Output(80e3), 0, 0)
	near(t, "shut down", (&Leg{Kind: ShutDown, Throttle: 1, Power: 9e3}).Output(80e3), 0, 0)
}

// TestStabilised: 14 CFR 25.1045, less than 2 °F a minute either way.
func TestStabilised(t *testing.T) {
	fahrenheitPerMinute := func(rate float64) float64 { return rate / 1.8 / 60 }
	for _, r := range []struct {
		rate float64
		want bool
	}{{0, true}, {1.9, true}, {-1.9, true}, {2, false}, {-2, false}, {2.1, false}, {-2.1, false}} {
		if got := Stabilised(fahrenheitPerMinute(r.rate)); got != r.want {
			t.Errorf("%g °F/min: %v", r.rate, got)
		}
	}
	if Stabilised(math.NaN()) {
		t.Error("an unknown rate counts as settled")
	}
}

func TestAirspeedTable(t *testing.T) {
	table := AirspeedTable{{60, 58}, {30, 33}, {40, 41}}
	table.Sort()
	for _, r := range []struct{ indicated, calibrated float64 }{
		{0, 3}, {20, 23}, {30, 33}, {35, 37}, {40, 41}, {50, 49.5}, {60, 58}, {80, 78},
	} {
		near(t, fmt.Sprintf("%g m/s", r.indicated), table.Calibrated(r.indicated), r.calibrated, 1e-12)
	}
	near(t, "one point", AirspeedTable{{40, 42}}.Calibrated(70), 72, 1e-12)
	near(t, "no table", AirspeedTable(nil).Calibrated(43), 43, 0)
	near(t, "twice the same speed", AirspeedTable{{40, 41}, {40, 42}, {60, 60}}.Calibrated(40), 41, 1e-12)
}

// TestAirspeedTableIsBounded: no NaN; the error lies within those of the table.
func TestAirspeedTableIsBounded(t *testing.T) {
	speed := rapid.Float64Range(1, 200)
	rapid.Check(t, func(rt *rapid.T) {
		table := AirspeedTable(rapid.SliceOfN(rapid.Custom(func(rt *rapid.T) AirspeedPoint {
			return AirspeedPoint{speed.Draw(rt, "indicated"), speed.Draw(rt, "calibrated")}
		}), 1, 6).Draw(rt, "table"))
		table.Sort()
		low, high := math.Inf(1), math.Inf(-1)
		for _, p := range table {
			low, high = min(low, p.Calibrated-p.Indicated), max(high, p.Calibrated-p.Indicated)
		}
		v := rapid.Float64Range(0, 250).Draw(rt, "v")
		if e := table.Calibrated(v) - v; !(e >= low-1e-9 && e <= high+1e-9) {
			rt.Fatalf("error %g outside %g to %g", e, low, high)
		}
	})
}
