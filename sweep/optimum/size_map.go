package optimum

import (
	"context"
	"errors"
	"math"
	"slices"

	"golang.org/x/sync/errgroup"
	"hotclimb/sweep"
)

// Map is the least margin of each circuit over the cases on a grid of the first
// two factors, the others as in the answer. What a case keeps for doubt is taken
// off.
type Map struct {
	X, Y         []float64   // values of the first and the second factor, SI
	Coolant, Oil [][]float64 // [iy][ix] [K]; NaN where nothing can be flown
}

// Map flies a grid of n by n designs.
func (out *Sized) Map(ctx context.Context, n int) (*Map, error) {
	p := out.sizer
	if len(p.Factors) < 2 {
		return nil, errors.New("a map needs two paths that vary")
	}
	m := &Map{X: spaced(p.Factors[0], n), Y: spaced(p.Factors[1], n)}
	g, ctx := errgroup.WithContext(ctx)
	g.SetLimit(max(p.Workers, 1))
	for iy := range n {
		coolant, oil := make([]float64, n), make([]float64, n)
		m.Coolant, m.Oil = append(m.Coolant, coolant), append(m.Oil, oil)
		for ix := range n {
			g.Go(func() error {
				x := slices.Clone(out.Best.X)
				x[0], x[1] = m.X[ix], m.Y[iy]
				coolant[ix], oil[ix] = math.NaN(), math.NaN()
				if d, err := p.design(ctx, x); err == nil {
					coolant[ix], oil[ix] = p.least(d, CoolantLimit), p.least(d, OilLimit)
				}
				return ctx.Err()
			})
		}
	}
	return m, g.Wait()
}

// spaced are n values of a factor, both bounds included.
func spaced(f sweep.Factor, n int) []float64 {
	values := make([]float64, n)
	for i := range values {
		share := float64(i) / float64(n-1)
		values[i] = f.Lo*(1-share) + f.Hi*share
	}
	return values
}

// least is the least margin to a kind of limit over the cases, without what is
// kept for doubt [K].
func (p *sizer) least(d *Design, kind string) float64 {
	least := math.Inf(1)
	for i, l := range p.limits {
		if l.Kind == kind {
			least = math.Min(least, d.Values[i]-p.Doubt*l.Spread)
		}
	}
	return least
}
