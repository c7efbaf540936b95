package scenarios_test

import (
	"math"
	"testing"

	"hotclimb/sim"
)

// TestDownToTheField: a descent ends on the field though its time is not over,
// and the flight is incomplete from there. Another descent has nowhere to go.
func TestDownToTheField(t *testing.T) {
	overlay := legs("",
		"name: up, kind: climb, speed: 75 mph, to_altitude: 600 m",
		"name: down, kind: descend, speed: 75 mph, rate_of_climb: -10 m/s, for: 20 min",
		"name: further, kind: descend, speed: 75 mph, rate_of_climb: -10 m/s, for: 1 min")
	r := fly(t, variant(t, "tug", overlay, "test", "day.elevation=200 m"), sim.Settings{Sample: 1})
	warned(t, r, "leg down comes down to the field after 0:40, before its end")
	warned(t, r, "leg further comes down to the field")
	if r.Incomplete != "down" {
		t.Errorf("incomplete from leg %q", r.Incomplete)
	}
	for _, e := range r.Events {
		if e.Altitude < 200 {
			t.Errorf("%s at %g m", e.What, e.Altitude)
		}
	}
	for _, h := range channel(t, r, "altitude_m") {
		if h < 199-1e-6 {
			t.Fatalf("%g m, below the field at 200 m", h)
		}
	}
}

// TestLegOnTheFieldBegins: a leg on the ground starts on the field, wherever the
// leg before it ended. That is a gap in the flight and told, but its legs reach
// their ends.
func TestLegOnTheFieldBegins(t *testing.T) {
	overlay := legs("",
		"name: up, kind: climb, speed: 75 mph, to_altitude: 600 m",
		"name: park, kind: taxi, speed: 5 mph, for: 1 min")
	r := fly(t, variant(t, "tug", overlay, "test", "day.elevation=200 m"), sim.Settings{Sample: 1})
	warned(t, r, "leg park is on the field, though the leg before it ends 400 m (1312 ft) above")
	h := channel(t, r, "altitude_m")
	if end := h[len(h)-1]; end != 200 || r.Incomplete != "" {
		t.Errorf("parked at %g m, incomplete from leg %q", end, r.Incomplete)
	}
}

// TestNeverThere: a climb towards an altitude above the ceiling of the aircraft
// is given up after four hours, and the flight is incomplete.
func TestNeverThere(t *testing.T) {
	overlay := legs("", "name: up, kind: climb, speed: 75 mph, to_altitude: 12000 m")
	r := fly(t, variant(t, "tug", overlay, "test"), sim.Settings{})
	warned(t, r, "leg up did not reach its end within 4 hours")
	if r.Incomplete != "up" || span(t, r, "up").End != 4*3600 {
		t.Errorf("incomplete from leg %q at %g s", r.Incomplete, span(t, r, "up").End)
	}
}

// TestOverloadedTakeOff: an aircraft too heavy to climb stays on the field as
// long as it takes off; its climb, which cannot be flown, ends there.
func TestOverloadedTakeOff(t *testing.T) {
	overlay := legs("",
		"name: run, kind: take_off, speed: 60 mph, for: 1 min",
		"name: up, kind: climb, speed: 60 mph, for: 1 min")
	r := fly(t, variant(t, "tug", overlay, "test", "aircraft.mass=6000 lb"), sim.Settings{Sample: 1})
	run, h := span(t, r, "run"), channel(t, r, "altitude_m")
	if run.End-run.Start != 60 || h[59] != h[0] || r.Incomplete != "up" {
		t.Errorf("takes off for %g s, from %g to %g m, incomplete from leg %q", run.End-run.Start, h[0], h[59], r.Incomplete)
	}
}

// TestCompleteFlights: none of the built-in flights breaks off.
func TestCompleteFlights(t *testing.T) {
	everyCase(t, func(t *testing.T, p *sim.Plant) {
		if r := fly(t, p, sim.Settings{}); r.Incomplete != "" {
			t.Errorf("incomplete from leg %s", r.Incomplete)
		}
	})
}

// TestCaveats: what a reader must know of a run is told, each for its own
// reason and not of the tow as filed.
func TestCaveats(t *testing.T) {
	filed := flown(t, "tug", "hot_tow")
	for _, c := range []struct {
		told string
		set  set
	}{
		// 10 °F on the ground; water freezes at 32.
		{"below the freezing point of the coolant", set{"coolant.mixture=water", "day.temperature=10 degF"}},
		{"of boiling", set{"coolant.cap_pressure=4 psi"}},
		{"the coolant boils", set{"coolant.cap_pressure=0 psi", "coolant.mixture=water"}},
		{"radiator runs at 0.2", set{"exchangers.radiator.rating.air_flow=600 lb/min"}},
		{"air flows backwards through auxiliary", set{"inlets.cheek_left.recovery=0", "inlets.cheek_left.slipstream=0"}},
	} {
		notWarned(t, filed, c.told)
		warned(t, flown(t, "tug", "hot_tow", c.set...), c.told)
	}
}

// TestStandingAirIsNoCaveat: with the engine shut down and the wind behind, air
// goes through the cores backwards, as it must.
func TestStandingAirIsNoCaveat(t *testing.T) {
	r := flown(t, "tug", "hot_taxi")
	if r.Worst.Power != 0 || !r.Exchangers[0].Reversed {
		t.Fatalf("the least margin is at %g W with %+v", r.Worst.Power, r.Exchangers[0])
	}
	notWarned(t, r, "backwards")
	notWarned(t, r, "rated air flow")
}

// TestSettledThermostat: a settled start does not depend on how slow the wax is,
// though a slow one overshoots on the way and would come to rest in its play:
// the thermostat stands on its opening curve, 180 to 203 °F.
func TestSettledThermostat(t *testing.T) {
	for _, lag := range []string{"5 s", "15 s", "120 s"} {
		r := traced(t, "tug", "cruise", "coolant.thermostat.lag="+lag)
		opening, out := channel(t, r, "coolant_thermostat")[0], channel(t, r, "coolant_out_degC")[0]
		if want := (out*1.8 + 32 - 180) / (203 - 180); math.Abs(opening-want) > 1e-6 || !(want > 0.2 && want < 0.9) {
			t.Errorf("lag %s: opening %g at %g °C, %g on the curve", lag, opening, out, want)
		}
	}
}
