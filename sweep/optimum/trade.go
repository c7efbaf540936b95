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
	tradeBelow  = 3.0  // the front starts this much below the present least margin [K]
	tradeAbove  = 2.0  // and at least this much below the one that was required [K]
	tradePoints = 10   // of the front
	tradeReach  = 40.0 // most that margins are raised in search of its end [K]
)

// Trade is the front of cooling drag against margin: from a few kelvin below what
// the file has to the most that fits. Each point starts from its neighbour. There
// are no points when not even the least of these margins fits.
func (out *Sized) Trade(ctx context.Context) ([]TradePoint, error) {
	p := out.sizer.apart()
	p.goal = CoolingDrag
	p.stir()
	first := math.Min(out.Start.leastMargin()-tradeBelow, math.Min(p.CoolantMargin, p.OilMargin)-tradeAbove)
	last, x, err := p.mostMargin(ctx, first, out.Best.X)
	if err != nil || last < first {
		return nil, err
	}
	points := make([]TradePoint, tradePoints)
	near, set := p.startAt(x), settings()
	for i := tradePoints - 1; i >= 0; i-- {
		m := first + (last-first)*float64(i)/(tradePoints-1)
		p.require(m)
		if near, err = p.minimise(ctx, near, set); err != nil {
			return nil, err
		}
		set = nearby()
		d, err := p.design(ctx, p.values(near.X))
		if err != nil {
			return nil, err
		}
		points[i] = TradePoint{m, *d}
	}
	return points, nil
}

// isTraded says that a limit is one of those whose margins are traded.
func (l *Limit) isTraded() bool { return l.Kind == CoolantLimit || l.Kind == OilLimit }

// require asks for a margin to both limits in every case.
func (p *sizer) require(margin float64) {
	p.limits = slices.Clone(p.limits)
	for i := range p.limits {
		if l := &p.limits[i]; l.isTraded() {
			l.Needs = margin + p.Doubt*l.Spread
		}
	}
}

// mostMargin is the most margin that fits in every case, from one that may on, and
// where. It is less than the one that may when not even that fits.
//
// The margin is a variable of its own, which is made large under the limits that it
// asks for. It moves without a flight.
func (p *sizer) mostMargin(ctx context.Context, from float64, x []float64) (most float64, at []float64, err error) {
	p.require(0)
	q, n := p.problem(), len(p.Factors)
	all := q.Evaluate
	q.Lo, q.Hi = append(q.Lo, from), append(q.Hi, from+tradeReach)
	q.Evaluate = func(ctx context.Context, y, g []float64) (float64, error) {
		if _, err := all(ctx, y[:n], g); err != nil {
			return 0, err
		}
		for i := range g {
			if p.limits[i].isTraded() {
				g[i] -= y[n]
			}
		}
		return 1 + (from-y[n])/tradeReach, nil
	}
	for {
		sol, err := Minimise(ctx, q, append(p.shares(x), from), settings())
		if err != nil {
			return 0, nil, err
		}
		if !sol.Feasible {
			return math.Inf(-1), nil, nil
		}
		most, at = sol.X[n], p.values(sol.X[:n])
		p.require(most)
		if woken, _, err := p.wake(ctx, at); err != nil || woken == 0 {
			return most, at, err
		}
	}
}

// leastMargin is the least margin of both circuits over the cases [K].
func (d *Design) leastMargin() float64 {
	least := math.Inf(1)
	for i := range d.Flights {
		least = math.Min(least, d.Flights[i].Margin())
	}
	return least
}
