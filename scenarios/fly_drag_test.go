package scenarios_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"hotclimb/sim"
)

// TestDragOwners: every newton of cooling drag has one owner, and what it costs
// is the same newton times speed.
func TestDragOwners(t *testing.T) {
	everyCase(t, func(t *testing.T, p *sim.Plant) {
		w := fly(t, p, sim.Settings{}).Worst
		if sum := w.InternalDrag + w.SpillageDrag + w.ExternalDrag; math.Abs(sum-w.CoolingDrag) > 1e-9 {
			t.Errorf("%+v", w)
		}
		if d := w.CoolingDrag * w.TrueAirspeed; w.TrueAirspeed > 0 && math.Abs(d-w.DragPower) > 1e-9 {
			t.Errorf("drag power %g W, want %g W", w.DragPower, d)
		}
		efficiency := p.Propeller.EfficiencyClimb
		if strings.HasSuffix(t.Name(), "cruise") {
			efficiency = p.Propeller.EfficiencyCruise
		}
		if math.Abs(w.CostPower*efficiency-math.Max(0, w.DragPower)) > 1e-9 {
			t.Errorf("costs %g W of engine power for %g W of drag", w.CostPower, w.DragPower)
		}
		if w.TrueAirspeed > 30 && !(w.InternalDrag > 0 && w.SpillageDrag >= 0 && w.ExternalDrag >= 0) {
			t.Errorf("%+v", w)
		}
	})
}

// begun returns the plant of one climb leg that starts at its highest oil
// temperature, so that the moment of the least margin is its start.
func begun(t testing.TB, file string, s ...string) (*sim.Plant, *sim.Result) {
	t.Helper()
	overlay := `
cases:
  - name: test
    flight:
      start_coolant: 190 degF
      start_oil: 350 degF
      legs: [{name: up, kind: climb, speed: 84 mph, throttle: 90 %, for: 1 s}]
`
	p := variant(t, file, overlay, "test", s...)
	r := fly(t, p, sim.Settings{Sample: 1})
	if r.Worst.Time != 0 {
		t.Fatalf("least margin at %g s", r.Worst.Time)
	}
	return p, r
}

// TestCostOfDrag: rate of climb and power are what the aircraft gains when it is
// flown with as much drag taken away.
func TestCostOfDrag(t *testing.T) {
	for _, file := range builtIns {
		p, r := begun(t, file)
		w := r.Worst
		climb := channel(t, r, "rate_of_climb_m_s")[0]

		drag := p.Aircraft.Drag(0.5*density(p, &w)*w.TrueAirspeed*w.TrueAirspeed) + w.CoolingDrag
		want := p.Aircraft.RateOfClimb(w.Power*p.Propeller.EfficiencyClimb, drag, w.TrueAirspeed)
		if math.Abs(climb-want) > 1e-9 {
			t.Errorf("%s: climbs at %g m/s, want %g m/s", file, climb, want)
		}

		// A measured parasite drag that holds it already: no cost left.
		q := 0.5 * density(p, &w) * w.TrueAirspeed * w.TrueAirspeed
		free := *p
		free.Aircraft.CoolingDrag = w.CoolingDrag / q
		gain := fly(t, &free, sim.Settings{}).Worst.RateOfClimb - climb
		if math.Abs(gain/w.CostRateOfClimb-1) > 1e-6 {
			t.Errorf("%s: climbs %g m/s better without the drag, cost %g m/s", file, gain, w.CostRateOfClimb)
		}

		// And with less power it climbs as before. Less slipstream and less bay
		// heat change the drag itself a little.
		free.Legs = append(free.Legs[:0:0], p.Legs...)
		free.Legs[0].Throttle = p.Legs[0].Throttle * (1 - w.CostPower/w.Power)
		if left := fly(t, &free, sim.Settings{}).Worst.RateOfClimb - climb; math.Abs(left) > 0.03*w.CostRateOfClimb {
			t.Errorf("%s: climbs %g m/s better with less power, drag costs %g m/s", file, left, w.CostRateOfClimb)
		}
		t.Logf("%s: %.0f N are %.2f m/s of %.2f, %.1f kW of %.0f", file, w.CoolingDrag, w.CostRateOfClimb, climb, w.CostPower/1e3, w.Power/1e3)
	}
}

// density returns that of the outside air at a snapshot [kg/m³].
func density(p *sim.Plant, w *sim.Snapshot) float64 { return p.Weather.Day.At(w.Altitude).Density }

// TestCostOfSpeed: at the same thrust power, level flight with a thousandth of
// the cooling drag more is slower by a thousandth of the cost.
func TestCostOfSpeed(t *testing.T) {
	for _, file := range builtIns {
		p := plantOf(t, file, "cruise")
		w := fly(t, p, sim.Settings{}).Worst
		rho := density(p, &w)
		needed := func(v float64) float64 { return p.Aircraft.Drag(0.5*rho*v*v) * v }
		v := w.TrueAirspeed
		const part = 1e-3
		want, target := v, needed(v)+part*w.CoolingDrag*v
		for range 50 { // Newton's method with a difference
			want -= (needed(want) - target) / (needed(want+1e-4) - needed(want-1e-4)) * 2e-4
		}
		got, want := w.CostSpeed, (want-v)/part
		t.Logf("%s: %.2f m/s of %.1f", file, got, v)
		if math.Abs(got/want-1) > 1e-3 {
			t.Errorf("%s: %g m/s, want %g", file, got, want)
		}
	}
}

// TestDragFromBaseline: a change is judged by its difference in drag, which a
// measured parasite drag does not touch.
func TestDragFromBaseline(t *testing.T) {
	gain := func(s ...string) float64 {
		_, before := begun(t, "tug", s...)
		_, after := begun(t, "tug", append(s, "exits.belly.height=10 in")...)
		return after.Worst.CoolingDrag - before.Worst.CoolingDrag
	}
	plain, measured := gain(), gain("aircraft.cooling_drag_included=0.3 ft^2")
	if !(plain > 1) || math.Abs(plain-measured) > 1e-9 {
		t.Errorf("a larger exit costs %g N, %g N over a measured baseline", plain, measured)
	}
}

// TestDragShare: the built-in aircraft take 2 to 10 % of the thrust power
// in cruise, which is Raymer's band, second-hand, and somewhat less in slow
// climbs at full power; a wide open cowl at speed is told.
func TestDragShare(t *testing.T) {
	told := ""
	everyCase(t, func(t *testing.T, p *sim.Plant) {
		r := fly(t, p, sim.Settings{})
		w := r.Worst
		if w.TrueAirspeed < 20 {
			return
		}
		share := w.CostPower / w.Power
		told += fmt.Sprintf(" %.1f %%", 100*share)
		least := 0.02
		if w.RateOfClimb > 0 {
			least = 0.015
		}
		if !(share > least && share < 0.10) {
			t.Errorf("cooling drag takes %.3f of the thrust power", share)
		}
		notWarned(t, r, "cooling drag takes")
	})
	t.Log(told)
	wide := flown(t, "tug", "cruise", "exits.belly.height=16 in", "exits.belly.flap_angle=30 deg")
	warned(t, wide, "cooling drag takes")
}
