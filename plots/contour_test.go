package plots

import (
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"
	"pgregory.net/rapid"
)

// At the flown designs the field is the lesser of both margins beyond the
// required ones: with margins of 10 and 7 K, of which 2 and 4 K are required,
// 3 K or 5.4 °F.
func TestContourShowsTheLesserMarginBeyondTheRequired(t *testing.T) {
	t.Parallel()
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

// Where oil has 10.1 K more than coolant, the level of -10 K runs along the line
// of the oil at its limit, and has no room for its number.
func TestLevelsStayClearOfLimits(t *testing.T) {
	d := ContourData{X: Axis{Label: "x", Values: []float64{0, 1}}, Y: Axis{Label: "y", Values: []float64{0, 1}}}
	for _, gap := range []float64{10.1, 13} {
		d.Coolant = [][]float64{{-20, -2}, {-2, 16}}
		d.Oil = [][]float64{{-20 + gap, -2 + gap}, {-2 + gap, 16 + gap}}
		f := frame{vg.Rectangle{Max: vg.Point{X: 400, Y: contourHeight}}, span{0, 1}, span{0, 1}}
		l := layOutContour(&d, SI).traced(f)
		room, written := l.room(f), map[string]bool{}
		for _, label := range l.labels(room) {
			written[label.text] = true
			if n := count(label.box, room.points); n > 0 {
				t.Errorf("gap %g: %s lies on a line of a limit", gap, label.text)
			}
		}
		if want := gap == 13; written["−10"] != want || !written["+5"] {
			t.Errorf("gap %g: the levels written are %v", gap, written)
		}
	}
}

func TestLeastBadIsNoOptimum(t *testing.T) {
	d := ContourData{
		X: Axis{Label: "x", Values: []float64{0, 1}}, Y: Axis{Label: "y", Values: []float64{0, 1}},
		Coolant: [][]float64{{-5, -4}, {-3, -1}}, Oil: [][]float64{{1, 1}, {1, 1}}, Optimum: &[2]float64{1, 1},
	}
	for _, d.NothingFits = range []bool{false, true} {
		about := layOutContour(&d, SI).describe()
		if strings.Contains(about, "optimum") == d.NothingFits || strings.Contains(about, "least bad") != d.NothingFits {
			t.Errorf("nothing fits: %t: %q", d.NothingFits, about)
		}
	}
}
