package optimum

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync/atomic"

	"hotclimb/scenarios"
	"hotclimb/sweep"
)

// sizer is a sizing at work.
type sizer struct {
	*Sizing
	*hangar
	templates []func() *scenarios.Template // of the cases
	programs  *atomic.Int64                // linear programs solved
	openings  map[string]bool              // sections of the openings that vary
	present   *Design                      // the file as it stands

	goal   string // what is made small
	limits []Limit
	awake  []bool // cases that a search flies
}

// newSizer flies the file as it stands, which tells what limits there are.
func newSizer(ctx context.Context, s *Sizing) (*sizer, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	p := &sizer{
		Sizing: s, hangar: newHangar(s.Workers, s.Flown), templates: sweep.Templates(s.Cases),
		programs: &atomic.Int64{}, openings: map[string]bool{}, goal: s.Minimise,
	}
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
	p.stir()
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

// problem is the sizing for the optimizer, in shares of the bounds: of these a
// search that starts where another one ended comes to the same places, to the last
// digit, and they are not flown again.
func (p *sizer) problem() Problem {
	n := len(p.Factors)
	q := Problem{
		Lo: make([]float64, n), Hi: slices.Repeat([]float64{1}, n), Limits: len(p.limits), Step: differenceStep,
		Workers: n, // the slots bound the flights
	}
	limits := slices.Clone(p.limits)
	q.Evaluate = func(ctx context.Context, y, g []float64) (float64, error) {
		d, err := p.peaks(ctx, p.values(y))
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

// values are those of the factors at shares of their bounds.
func (p *sizer) values(y []float64) []float64 {
	x := make([]float64, len(y))
	for i, f := range p.Factors {
		x[i] = clamp(f.Lo+y[i]*(f.Hi-f.Lo), f.Lo, f.Hi)
	}
	return x
}

// shares are the shares of the bounds that values of the factors are at.
func (p *sizer) shares(x []float64) []float64 {
	y := make([]float64, len(x))
	for i, f := range p.Factors {
		y[i] = clamp((x[i]-f.Lo)/(f.Hi-f.Lo), 0, 1)
	}
	return y
}

// settings allow margins to be missed by two thousandths of a kelvin, as flights
// do not tell less apart.
func settings() Settings { return Settings{Shortfall: 2e-3, Gain: 2e-5, Iterations: 60} }

// search finds the answer, with its margins for doubt.
func (p *sizer) search(ctx context.Context, out *Sized) (found, error) {
	starts, err := p.starts(ctx)
	if err != nil {
		return found{}, err
	}
	end, err := p.fromSome(ctx, starts, out)
	if err != nil {
		return found{}, err
	}
	for out.Rounds = 1; p.Doubt > 0; out.Rounds++ {
		if out.Moved, err = p.addDoubt(ctx, p.values(end.X), true); err != nil {
			return found{}, err
		}
		again := slices.Insert(slices.Clone(starts), 0, start{name: out.From, x: p.values(end.X)})
		if end, err = p.fromSome(ctx, again, out); err != nil {
			return found{}, err
		}
		if !out.Settled() && out.Rounds < mostRounds {
			continue
		}
		if _, err = p.addDoubt(ctx, p.values(end.X), false); err != nil {
			return found{}, err
		}
		if woken, _, err := p.wake(ctx, p.values(end.X)); err != nil || woken == 0 {
			return end, err
		}
	}
	return end, nil
}

// hopefulStarts is from how many starts the search is tried while nothing fits.
const hopefulStarts = 3

// fromSome searches from the best start, and from the next ones while nothing
// fits. Of answers that do not fit it returns the least bad.
func (p *sizer) fromSome(ctx context.Context, starts []start, out *Sized) (found, error) {
	var best found
	var last error
	for _, from := range starts[:min(hopefulStarts, len(starts))] {
		end, err := p.minimise(ctx, p.startAt(from.x), settings())
		if ctx.Err() != nil {
			return best, ctx.Err()
		}
		if err != nil {
			last = err
			continue
		}
		if best.Solution == nil || end.Violation < best.Violation {
			best, out.From = end, from.name
		}
		if best.Feasible {
			break
		}
	}
	if best.Solution == nil {
		return best, last
	}
	return best, nil
}

// conclude notes the answer and what decides it.
func (p *sizer) conclude(ctx context.Context, sol *Solution, out *Sized) error {
	d, err := p.design(ctx, p.values(sol.X))
	if err != nil {
		return err
	}
	out.Prices, out.AtBound, out.Broken = nil, nil, nil
	out.Best, out.Fits, out.KKT = *d, sol.Feasible, sol.KKT
	for i, m := range sol.Multipliers {
		if m > leastMultiplier && sol.Feasible {
			out.Prices = append(out.Prices, Price{Limit: i, Multiplier: m})
		}
	}
	for i, y := range sol.X {
		const near = 2e-3 // of the bounds, as the least bad design is only found so well
		atEnd := math.Min(y, 1-y) < near
		if sol.Feasible && sol.BoundMultipliers[i] > leastMultiplier || !sol.Feasible && atEnd {
			out.AtBound = append(out.AtBound, Held{i, y > 0.5})
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
