package scenarios_test

import (
	"math"
	"testing"

	"hotclimb/sim"
)

// lastPeak returns the later of the times [s] at which coolant and oil are
// highest in the samples from a time on.
func lastPeak(t testing.TB, r *sim.Result, from float64) float64 {
	t.Helper()
	times, later := channel(t, r, "time_s"), 0.0
	for _, name := range []string{"coolant_out_degC", "oil_sump_degC"} {
		values := channel(t, r, name)
		highest, when := math.Inf(-1), 0.0
		for i, now := range times {
			if now >= from && values[i] > highest {
				highest, when = values[i], now
			}
		}
		later = math.Max(later, when)
	}
	return later
}

// TestSecondPeak: spray makes a first peak of the coolant; when its time is
// over the coolant rises higher, and the leg ends after that peak.
func TestSecondPeak(t *testing.T) {
	overlay := legs("", "name: up, kind: climb, speed: 70 mph, after_peak: 4 min")
	p := variant(t, "tug", overlay, "test", "spray.leg=up", "spray.rate=2 L/min", "spray.above=212 degF",
		"spray.for=60 s", "oil.volume=3 qt", "exchangers.oil_cooler.rating.heat=24 kW")
	r := fly(t, p, sim.Settings{Sample: 0.1})
	on, up := when(t, r, "spray starts"), span(t, r, "up")
	peak := lastPeak(t, r, 0)
	v := channel(t, r, "coolant_out_degC")
	first := v[int(math.Round(on*10))+20]
	t.Logf("spray at %.1f s, last peak at %.1f s, end at %.2f s", on, peak, up.End)
	if !(peak > on+70) || !(r.Peaks[0].Value > first) {
		t.Fatalf("spray at %g s and %g °C, last peak at %g s and %g °C", on, first, peak, r.Peaks[0].Value)
	}
	if math.Abs(up.End-peak-240) > 0.1 {
		t.Errorf("ends %g s after the last peak", up.End-peak)
	}
}

// TestCoolingDown: temperatures that only fall have their peak at the start.
func TestCoolingDown(t *testing.T) {
	overlay := legs("",
		"name: up, kind: climb, speed: 70 mph, for: 5 min",
		"name: down, kind: descend, speed: 100 mph, throttle: 5 %, rate_of_climb: -500 ft/min, after_peak: 90 s")
	r := fly(t, variant(t, "tug", overlay, "test"), sim.Settings{Sample: 0.1})
	down := span(t, r, "down")
	if peak := lastPeak(t, r, down.Start); peak > down.Start+15 || math.Abs(down.End-peak-90) > 0.15 {
		t.Errorf("from %g s, last peak at %g s, ends at %g s", down.Start, peak, down.End)
	}
}
