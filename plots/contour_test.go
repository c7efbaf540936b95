package plots

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// At the flown designs the field is the lesser of both margins beyond the
// required ones: with margins of 10 and 7 K, of which 2 and 4 K are required,
// 3 K or 5.4 °F.
func TestContourShowsTheLesserMarginBeyondTheRequired(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := ContourData{
			X: Axis{Label: "x", Values: []float64{0, 1, 2}}, Y: Axis{Label: "y", Values: []float64{0, 1}},
			NeedCoolant: rapid.Float64Range(0, 5).Draw(t, "need of coolant"), NeedOil: rapid.Float64Range(0, 5).Draw(t, "need of oil"),
		}
		for range d.Y.Values {
			d.Coolant = append(d.Coolant, rapid.SliceOfN(rapid.Float64Range(-20, 20), 3, 3).Draw(t, "coolant"))
			d.Oil = append(d.Oil, rapid.SliceOfN(rapid.Float64Range(-20, 20), 3, 3).Draw(t, "oil"))
		}
		for u, factor := range map[Units]float64{US: 1.8, SI: 1} {
			l := layOutContour(&d, u)
			for j, y := range d.Y.Values {
				for i, x := range d.X.Values {
					want := factor * min(d.Coolant[j][i]-d.NeedCoolant, d.Oil[j][i]-d.NeedOil)
					m, n := slices.Index(l.worst.x, x), slices.Index(l.worst.y, y)
					if got := l.worst.z[n][m]; math.Abs(got-want) > 1e-9 {
						t.Fatalf("%g at %g, %g, want %g", got, x, y, want)
					}
				}
			}
		}
	})
	d := ContourData{
		X: Axis{Label: "x", Values: []float64{0, 1}}, Y: Axis{Label: "y", Values: []float64{0, 1}},
		Coolant: [][]float64{{10, 10}, {10, 10}}, Oil: [][]float64{{7, 7}, {7, 7}}, NeedCoolant: 2, NeedOil: 4,
	}
	if s := layOutContour(&d, US).worst.bounds(); math.Abs(s.lo-5.4) > 1e-9 || math.Abs(s.hi-5.4) > 1e-9 {
		t.Errorf("bounds %v, want 5.4 °F", s)
	}
}
