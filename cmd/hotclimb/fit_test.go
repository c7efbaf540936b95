package main

import (
	"bytes"
	"encoding/json"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"hotclimb/scenarios"
	"hotclimb/sweep"
	"hotclimb/sweep/calibrate"
)

// TestOverlayOfFit: the overlay, laid over the scenario, carries what was found:
// values and doubts to a thousandth of the doubt, correlations to six decimals,
// where every study of doubt takes them from. Paths are of kinds, presets, defaults
// and gauges, in units of all sorts.
func TestOverlayOfFit(t *testing.T) {
	overlay := filepath.Join(t.TempDir(), "fitted.yaml")
	args := []string{"fit", "rotary", "--test", "wide_ring_again", "--format", "json", "--write", overlay}
	for _, path := range []string{
		"engine.heat_to_oil", "engine.metal_to_oil", "exits.aft_ring.pressure_coefficient", "exchangers.radiator.rating.heat",
		"coolant.thermostat.lag", "gauges.oil.bias", "gauges.coolant.lag",
	} {
		args = append(args, "--path", path)
	}
	var out, errs bytes.Buffer
	if status := app(t.Context(), args, &out, &errs); status != exitDone {
		t.Fatalf("status %d: %s", status, errs.String())
	}
	var found struct {
		Numbers []struct {
			Path  string
			After float64
			Doubt float64 `json:"doubt_after"`
		}
		Correlations []struct {
			Of, With string
			Value    float64
		}
	}
	if err := json.Unmarshal(out.Bytes(), &found); err != nil {
		t.Fatal(err)
	}
	sc, err := scenarios.LoadFile("rotary", []string{overlay})
	if err != nil {
		t.Fatal(err)
	}
	kase, err := sc.Case("hot_climb")
	if err != nil {
		t.Fatal(err)
	}
	doubts, err := sweep.DoubtsOf(kase)
	if err != nil {
		t.Fatal(err)
	}
	place := map[string]int{}
	for k, p := range doubts.Params {
		place[p.Path] = k
	}
	for _, n := range found.Numbers {
		q, err := kase.Compile(n.Path)
		if err != nil {
			t.Fatal(err)
		}
		if got, _ := q.Get(kase); math.Abs(got.Value-n.After) > 1e-3*n.Doubt || math.Abs(got.Doubt-n.Doubt) > 1e-3*n.Doubt {
			t.Errorf("%s is %v ± %v in the overlay, %v ± %v was found", n.Path, got.Value, got.Doubt, n.After, n.Doubt)
		}
	}
	if len(found.Numbers) != 7 || len(found.Correlations) != 21 {
		t.Errorf("%d numbers and %d correlations", len(found.Numbers), len(found.Correlations))
	}
	compared := 0
	for _, c := range found.Correlations {
		j, a := place[c.Of]
		k, b := place[c.With]
		if !a || !b {
			continue // of a gauge, which changes no flight
		}
		compared++
		if got := doubts.Correlation.At(j, k); math.Abs(got-c.Value) > 1e-6 {
			t.Errorf("%s with %s: %v in the overlay, %v was found", c.Of, c.With, got, c.Value)
		}
	}
	if compared != 10 {
		t.Errorf("%d correlations compared, want those of 5 numbers", compared)
	}
}

// TestBestAlong: the flight that teaches most is proposed only if it may be flown,
// and none that teaches next to nothing.
func TestBestAlong(t *testing.T) {
	rows := []calibrate.NextRow{{OverLimit: true}, {Passes: 0.3}, {Passes: 0.05}, {}}
	list := []calibrate.NextAlong{{Row: 0, Now: 1, After: 0.1}, {Row: 1, Now: 1, After: 0.2}, {Row: 2, Now: 1, After: 0.3}, {Row: 3, Now: 1, After: 0.4}}
	if got := bestAlong(rows, list); got != 2 {
		t.Errorf("%d, want 2: the first is over a limit, the second likely to be", got)
	}
	if got := bestAlong(rows[:2], list[:2]); got != -1 {
		t.Errorf("%d is proposed though none may be flown", got)
	}
	if got := bestAlong(rows[3:], []calibrate.NextAlong{{Row: 0, Now: 1, After: 0.95}}); got != -1 {
		t.Errorf("%d is proposed though it teaches next to nothing", got)
	}
}

// TestMostBlind: the text tells three blind spots and how many more there are.
func TestMostBlind(t *testing.T) {
	z := &fitted{Calibrated: &calibrate.Calibrated{Numbers: make([]calibrate.SharpNumber, 3)}}
	for k, path := range []string{"engine.heat_to_oil", "gauges.oil.bias", "gauges.oil.lag"} {
		z.Numbers[k].Param.Path = path
	}
	for range 5 {
		z.Blind = append(z.Blind, calibrate.BlindSpot{Numbers: []int{0, 1, 2}, Ways: []float64{1, -1, 1}})
		z.advised = append(z.advised, advice{})
	}
	p := &fitPage{&page{}, z}
	p.blind()
	text := strings.Join(strings.Fields(p.String()), " ")
	const told = "The heat to oil of the engine, lag of the oil gauge and bias of the oil gauge cannot be separated by these flights: the last down, the others up, and others a little, and the gauges read the same."
	if n := strings.Count(text, told); n != 3 || !strings.HasSuffix(text, "and 2 more (--format json has all)") {
		t.Errorf("told %d times: %s", n, text)
	}
}

// TestInWords: paths as people say them.
func TestInWords(t *testing.T) {
	for path, want := range map[string]string{
		"exits.belly.pressure_coefficient": "pressure coefficient of exit belly",
		"engine.heat_to_coolant":           "heat to coolant of the engine",
		"exchangers.radiator.rating.heat":  "rating heat of exchanger radiator",
		"gauges.oil.bias":                  "bias of the oil gauge",
		"coolant.thermostat.lag":           "thermostat lag of the coolant",
	} {
		if got := inWords(path); got != want {
			t.Errorf("%s: %q, want %q", path, got, want)
		}
	}
}
