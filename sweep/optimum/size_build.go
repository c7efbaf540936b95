package optimum

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"

	"hotclimb/scenarios"
)

// Build is the answer in sizes that can be made.
type Build struct {
	Pieces []Piece // by factor
	Design Design
	Fits   bool   // with these sizes every limit is kept
	How    string // how they were chosen, in words
}

// Piece is the size of one factor that can be made.
type Piece struct {
	Value float64 // SI, as the path takes it
	Shape Shape   // of an opening that is given by its area
}

// Shape is what an opening of at least some area can be cut to [m].
type Shape struct {
	Width, Height float64 // of a rectangle
	Diameter      float64 // of a circle
	Round         bool    // the value is that of the circle, else of the rectangle
}

// roundings are the combinations of sizes that are flown, by steps from the last
// size below the answer. The first may take less than all sizes rounded up; each
// of the others is for when those before it break a limit.
var roundings = []struct {
	sizes, pieces []int // steps of sizes, and of counts of pieces
	most          int   // factors up to which there are not too many of them
	how           string
}{
	{[]int{0, 1}, []int{1}, 5, "sizes rounded up, or down where that is enough"},
	{[]int{0, 1}, []int{0, 1}, 5, "sizes and pieces rounded up or down, as rounding up breaks a limit"},
	{[]int{-1, 0, 1, 2}, []int{-1, 0, 1, 2}, 3, "the best of sizes up to two steps away, as those next to the answer break a limit"},
}

// build rounds the answer to sizes that can be made and flies them.
func (p *sizer) build(ctx context.Context, out *Sized) error {
	steps := make([]rounding, len(p.Factors))
	for i, f := range p.Factors {
		steps[i] = roundingOf(f.Param, p.Cases)
		steps[i].lo, steps[i].hi = f.Lo, f.Hi
	}
	b, err := p.rounded(ctx, steps, out.Best.X)
	if err != nil {
		return err
	}
	for i := range steps {
		b.Pieces = append(b.Pieces, Piece{b.Design.X[i], steps[i].shape(b.Design.X[i])})
	}
	out.Build = b
	return nil
}

// rounded flies all sizes rounded up, and then the roundings.
func (p *sizer) rounded(ctx context.Context, steps []rounding, x []float64) (*Build, error) {
	found := x
	x, err := p.forWholePieces(ctx, steps, found)
	if err != nil {
		return nil, err
	}
	up := make([]float64, len(x))
	for i := range x {
		up[i] = steps[i].near(x[i], 1)
	}
	d, err := p.design(ctx, up)
	if err != nil {
		return nil, err
	}
	b := &Build{Design: *d, Fits: p.fits(d), How: "every size rounded up"}
	for i, try := range roundings {
		if i > 0 && b.Fits || len(x) > try.most {
			break
		}
		best, err := p.bestOf(ctx, x, func(k int) []float64 {
			if p.Factors[k].Param.Whole {
				return steps[k].all(x[k], try.pieces)
			}
			return steps[k].all(x[k], try.sizes)
		})
		if err != nil {
			return nil, err
		}
		if p.better(best, &b.Design) {
			b.Design, b.Fits, b.How = *best, p.fits(best), try.how
		}
	}
	if !slices.Equal(x, found) {
		b.How = "pieces rounded up and the rest searched again; " + b.How
	}
	return b, nil
}

// bestOf is the best of all combinations of sizes.
func (p *sizer) bestOf(ctx context.Context, x []float64, sizes func(factor int) []float64) (*Design, error) {
	combinations := [][]float64{nil}
	for k := range x {
		var longer [][]float64
		for _, c := range combinations {
			for _, size := range sizes(k) {
				longer = append(longer, append(slices.Clone(c), size))
			}
		}
		combinations = longer
	}
	var best *Design
	var last error
	for _, c := range combinations {
		d, err := p.design(ctx, c)
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if err != nil {
			last = err
		} else if best == nil || p.better(d, best) {
			best = d
		}
	}
	if best == nil {
		return nil, fmt.Errorf("none of the sizes near the answer can be flown: %w", last)
	}
	return best, nil
}

// fits says that a design keeps every limit, to the last digit: what is built is
// within limits when it is flown again.
func (p *sizer) fits(d *Design) bool { return d.short(p.limits) == 0 }

// better says that a design keeps the limits better than another, or as well
// with less of what is made small.
func (p *sizer) better(a, b *Design) bool {
	if p.fits(a) && p.fits(b) {
		return p.objective(a) < p.objective(b)
	}
	return a.short(p.limits) < b.short(p.limits)
}

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
