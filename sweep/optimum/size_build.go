package optimum

import (
	"context"
	"fmt"
	"slices"
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
	if (err != nil || !b.Fits) && slices.Contains(p.awake, false) {
		q := p.apart() // a case that sleeps may be why
		for k := range q.awake {
			q.awake[k] = true
		}
		b, err = q.rounded(ctx, steps, out.Best.X)
	}
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
	best, err := p.peaks(ctx, up)
	if err != nil {
		return nil, err
	}
	b := &Build{How: "every size rounded up"}
	for i, try := range roundings {
		if i > 0 && p.fits(best) || len(x) > try.most {
			break
		}
		d, err := p.bestOf(ctx, x, func(k int) []float64 {
			if p.Factors[k].Param.Whole {
				return steps[k].all(x[k], try.pieces)
			}
			return steps[k].all(x[k], try.sizes)
		})
		if err != nil {
			return nil, err
		}
		if p.better(d, best) {
			best, b.How = d, try.how
		}
	}
	if !slices.Equal(x, found) {
		b.How = "pieces rounded up and the rest searched again; " + b.How
	}
	whole, err := p.design(ctx, best.X)
	if err != nil {
		return nil, err
	}
	b.Design, b.Fits = *whole, p.fits(whole)
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
		d, err := p.peaks(ctx, c)
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
