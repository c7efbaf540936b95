package optimum

import (
	"math"
	"slices"
	"strconv"

	"hotclimb/scenarios"
)

// rounding is the row of sizes that a factor can be made in.
type rounding struct {
	lo, hi float64 // bounds
	size   func(n float64) float64
	number func(x float64) float64 // inverse of size
	shape  func(x float64) Shape
}

// near is the size so many steps from the last one that is not greater than x,
// held within the bounds where there are sizes between them.
func (r *rounding) near(x float64, steps int) float64 {
	const slip = 1e-9 // of a step: x is the size itself
	n := math.Floor(r.number(x) + slip)
	if n < r.number(x)-slip {
		n += float64(steps)
	} else if steps > 1 || steps < 0 {
		n += float64(steps)
	}
	least, most := math.Ceil(r.number(r.lo)-slip), math.Floor(r.number(r.hi)+slip)
	if least > most {
		return x
	}
	return r.size(min(max(n, least), most))
}

// all are the sizes so many steps from x, each once.
func (r *rounding) all(x float64, steps []int) []float64 {
	var sizes []float64
	for _, n := range steps {
		if size := r.near(x, n); !slices.Contains(sizes, size) {
			sizes = append(sizes, size)
		}
	}
	return sizes
}

// inch and its sixteenth [m].
const (
	inch      = 0.0254
	sixteenth = inch / 16
)

// cut is the step of lengths that sheet is cut to [m].
func cut(display string) float64 {
	if display == "si" {
		return 1e-3
	}
	return sixteenth
}

// roundingOf is the row of sizes of a number: whole pieces, lengths in
// sixteenths of an inch or millimetres, areas of openings of such lengths, and
// three digits of anything else.
func roundingOf(p scenarios.Param, cases []scenarios.CaseScenario) rounding {
	sc := cases[0].Scenario
	step := cut(sc.Display)
	switch {
	case p.Whole:
		return even(1)
	case p.Dimension == scenarios.DimensionOf[scenarios.Length]():
		return even(step)
	case p.Dimension == scenarios.DimensionOf[scenarios.Area]() && p.Made == "opening":
		r := opening(widthOf(sc, p.Path), step)
		size := r.size
		r.size = func(n float64) float64 { return fewDigits(size(n), p) }
		return r
	}
	one, err := scenarios.Convert(1, p.Unit, p.Dimension)
	zero, _ := scenarios.Convert(0, p.Unit, p.Dimension)
	if err != nil || one == zero {
		return even(1e-3)
	}
	unit := 1 / (one - zero)
	return even(unit * math.Pow(10, math.Floor(math.Log10(math.Max(p.Hi-p.Lo, 1e-9)/unit))-4))
}

// fewDigits is a value with four decimal places in the unit that it is shown in,
// so that a file can hold it.
func fewDigits(x float64, p scenarios.Param) float64 {
	shown, err := scenarios.Convert(x, p.Unit, p.Dimension)
	if err != nil {
		return x
	}
	n, err := scenarios.Parse(strconv.FormatFloat(shown, 'f', 4, 64)+" "+p.Unit, p.Dimension)
	if err != nil {
		return x
	}
	return n.Value
}

// even is a row of multiples.
func even(step float64) rounding {
	return rounding{
		size:   func(n float64) float64 { return n * step },
		number: func(x float64) float64 { return x / step },
		shape:  func(float64) Shape { return Shape{} },
	}
}

// proportion is the width over the height of a rectangle, where the file has
// none.
const proportion = 2.0

// opening is the row of areas of rectangles of a width or, without one, of
// circles. The shape has the other one as well, at least as big.
func opening(width, step float64) rounding {
	const slip = 0.01 // of a step: nobody cuts that well
	up := func(x float64) float64 { return math.Ceil(x/step-slip) * step }
	shape := func(area float64, round bool) Shape {
		s := Shape{Width: width, Round: round, Diameter: up(math.Sqrt(4 / math.Pi * area))}
		if width == 0 {
			s.Width = up(math.Sqrt(proportion * area))
		}
		s.Height = up(area / s.Width)
		return s
	}
	if width > 0 {
		r := even(width * step)
		r.shape = func(area float64) Shape { return shape(area, false) }
		return r
	}
	return rounding{
		size:   func(n float64) float64 { return math.Pi / 4 * n * step * n * step },
		number: func(x float64) float64 { return math.Sqrt(4/math.Pi*x) / step },
		shape:  func(area float64) Shape { return shape(area, true) },
	}
}

// widthOf is the width that the file gives the opening of an area, all its
// pieces side by side; 0 for none.
func widthOf(sc *scenarios.Scenario, area string) float64 {
	section := area[:max(0, len(area)-len(".area"))]
	width := 0.0
	if p, err := sc.Compile(section + ".width"); err == nil {
		if n, ok := p.Get(sc); ok {
			width = n.Value
		}
	}
	if p, err := sc.Compile(section + ".count"); err == nil {
		if n, ok := p.Get(sc); ok && n.Value > 0 {
			width *= n.Value
		}
	}
	return width
}
