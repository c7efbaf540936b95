package calibrate

import (
	"math"
	"testing"
)

// TestFlightsAreSmooth: as a number goes by hundredths of its doubt, readings bend
// by less than a hundredth of their noise. At sim.DefaultRelTol they bend by up to
// a quarter of it.
func TestFlightsAreSmooth(t *testing.T) {
	sc, _ := loaded(t, "rotary")
	record := demoRecords(t, sc)[1]
	paths := []string{"engine.heat_to_coolant", "exchangers.radiator.rating.air_share"}
	f, err := (&Calibration{Scenario: sc, Records: []*Record{record}, Paths: paths}).prepare()
	if err != nil {
		t.Fatal(err)
	}
	for k, path := range paths {
		var near [9][]float64
		for j := range near {
			x := f.before()
			x[k] += 0.01 * float64(j-4) * f.numbers[k].doubt
			near[j] = make([]float64, f.readings)
			if err := f.evaluate(t.Context(), x, near[j]); err != nil {
				t.Fatal(err)
			}
		}
		worst := 0.0
		for j := 1; j < len(near)-1; j++ {
			for i := range near[j] {
				bend := near[j+1][i] - 2*near[j][i] + near[j-1][i]
				worst = math.Max(worst, math.Abs(bend))
			}
		}
		t.Logf("%s: %.1e", path, worst)
		if worst > 0.01 {
			t.Errorf("%s: readings bend by %.1e of their noise", path, worst)
		}
	}
}
