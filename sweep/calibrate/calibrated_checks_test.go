package calibrate

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"hotclimb/sweep"
)

// TestChecksOfResiduals: readings made with twice the noise, with a drift, with a
// shift and with errors that stay alike are each told as that, and true ones as
// nothing.
func TestChecksOfResiduals(t *testing.T) {
	sc := withDoubts(t, highwing)
	long := short
	long.minutes, long.every = 16, 20
	base := truth{}.read(t, blank(t, sc, long), [2]float64{88, 75}, exactly)
	noise := base.Gauge(sweep.Coolant).Noise.Value
	rng := rand.New(rand.NewPCG(8, 8))
	white := make([]float64, len(base.Readings))
	for i := range white {
		white[i] = rng.NormFloat64()
	}
	walk := slices.Clone(white)
	for i := 1; i < len(walk); i++ {
		walk[i] = 0.8*walk[i-1] + 0.6*white[i] // of the same size, alike by 0.8
	}
	for _, c := range []struct {
		what string
		err  func(i int, at float64) float64
		is   [4]bool // scatters, shifted, drifts, alike
	}{
		{"true", func(i int, _ float64) float64 { return white[i] }, [4]bool{}},
		{"loud", func(i int, _ float64) float64 { return 2.3 * white[i] }, [4]bool{true}},
		{"high", func(i int, _ float64) float64 { return 0.5*white[i] + 1 }, [4]bool{false, true, false, true}},
		{"drifting", func(i int, at float64) float64 { return 0.5*white[i] + (at-480)/240 }, [4]bool{false, false, true, true}},
		{"alike", func(i int, _ float64) float64 { return walk[i] }, [4]bool{false, false, false, true}},
	} {
		r := *base
		r.Readings = slices.Clone(base.Readings)
		for i := range r.Readings {
			if m := &r.Readings[i]; m.Circuit == sweep.Coolant {
				m.Value += noise * c.err(i, m.From)
			}
		}
		// A number that hardly moves leaves the readings as they are.
		found := find(t, &Calibration{Scenario: sc, Records: []*Record{&r}, Paths: []string{"compartments.cowl.skin_loss"}})
		s := &found.Checks.Series[0]
		got := [4]bool{s.Scatter > 1.5, s.Shifted(), s.Drifts(), s.Alikeness()}
		t.Logf("%s: scatter %.2f, mean %.2f K, drift %.2g K/s, alike %.2f", c.what, s.Scatter, s.Mean, s.Drift, s.Alike)
		if got != c.is {
			t.Errorf("%s readings: scatter, shift, drift, alike told as %v, want %v", c.what, got, c.is)
		}
		if oil := &found.Checks.Series[1]; oil.Scatter > 0.05 {
			t.Errorf("%s: the oil, read without error, scatters %.2f", c.what, oil.Scatter)
		}
	}
}

// TestReducedOfFit: with noise as given, the sum of squares over the freedom is 1
// within three of its standard deviations, by squares and by the middle.
func TestReducedOfFit(t *testing.T) {
	sc := withDoubts(t, highwing)
	long := short
	long.minutes, long.every = 16, 10
	rng := rand.New(rand.NewPCG(9, 9))
	r := truth{"engine.heat_to_oil": 0.12}.read(t, blank(t, sc, long), [2]float64{88, 75}, rng.NormFloat64)
	for _, kind := range []LossKind{Squares, Huber, Cauchy} {
		c := find(t, &Calibration{Scenario: sc, Records: []*Record{r}, Paths: []string{"engine.heat_to_oil"}, Loss: Loss{Kind: kind}}).Checks
		t.Logf("%v: %.2f, expected 1 ± %.2f", kind, c.Reduced, c.Spread)
		if math.Abs(c.Scatters()) > 3 {
			t.Errorf("%v: %.2f, expected 1 ± %.2f", kind, c.Reduced, c.Spread)
		}
	}
}
