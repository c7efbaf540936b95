package plots

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/recorder"
	"pgregory.net/rapid"
)

// written is a text on the canvas and the box of its letters.
type written struct {
	text string
	box  vg.Rectangle
}

// textsOn paints a figure and gathers its texts.
func textsOn(f *Figure) []written {
	var r recorder.Canvas
	f.paint(draw.NewCanvas(&r, f.width, f.height))
	var list []written
	for _, a := range r.Actions {
		t, ok := a.(*recorder.FillString)
		if !ok {
			continue
		}
		face := fonts.Lookup(t.Font, t.Size)
		// From the foot of descending letters to the head of capitals, as shares
		// of the size; measured on Liberation Sans.
		list = append(list, written{t.String, vg.Rectangle{
			Min: vg.Point{X: t.Point.X, Y: t.Point.Y - 0.21*t.Size},
			Max: vg.Point{X: t.Point.X + face.Width(t.String), Y: t.Point.Y + 0.73*t.Size},
		}})
	}
	return list
}

// checkLegible fails if a text leaves the page or touches another.
func checkLegible(t interface{ Errorf(string, ...any) }, name string, f *Figure) {
	list := textsOn(f)
	for i, w := range list {
		if w.box.Min.X < 0 || w.box.Min.Y < 0 || w.box.Max.X > f.width || w.box.Max.Y > f.height {
			t.Errorf("%s: %q leaves the page: %v of %v × %v", name, w.text, w.box, f.width, f.height)
		}
		for _, o := range list[:i] {
			if w.box.Min.X < o.box.Max.X && o.box.Min.X < w.box.Max.X && w.box.Min.Y < o.box.Max.Y && o.box.Min.Y < w.box.Max.Y {
				t.Errorf("%s: %q lies on %q", name, w.text, o.text)
			}
		}
	}
}

// anyMargin draws a margin, now and then huge or missing.
func anyMargin(t *rapid.T, label string) float64 {
	switch rapid.IntRange(0, 12).Draw(t, label+" kind") {
	case 0:
		return math.NaN()
	case 1:
		return rapid.Float64Range(-1e5, 1e5).Draw(t, label)
	}
	return rapid.Float64Range(-30, 30).Draw(t, label)
}

// anyAxis draws an axis of n rising values of any size.
func anyAxis(t *rapid.T, label string, n int) Axis {
	a := Axis{
		Label: rapid.SampledFrom([]string{"a", "exits.belly.height", "exchangers.second_radiator_behind_gearbox.power_law.exponent", "W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W"}).Draw(t, label+" name"),
		Unit:  rapid.SampledFrom([]string{"", "in", "lb/min", "BTU/h/ft²/°F and more"}).Draw(t, label+" unit"),
	}
	size := math.Pow(10, rapid.Float64Range(-4, 6).Draw(t, label+" size"))
	v := rapid.Float64Range(-2, 5).Draw(t, label+" from") * size
	for range n {
		a.Values = append(a.Values, v)
		v += rapid.Float64Range(0.01, 2).Draw(t, label+" step") * size
	}
	return a
}

func TestSensitivityIsLegible(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		curves := make([]SensitivityCurve, rapid.IntRange(1, 12).Draw(t, "curves"))
		for i := range curves {
			n := rapid.IntRange(1, 6).Draw(t, "n")
			s := SensitivityCurve{Axis: anyAxis(t, "x", n), Present: math.NaN()}
			for range n {
				s.Coolant, s.Oil = append(s.Coolant, anyMargin(t, "coolant")), append(s.Oil, anyMargin(t, "oil"))
			}
			if rapid.Bool().Draw(t, "present") {
				s.Present = s.Values[0] * 1.1
			}
			curves[i] = s
		}
		f, err := Sensitivity(curves, Units(rapid.IntRange(0, 1).Draw(t, "units")), Caption{Title: "A title"})
		if err != nil {
			t.Fatal(err)
		}
		checkLegible(t, "sensitivity", f)
	})
}

func TestContourIsLegible(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		nx, ny := rapid.IntRange(2, 6).Draw(t, "nx"), rapid.IntRange(2, 6).Draw(t, "ny")
		d := ContourData{X: anyAxis(t, "x", nx), Y: anyAxis(t, "y", ny), NeedCoolant: 2}
		for range ny {
			var coolant, oil []float64
			for range nx {
				coolant, oil = append(coolant, anyMargin(t, "coolant")), append(oil, anyMargin(t, "oil"))
			}
			d.Coolant, d.Oil = append(d.Coolant, coolant), append(d.Oil, oil)
		}
		inside := func(a Axis, label string) float64 {
			return between(a.Values[0], a.Values[len(a.Values)-1], rapid.Float64Range(0, 1.05).Draw(t, label))
		}
		d.Present = &[2]float64{inside(d.X, "present x"), inside(d.Y, "present y")}
		d.Optimum = &[2]float64{inside(d.X, "optimum x"), inside(d.Y, "optimum y")}
		f, err := Contour(d, SI, Caption{Title: "A title"})
		if err != nil {
			t.Fatal(err)
		}
		checkLegible(t, "contour", f)
	})
}

func TestTornadoIsLegible(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		gains := make([]Gain, rapid.IntRange(1, 40).Draw(t, "gains"))
		size := math.Pow(10, rapid.Float64Range(-3, 8).Draw(t, "size"))
		for i := range gains {
			gains[i] = Gain{
				Name:    rapid.StringOfN(rapid.RuneFrom([]rune("aW._ %−10")), 1, 150, -1).Draw(t, "name"),
				Note:    rapid.StringOfN(rapid.RuneFrom([]rune("aW._ ")), 0, 150, -1).Draw(t, "note"),
				Coolant: size * rapid.Float64Range(-1, 1).Draw(t, "coolant"), Oil: size * rapid.Float64Range(-1, 1).Draw(t, "oil"),
			}
		}
		f, err := Tornado(gains, SI, Caption{Title: "A title"})
		if err != nil {
			t.Fatal(err)
		}
		checkLegible(t, "tornado", f)
	})
}

func TestFrontIsLegible(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		one := func(label string) FrontPoint {
			return FrontPoint{
				Margin:    rapid.Float64Range(-50, 50).Draw(t, label+" margin"),
				DragPower: math.Pow(10, rapid.Float64Range(-2, 6).Draw(t, label+" drag")),
				Area:      math.Pow(10, rapid.Float64Range(-4, 1).Draw(t, label+" area")),
			}
		}
		points := make([]FrontPoint, rapid.IntRange(1, 12).Draw(t, "points"))
		for i := range points {
			points[i] = one(fmt.Sprint("point ", i))
		}
		f, err := Front(points, one("present"), US, Caption{Title: "A title"})
		if err != nil {
			t.Fatal(err)
		}
		checkLegible(t, "front", f)
	})
}
