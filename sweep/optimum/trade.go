package optimum

import (
	"context"
	"math"
	"slices"
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
// the file has to the most that fits. Each point starts from its neighbour. There
// are no points when not even the least of these margins fits.
func (out *Sized) Trade(ctx context.Context) ([]TradePoint, error) {
	p, free := out.sizer.forTrade()
	defer free()
	first := math.Min(out.Start.leastMargin()-tradeBelow, math.Min(p.CoolantMargin, p.OilMargin)-tradeAbove)
	last, x, err := p.mostMargin(ctx, first, out.Best.X)
	if err != nil || x == nil {
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

// mostMargin is the most margin that fits, from one that may, and where; nil when
// not even that one fits.
func (p *sizer) mostMargin(ctx context.Context, from float64, x []float64) (most float64, at []float64, err error) {
	fits := func(m float64) (bool, error) {
		p.require(m)
		sol, err := Minimise(ctx, p.problem(), x, settings())
		if err == nil && sol.Feasible {
			x, at = sol.X, sol.X
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
	for at != nil && bad-good > tradeEnd && !math.IsInf(bad, 1) {
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
	return good, at, nil
}

// leastMargin is the least margin of both circuits over the cases [K].
func (d *Design) leastMargin() float64 {
	least := math.Inf(1)
	for i := range d.Flights {
		least = math.Min(least, d.Flights[i].Margin())
	}
	return least
}
