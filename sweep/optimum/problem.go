package optimum

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sync/atomic"
)

// Problem is to make f(x) least, subject to g_i(x) ≥ 0 and lo ≤ x ≤ hi.
type Problem struct {
	Lo, Hi []float64 // bounds of each variable, Lo < Hi
	Limits int       // number of g

	// Scale is what counts as one unit of each g, as 1 K; nil means 1. Units
	// weigh the limits against each other where not all can be kept.
	Scale []float64

	// Evaluate puts the limits at x into g and returns f. It is never asked
	// outside the bounds, and by several goroutines at once. An error, or a
	// number that is not finite, makes x a place to avoid, but for the error of
	// ctx, which ends the search. A g of +Inf is a limit that x is nowhere near.
	Evaluate func(ctx context.Context, x, g []float64) (f float64, err error)

	// Step is the step of differences as a share of Hi-Lo; 0 means 1e-3. With a
	// relative noise e in f or g it should be √e or more.
	Step float64

	Workers int // evaluations at a time; 0 means 1; answers do not depend on it
}

// Settings says how hard to search. The zero value works.
type Settings struct {
	// Gain is the gain of f, as a share of its value at the start, that is not
	// worth another step; 0 means 1e-7.
	Gain float64
	// Shortfall is by how much of its unit a limit may be missed and still be
	// counted as kept; 0 means 1e-4.
	Shortfall float64
	// Radius is the first trust radius of Minimise and the size of the first
	// simplex of Confirm, as a share of Hi-Lo; 0 means 0.2.
	Radius float64
	// Iterations is the most linear programs of Minimise; 0 means 200.
	Iterations int
	// OneSided leaves out the differences to both sides at the end of Minimise where
	// the limits are kept without: the answer and its multipliers are a little less
	// exact, by so many fewer evaluations as there are variables.
	OneSided bool
	// Evaluations is the most evaluations of Confirm for each start; 0 means
	// 1000 for each variable.
	Evaluations int
}

// orDefaults returns the settings with their defaults put in.
func (s Settings) orDefaults(n int) Settings {
	s.Gain = orDefault(s.Gain, 1e-7)
	s.Shortfall = orDefault(s.Shortfall, 1e-4)
	s.Radius = orDefault(s.Radius, 0.2)
	s.Iterations = orDefault(s.Iterations, 200)
	s.Evaluations = orDefault(s.Evaluations, 1000*n)
	return s
}

func orDefault[T int | float64](v, otherwise T) T {
	if v <= 0 {
		return otherwise
	}
	return v
}

// check returns what is wrong with a problem.
func (p *Problem) check() error {
	n := len(p.Lo)
	switch {
	case n == 0:
		return fmt.Errorf("a problem needs a variable")
	case len(p.Hi) != n:
		return fmt.Errorf("there are %d lower and %d upper bounds", n, len(p.Hi))
	case p.Evaluate == nil:
		return fmt.Errorf("there is nothing to evaluate")
	case p.Scale != nil && len(p.Scale) != p.Limits:
		return fmt.Errorf("there are %d limits and %d scales", p.Limits, len(p.Scale))
	case !(p.Step >= 0 && p.Step <= 0.5):
		return fmt.Errorf("the difference step %v is not between 0 and 0.5", p.Step)
	}
	for i := range n {
		if span := p.Hi[i] - p.Lo[i]; !(span > 0) || math.IsInf(span, 0) {
			return fmt.Errorf("bounds %v and %v of variable %d: the lower must be less and both finite", p.Lo[i], p.Hi[i], i)
		}
	}
	for i, s := range p.Scale {
		if !(s > 0) || math.IsInf(s, 0) {
			return fmt.Errorf("the scale %v of limit %d is not positive", s, i)
		}
	}
	return nil
}

// scaled is a problem in shares of the bounds (0 to 1), units of the limits,
// and units of f.
type scaled struct {
	*Problem
	unit        float64 // of f
	evaluations atomic.Int64
}

// point is a place in a scaled problem and what was found there.
type point struct {
	y []float64
	f float64
	g []float64
}

// newScaled returns the scaled problem. The unit of f is that of the first of
// the starts where it can be computed; all others are only checked.
func newScaled(ctx context.Context, p *Problem, starts ...[]float64) (*scaled, *point, error) {
	if err := p.check(); err != nil {
		return nil, nil, err
	}
	s := &scaled{Problem: p, unit: 1}
	for _, start := range starts {
		if err := p.checkStart(start); err != nil {
			return nil, nil, err
		}
	}
	var failure error
	for _, start := range starts {
		at, err := s.at(ctx, s.y(start))
		if ctx.Err() != nil {
			return nil, nil, ctx.Err()
		}
		if err != nil {
			failure = fmt.Errorf("nothing can be computed at the start %v: %w", start, err)
			continue
		}
		if at.f != 0 {
			s.unit = math.Abs(at.f)
			at.f /= s.unit
		}
		return s, at, nil
	}
	return nil, nil, failure
}

// checkStart returns what is wrong with a start.
func (p *Problem) checkStart(start []float64) error {
	if len(start) != len(p.Lo) {
		return fmt.Errorf("there are %d variables and %d numbers to start from", len(p.Lo), len(start))
	}
	for i, x := range start {
		if math.IsNaN(x) {
			return fmt.Errorf("variable %d starts from NaN", i)
		}
	}
	return nil
}

// y is the place x, moved into the bounds, in shares of them.
func (s *scaled) y(x []float64) []float64 {
	y := make([]float64, len(x))
	for i := range x {
		y[i] = clamp((x[i]-s.Lo[i])/(s.Hi[i]-s.Lo[i]), 0, 1)
	}
	return y
}

// x is the place y in the units of the problem.
func (s *scaled) x(y []float64) []float64 {
	x := make([]float64, len(y))
	for i := range y {
		x[i] = clamp(s.Lo[i]+y[i]*(s.Hi[i]-s.Lo[i]), s.Lo[i], s.Hi[i])
	}
	return x
}

// scale is the unit of limit i.
func (s *scaled) scale(i int) float64 {
	if s.Scale == nil {
		return 1
	}
	return s.Scale[i]
}

// at evaluates the place y.
func (s *scaled) at(ctx context.Context, y []float64) (*point, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	s.evaluations.Add(1)
	p := &point{y: slices.Clone(y), g: make([]float64, s.Limits)}
	x := s.x(y)
	f, err := s.Evaluate(ctx, x, p.g)
	if err != nil {
		return nil, err
	}
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return nil, fmt.Errorf("the objective is %v at %v", f, x)
	}
	p.f = f / s.unit
	for i := range p.g {
		if math.IsNaN(p.g[i]) || math.IsInf(p.g[i], -1) {
			return nil, fmt.Errorf("limit %d is %v at %v", i, p.g[i], x)
		}
		p.g[i] /= s.scale(i)
	}
	return p, nil
}

// shortfall is the sum of what limits are missed by.
func shortfall(g []float64) float64 {
	sum := 0.0
	for _, v := range g {
		sum += math.Max(0, -v)
	}
	return sum
}

// kept says that every limit is kept but for Settings.Shortfall.
func kept(g []float64, set Settings) bool {
	return !slices.ContainsFunc(g, func(v float64) bool { return v < -set.Shortfall })
}

// merit is the exact penalty function: f and weight times the shortfall.
func (p *point) merit(weight float64) float64 { return p.f + weight*shortfall(p.g) }

func clamp(v, lo, hi float64) float64 { return math.Min(math.Max(v, lo), hi) }
