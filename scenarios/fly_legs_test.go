package scenarios_test

import (
	"fmt"
	"math"
	"testing"

	"hotclimb/sim"
	"hotclimb/sim/atmos"
	"hotclimb/sim/flight"
)

// legs is an overlay with a case named test that flies the given legs, one per
// line, from a start.
func legs(start string, lines ...string) string {
	text := "cases:\n  - name: test\n    flight:\n"
	if start != "" {
		text += "      start: " + start + "\n"
	}
	text += "      legs:\n"
	for _, l := range lines {
		text += "        - {" + l + "}\n"
	}
	return text
}

func span(t testing.TB, r *sim.Result, name string) sim.LegSpan {
	t.Helper()
	for _, l := range r.Legs {
		if l.Name == name {
			return l
		}
	}
	t.Fatalf("no leg %s", name)
	return sim.LegSpan{}
}

// TestClimbSequence, as CS 22.1047: stabilise at 75 % of maximum
// continuous power or more, one minute of take-off power, then maximum
// continuous until five minutes after the highest temperature of both.
func TestClimbSequence(t *testing.T) {
	overlay := legs("settled",
		"name: stabilise, kind: level, speed: 80 mph, throttle: 70 %, until: settled, for: 2 min",
		"name: change, kind: level, speed: 80 mph, throttle: 78 %, until: settled",
		"name: take_off, kind: climb, speed: 75 mph, throttle: 100 %, for: 60 s",
		"name: climb, kind: climb, speed: 75 mph, throttle: 94 %, after_peak: 5 min")
	p := variant(t, "tug", overlay, "test", "aircraft.mass=2000 lb")
	r := fly(t, p, sim.Settings{Sample: 0.1})
	warned(t, r, "leg stabilise ends where it starts")
	change, takeOff, climb := span(t, r, "change"), span(t, r, "take_off"), span(t, r, "climb")
	if d := takeOff.End - takeOff.Start; math.Abs(d-60) > 1e-9 {
		t.Errorf("take-off power for %g s", d)
	}
	if d := change.End - change.Start; !(d > 20 && d < 1500) {
		t.Errorf("%g s to settle", d)
	}
	times := channel(t, r, "time_s")
	settled, peak := 0.0, 0.0
	for _, name := range []string{"coolant_out_degC", "oil_sump_degC"} {
		values := channel(t, r, name)
		highest, when := math.Inf(-1), 0.0
		for i, now := range times {
			if now >= climb.Start && values[i] > highest {
				highest, when = values[i], now
			}
			if i > 0 && now <= change.End && now > change.End-0.3 {
				settled = math.Max(settled, math.Abs(values[i]-values[i-1])/(now-times[i-1]))
			}
		}
		peak = math.Max(peak, when)
	}
	t.Logf("climb %.2f to %.2f s, later peak at %.1f s", climb.Start, climb.End, peak)
	if !(peak > climb.Start+30) || math.Abs(climb.End-300-peak) > 0.1 {
		t.Errorf("the climb ends %.2f s after the later peak, at %.1f s", climb.End-peak, peak)
	}
	if !(settled < 1.02*flight.StabilisedRate) {
		t.Errorf("%g K/s where it has settled", settled)
	}
}

// TestSettledStart: flown on in the same conditions nothing moves.
func TestSettledStart(t *testing.T) {
	for _, file := range builtIns {
		r := traced(t, file, "cruise", "flight.legs.level.for=30 s")
		for _, name := range []string{"metal_degC", "coolant_out_degC", "coolant_in_degC", "oil_sump_degC", "oil_in_degC"} {
			v := channel(t, r, name)
			for i := 1; i < len(v); i++ {
				if rate := v[i] - v[i-1]; !(math.Abs(rate) < 1e-4) {
					t.Errorf("%s: %s changes by %.2g K/s after %d s", file, name, rate, i)
					break
				}
			}
		}
	}
	// A first leg that no cooling keeps in bounds has no settled start.
	p := plantOf(t, "tug", "cruise", "exits.belly.height=0.2 in")
	lost, err := sim.Run(t.Context(), p, sim.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	warned(t, lost, "does not begin")
	if lost.Status != sim.OverLimit || lost.Incomplete != "level" || len(lost.Legs) != 0 || !lost.Peaks[0].Exceeded || lost.Peaks[0].TimeToLimit != 0 {
		t.Errorf("a settled start without cooling: %+v", lost)
	}
}

// TestSpeedKinds: the same number as indicated, calibrated, equivalent and true
// airspeed, high up.
func TestSpeedKinds(t *testing.T) {
	const v = 60.0
	state := atmos.AtField(3000, 20).At(3000)
	want := map[string]float64{
		"true": v, "equivalent": atmos.EquivalentToTrue(v, state), "calibrated": atmos.CalibratedToTrue(v, state),
		"indicated": atmos.CalibratedToTrue(v+2, state),
	}
	for kind, tas := range want {
		overlay := legs("", "name: level, kind: level, speed: 60 m/s, for: 2 s, speed_kind: "+kind) +
			"aircraft: {airspeed_error: {slow: {indicated: 40 m/s, calibrated: 41 m/s}, fast: {indicated: 80 m/s, calibrated: 83 m/s}}}\n"
		r := fly(t, variant(t, "tug", overlay, "test", "day.elevation=3000 m", "day.temperature=20 degC"), sim.Settings{Sample: 1})
		if got := channel(t, r, "true_airspeed_m_s")[0]; math.Abs(got-tas) > 1e-9 {
			t.Errorf("60 m/s %s is %g m/s, want %g", kind, got, tas)
		}
	}
	if !(want["indicated"] > want["calibrated"] && want["equivalent"] > want["true"]) {
		t.Error(want)
	}
}

// TestPrescribedClimb: the altitude follows the prescribed rate, up and down,
// whatever the power.
func TestPrescribedClimb(t *testing.T) {
	for _, rate := range []float64{0.5, 3} {
		overlay := legs("",
			fmt.Sprintf("name: up, kind: climb, speed: 75 mph, throttle: 60 %%, rate_of_climb: %g m/s, to_altitude: 600 m", rate),
			fmt.Sprintf("name: down, kind: descend, speed: 75 mph, rate_of_climb: %g m/s, for: 100 s", -rate))
		r := fly(t, variant(t, "tug", overlay, "test", "day.elevation=300 m"), sim.Settings{Sample: 1})
		up := span(t, r, "up")
		if want := 300 / rate; math.Abs(up.End-want) > 1e-5 {
			t.Errorf("%g s to climb, want %g", up.End, want)
		}
		h := channel(t, r, "altitude_m")
		if end := h[len(h)-1]; math.Abs(end-(600-100*rate)) > 1e-4 {
			t.Errorf("%g m at the end", end)
		}
	}
}

// TestAltitudeLegs: a climb ends on its altitude, and one that is there already
// is left out with a warning.
func TestAltitudeLegs(t *testing.T) {
	overlay := legs("",
		"name: up, kind: climb, speed: 75 mph, to_altitude: 3000 ft",
		"name: again, kind: climb, speed: 75 mph, to_altitude: 2500 ft",
		"name: down, kind: descend, speed: 90 mph, throttle: 10 %, to_altitude: 2000 ft")
	r := fly(t, variant(t, "tug", overlay, "test"), sim.Settings{Sample: 5})
	warned(t, r, "leg again ends where it starts")
	h := channel(t, r, "altitude_m")
	highest := 0.0
	for _, v := range h {
		highest = math.Max(highest, v)
	}
	if math.Abs(highest-914.4) > 1e-3 || math.Abs(h[len(h)-1]-609.6) > 1e-3 {
		t.Errorf("up to %g m, down to %g m", highest, h[len(h)-1])
	}
	if again := span(t, r, "again"); again.End != again.Start {
		t.Errorf("leg again takes %g s", again.End-again.Start)
	}
}
