package optimum

import (
	"context"
	"errors"
	"math"
	"slices"

	"golang.org/x/sync/errgroup"
	"hotclimb/sweep"
)

// TradePoint is the design of least cooling drag with which every margin of
// coolant and oil is at least as large.
type TradePoint struct {
	Margin float64 // kept in every case, beyond what is kept for doubt [K]
	Design Design
}

const (
	tradeBelow  = 3.0 // the front starts this much below the present least margin [K]
	tradeAbove  = 2.0 // and at least this much below the one that was required [K]
	tradePoints = 10  // of the front
	tradeReach  = 40  // most that margins are raised in search of its end [K]
	tradeEnd    = 0.1 // to which that end is known [K]
)

// Trade is the front of cooling drag against margin: from a few kelvin below what
// the file has to the most that fits. Each point starts from its neighbour.
func (out *Sized) Trade(ctx context.Context) ([]TradePoint, error) {
	p, free := out.sizer.forTrade()
	defer free()
	first := math.Min(out.Start.leastMargin()-tradeBelow, math.Min(p.CoolantMargin, p.OilMargin)-tradeAbove)
	last, x, err := p.mostMargin(ctx, first, out.Best.X)
	if err != nil {
		return nil, err
	}
	points := make([]TradePoint, tradePoints)
	for i := tradePoints - 1; i >= 0; i-- {
		m := first + (last-first)*float64(i)/(tradePoints-1)
		p.require(m)
		sol, err := Minimise(ctx, p.problem(), x, settings())
		if err != nil {
			return nil, err
		}
		d, err := p.design(ctx, sol.X)
		if err != nil {
			return nil, err
		}
		points[i], x = TradePoint{m, *d}, sol.X
	}
	return points, nil
}

// forTrade is the sizer with drag to be made small, and what undoes that.
func (p *sizer) forTrade() (*sizer, func()) {
	minimise, limits := p.Minimise, p.limits
	p.Minimise = CoolingDrag
	return p, func() { p.Minimise, p.limits = minimise, limits }
}

// require asks for a margin to both limits in every case.
func (p *sizer) require(margin float64) {
	p.limits = slices.Clone(p.limits)
	for i := range p.limits {
		if l := &p.limits[i]; l.Kind == CoolantLimit || l.Kind == OilLimit {
			l.Needs = margin + p.Doubt*l.Spread
		}
	}
}

// mostMargin is the most margin that fits, from one that may, and its design.
func (p *sizer) mostMargin(ctx context.Context, from float64, x []float64) (float64, []float64, error) {
	fits := func(m float64) (bool, error) {
		p.require(m)
		sol, err := Minimise(ctx, p.problem(), x, settings())
		if err == nil && sol.Feasible {
			x = sol.X
		}
		return err == nil && sol.Feasible, err
	}
	good, bad := math.Inf(-1), math.Inf(1)
	for m, step := from, 2.0; math.IsInf(bad, 1) && m < from+tradeReach; m, step = m+step, 1.5*step {
		ok, err := fits(m)
		if err != nil {
			return 0, nil, err
		}
		if !ok {
			bad = m
		} else {
			good = m
		}
	}
	if math.IsInf(good, -1) {
		return 0, nil, errors.New("there is no trade: within the bounds no opening keeps even less margin than the file has")
	}
	for bad-good > tradeEnd && !math.IsInf(bad, 1) {
		half := (good + bad) / 2
		ok, err := fits(half)
		if err != nil {
			return 0, nil, err
		}
		if ok {
			good = half
		} else {
			bad = half
		}
	}
	return good, x, nil
}

// leastMargin is the least margin of both circuits over the cases [K].
func (d *Design) leastMargin() float64 {
	least := math.Inf(1)
	for i := range d.Flights {
		least = math.Min(least, d.Flights[i].Margin())
	}
	return least
}

// Map is the least margin of each circuit over the cases on a grid of the first
// two factors, the others as in the answer.
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
		m.Coolant, m.Oil = append(m.Coolant, make([]float64, n)), append(m.Oil, make([]float64, n))
		for ix := range n {
			coolant, oil := m.Coolant[iy], m.Oil[iy]
			g.Go(func() error {
				x := slices.Clone(out.Best.X)
				x[0], x[1] = m.X[ix], m.Y[iy]
				d, err := p.design(ctx, x)
				if ctx.Err() != nil {
					return ctx.Err()
				}
				coolant[ix], oil[ix] = math.NaN(), math.NaN()
				if err == nil {
					coolant[ix], oil[ix] = d.least(sweep.Coolant), d.least(sweep.Oil)
				}
				return nil
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

// least is the least margin of a circuit over the cases [K].
func (d *Design) least(circuit int) float64 {
	least := math.Inf(1)
	for i := range d.Flights {
		least = math.Min(least, d.Flights[i].Circuits[circuit].Margin)
	}
	return least
}
