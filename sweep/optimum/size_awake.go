package optimum

import (
	"cmp"
	"context"
	"slices"

	"hotclimb/scenarios"
)

// A search flies only the cases that are awake: the first, whose openings count,
// those in the air when drag is made small, and the one that is nearest to a limit
// as filed. The least under their limits is no more than that under all. So where
// it keeps the limits of the cases that sleep, it is the answer; those of which it
// breaks one are woken, and the search goes on.

// stir wakes the cases that a search begins with.
func (p *sizer) stir() {
	p.awake = make([]bool, len(p.Cases))
	p.awake[0] = true
	nearest := slices.MinFunc(p.limits, func(a, b Limit) int {
		return cmp.Compare(a.value(&p.present.Flights[a.Case])-a.Needs, b.value(&p.present.Flights[b.Case])-b.Needs)
	})
	p.awake[nearest.Case] = true
	for k := range p.Cases {
		drags := p.present.Flights[k].MeanDrag != 0 || leavesGround(p.Cases[k].Scenario)
		p.awake[k] = p.awake[k] || p.goal != OpeningArea && drags
	}
}

// leavesGround says that a flight goes, or would go, into the air.
func leavesGround(sc *scenarios.Scenario) bool {
	return slices.ContainsFunc(sc.Flight.Legs, func(leg *scenarios.Leg) bool {
		return slices.Contains([]string{"take_off", "climb", "level", "descend"}, leg.Kind)
	})
}

// apart is a sizer of its own, over the same flights.
func (p *sizer) apart() *sizer {
	q := *p
	q.limits, q.awake = slices.Clone(p.limits), slices.Clone(p.awake)
	return &q
}

// wake flies the cases that sleep at x. It wakes those that break a limit or
// cannot be flown, and returns how many these are and whether all could be flown.
func (p *sizer) wake(ctx context.Context, x []float64) (woken int, flown bool, err error) {
	broken, failed := make([]bool, len(p.Cases)), make([]error, len(p.Cases))
	_, err = p.flyCases(func(k int) (Flight, error) {
		if p.awake[k] {
			return Flight{}, nil
		}
		var f Flight
		f, failed[k] = p.flight(ctx, flightOf{k, x, true})
		broken[k] = failed[k] != nil || p.breaks(k, &f)
		return f, nil
	})
	flown = true
	for k := range p.Cases {
		if broken[k] {
			p.awake[k] = true
			woken++
		}
		flown = flown && failed[k] == nil
	}
	return woken, flown, cmp.Or(ctx.Err(), err)
}

// breaks says that a flight of case k breaks a limit.
func (p *sizer) breaks(k int, f *Flight) bool {
	return slices.ContainsFunc(p.limits, func(l Limit) bool {
		return l.Case == k && l.value(f)-l.Needs < -settings().Shortfall
	})
}

// minimise is the least from where another search ended, or a start, with every
// case that sleeps looked at in the end; X is in shares of the bounds.
func (p *sizer) minimise(ctx context.Context, near found, set Settings) (found, error) {
	for {
		end, err := minimiseFrom(ctx, p.problem(), near, set)
		if err != nil {
			return end, err
		}
		p.programs.Add(int64(end.Iterations))
		woken, flown, err := p.wake(ctx, p.values(end.X))
		if err != nil || woken == 0 {
			return end, err
		}
		if flown {
			near = end
		}
	}
}

// startAt is a start as if a search had ended there.
func (p *sizer) startAt(x []float64) found { return found{Solution: &Solution{X: p.shares(x)}} }
