package optimum

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"hotclimb/sweep"
)

// sizer is a sizing at work.
type sizer struct {
	*Sizing
	openings map[string]bool // sections of the openings that vary
	limits   []Limit
	present  *Design // the file as it stands

	slots   chan struct{} // one for each flight that may be in the air
	flights atomic.Int64
	mu      sync.Mutex
	known   map[string]*attempt // designs flown, by x
}

// newSizer flies the file as it stands, which tells what limits there are.
func newSizer(ctx context.Context, s *Sizing) (*sizer, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	p := &sizer{Sizing: s, openings: map[string]bool{}, slots: make(chan struct{}, max(s.Workers, 1)), known: map[string]*attempt{}}
	for _, o := range s.Cases[0].Scenario.Openings() {
		for _, f := range s.Factors {
			if strings.HasPrefix(f.Param.Path, o.Path+".") && f.Param.Made == "opening" {
				p.openings[o.Path] = true
			}
		}
	}
	d, err := p.design(ctx, nil)
	if err != nil {
		return nil, fmt.Errorf("as filed: %w", err)
	}
	p.limits = p.limitsOf(d.Flights)
	filed := *d
	filed.X = p.filedValues()
	p.measure(&filed)
	p.present = &filed
	return p, nil
}

// filedValues are the values of the factors in the first case that has them, the
// middle between the bounds where none does.
func (p *sizer) filedValues() []float64 {
	x := make([]float64, len(p.Factors))
	for i, f := range p.Factors {
		var filed bool
		if x[i], filed = sweep.Filed(p.Cases, f.Param); !filed {
			x[i] = (f.Lo + f.Hi) / 2
		}
	}
	return x
}

// differenceStep is the step of differences as a share of the bounds. Over it a
// margin of the built-in flights changes by 0.1 to 0.5 K, while it is uncertain
// by 0.001 K.
const differenceStep = 0.01

// problem is the sizing for the optimizer.
func (p *sizer) problem() Problem {
	q := Problem{Limits: len(p.limits), Step: differenceStep, Workers: len(p.Factors)} // p.slots bounds the flights
	for _, f := range p.Factors {
		q.Lo, q.Hi = append(q.Lo, f.Lo), append(q.Hi, f.Hi)
	}
	limits := slices.Clone(p.limits)
	q.Evaluate = func(ctx context.Context, x, g []float64) (float64, error) {
		d, err := p.design(ctx, slices.Clone(x))
		if err != nil {
			return 0, err
		}
		for i := range g {
			g[i] = d.slack(limits, i)
		}
		return p.objective(d), nil
	}
	return q
}

// settings allow margins to be missed by two thousandths of a kelvin, as flights
// do not tell less apart.
func settings() Settings { return Settings{Shortfall: 2e-3, Gain: 2e-5, Iterations: 60} }

// search finds the answer, with its margins for doubt.
func (p *sizer) search(ctx context.Context, out *Sized) error {
	starts, err := p.starts(ctx)
	if err != nil {
		return err
	}
	sol, err := p.fromSome(ctx, starts, out)
	if err != nil {
		return err
	}
	for out.Rounds = 1; p.Doubt > 0; out.Rounds++ {
		if out.Moved, err = p.addDoubt(ctx, sol.X); err != nil {
			return err
		}
		again := slices.Insert(slices.Clone(starts), 0, start{name: out.From, x: sol.X})
		if sol, err = p.fromSome(ctx, again, out); err != nil {
			return err
		}
		if out.Settled() || out.Rounds == mostRounds {
			break
		}
	}
	if sol.Feasible {
		if sol, err = p.confirm(ctx, sol, out); err != nil {
			return err
		}
	}
	return p.conclude(ctx, sol, out)
}

// minimise is Minimise, with its work counted.
func (p *sizer) minimise(ctx context.Context, x []float64, out *Sized) (*Solution, error) {
	sol, err := Minimise(ctx, p.problem(), x, settings())
	if err == nil {
		out.Iterations += sol.Iterations
	}
	return sol, err
}

// hopefulStarts is from how many starts the search is tried while nothing fits.
const hopefulStarts = 3

// fromSome searches from the best start, and from the next ones while nothing
// fits. Of answers that do not fit it returns the least bad.
func (p *sizer) fromSome(ctx context.Context, starts []start, out *Sized) (*Solution, error) {
	var best *Solution
	var last error
	for _, from := range starts[:min(hopefulStarts, len(starts))] {
		sol, err := p.minimise(ctx, from.x, out)
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if err != nil {
			last = err
			continue
		}
		if best == nil || sol.Violation < best.Violation {
			best, out.From = sol, from.name
		}
		if best.Feasible {
			break
		}
	}
	if best == nil {
		return nil, last
	}
	return best, nil
}

// conclude notes the answer and what decides it.
func (p *sizer) conclude(ctx context.Context, sol *Solution, out *Sized) error {
	d, err := p.design(ctx, sol.X)
	if err != nil {
		return err
	}
	out.Best, out.Fits, out.KKT = *d, sol.Feasible, sol.KKT
	for i, m := range sol.Multipliers {
		if m > leastMultiplier && sol.Feasible {
			out.Prices = append(out.Prices, Price{Limit: i, Multiplier: m})
		}
	}
	for i, f := range p.Factors {
		const near = 2e-3 // of the bounds, as the least bad design is only found so well
		atEnd := math.Min(sol.X[i]-f.Lo, f.Hi-sol.X[i]) < near*(f.Hi-f.Lo)
		if sol.Feasible && sol.BoundMultipliers[i]*(f.Hi-f.Lo) > leastMultiplier || !sol.Feasible && atEnd {
			out.AtBound = append(out.AtBound, Held{i, sol.X[i] > (f.Lo+f.Hi)/2})
		}
	}
	for i := range p.limits {
		if d.slack(p.limits, i) < -settings().Shortfall {
			out.Broken = append(out.Broken, i)
		}
	}
	slices.SortStableFunc(out.Broken, func(a, b int) int {
		return cmp.Compare(d.slack(p.limits, a), d.slack(p.limits, b))
	})
	return nil
}

// leastMultiplier is the share of the objective per kelvin from which a limit
// counts as one that decides.
const leastMultiplier = 1e-5
