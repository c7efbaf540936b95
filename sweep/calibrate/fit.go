package calibrate

import (
	"context"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// Fit searches from start, moved into the bounds, for the parameters with the
// least sum of squares.
//
// Each step makes the linearised sum of squares least within a trust radius
// (Levenberg and Marquardt), whose axes are the greatest lengths of the columns
// of slopes so far, so that units of parameters do not matter (Moré). The
// radius follows how much of its promise a step keeps. Parameters that press
// against a bound rest there for the step.
//
// Differences are to one side until no step is worth it, then to both.
//
// Sources: D. W. Marquardt, "An algorithm for least-squares estimation of
// nonlinear parameters", Journal of the Society for Industrial and Applied
// Mathematics 11 (1963) 431-441; J. J. Moré, "The Levenberg-Marquardt algorithm:
// implementation and theory", Lecture Notes in Mathematics 630, Springer 1978,
// 105-116.
//
// The error says that the problem is badly put, that nothing can be computed at
// the start, or that ctx has ended. How good the end of a search is, is told by
// Solution.Status.
func Fit(ctx context.Context, p Problem, start []float64, set Settings) (*Solution, error) {
	if err := p.check(start); err != nil {
		return nil, err
	}
	known, err := p.newPriors(len(start))
	if err != nil {
		return nil, err
	}
	s := &search{counted: &counted{Problem: &p, priors: known}, set: set.orDefaults()}
	if err := s.begin(ctx, start); err != nil {
		return nil, err
	}
	status, err := s.run(ctx)
	if err != nil {
		return nil, err
	}
	return s.solution(status), nil
}

const (
	coarseGain = 1e-10 // share of the cost that slopes to one side can promise
	rounding   = 1e-10 // share of the cost within which rounding may hide a gain
	grain      = 1e-15 // share of what a parameter does to residuals that may be rounding
	square     = 1e-6  // angle between residuals and slopes that counts as a right one
)

// search is the state of Fit.
type search struct {
	*counted
	set        Settings
	here       *model
	field      *field
	d          []float64 // measure of the trust region, by parameter
	radius     float64
	dust       float64 // cost that may be nothing but rounding
	believed   float64 // the last promise that was taken as kept
	bothSides  bool    // of the differences
	iterations int
}

// begin evaluates the start.
func (s *search) begin(ctx context.Context, start []float64) error {
	x := slices.Clone(start)
	for k := range x {
		x[k] = clamp(x[k], s.lo(k), s.hi(k))
	}
	p, err := s.at(ctx, x)
	if err != nil {
		return s.failure(ctx, fmt.Errorf("nothing can be computed at the start %v: %w", x, err))
	}
	s.see(x)
	m, err := s.linearise(ctx, p, false)
	if err != nil {
		return s.failure(ctx, err)
	}
	s.d = make([]float64, len(x))
	s.believed = math.Inf(1)
	s.moveTo(m)
	size := 0.0
	for k := range x {
		size = math.Hypot(size, s.d[k]*x[k])
	}
	s.radius = s.set.Radius * orDefault(size, 1)
	return nil
}

// failure is the error of ctx where that has ended, and err otherwise.
func (s *search) failure(ctx context.Context, err error) error {
	if ctx.Err() != nil {
		return ctx.Err()
	}
	return err
}

// moveTo makes a model the place to go on from.
func (s *search) moveTo(m *model) {
	s.see(m.x)
	s.dust = 0
	for k, norm := range norms(m.rows) {
		s.d[k] = math.Max(s.d[k], norm)
		s.dust += math.Pow(grain*norm*s.largest[k], 2)
	}
	d := slices.Clone(s.d)
	for k := range d {
		if d[k] == 0 { // nothing depends on it so far
			d[k] = 1
		}
	}
	s.here, s.field = m, s.newField(m, d)
}

// run steps with differences to one side to their end, then to both.
func (s *search) run(ctx context.Context) (Status, error) {
	status, err := s.descend(ctx)
	if err != nil {
		return status, err
	}
	s.bothSides = true
	m, err := s.linearise(ctx, s.here.place, true)
	if err != nil {
		return status, s.failure(ctx, err)
	}
	s.moveTo(m)
	if status == OutOfIterations {
		return status, nil
	}
	s.radius, s.believed = math.Inf(1), math.Inf(1)
	return s.descend(ctx)
}

// descend steps until a step is not worth it.
func (s *search) descend(ctx context.Context) (Status, error) {
	for ; s.iterations < s.set.Iterations; s.iterations++ {
		if s.field == nil || !(s.field.within(math.Inf(1)).gain > s.worth()) {
			return Converged, nil
		}
		st := s.field.within(s.radius)
		switch {
		case st.gain > s.worth():
		case s.angle(s.here) < square:
			return Converged, nil
		default:
			return Stalled, nil
		}
		if err := s.try(ctx, st); err != nil {
			return Stalled, err
		}
	}
	return OutOfIterations, nil
}

// worth is the gain that is worth a step. Slopes to one side know no better than
// to coarseGain.
func (s *search) worth() float64 {
	gain := s.set.Gain
	if !s.bothSides {
		gain = math.Max(gain, coarseGain)
	}
	return gain*s.here.cost + s.dust
}

// try goes where a step leads if that is better, and sets the radius for the next.
// A place where nothing can be computed, it or what is beside it, is no better.
func (s *search) try(ctx context.Context, st step) error {
	there, err := s.at(ctx, s.landing(st))
	if ctx.Err() != nil {
		return ctx.Err()
	}
	kept := math.Inf(-1) // share of the promise
	if err == nil {
		kept = (s.here.cost - there.cost) / st.gain
	}
	if s.believable(st.gain, kept) && st.full {
		kept = 1 // as it would be in exact numbers
	}
	before := math.Min(s.radius, st.length)
	switch {
	case kept <= 0.25:
		s.radius = shrink(kept) * before
	case kept >= 0.75 || st.full:
		s.radius = 2 * st.length
	}
	if kept < 1e-4 {
		return nil
	}
	m, err := s.linearise(ctx, there, s.bothSides)
	switch {
	case ctx.Err() != nil:
		return ctx.Err()
	case err != nil:
		s.radius = before / 10
		return nil
	}
	s.moveTo(m)
	return nil
}

// landing is where a step leads. A step to a bound ends on it, not a rounding
// before it.
func (s *search) landing(st step) []float64 {
	x := slices.Clone(s.here.x)
	for k := range x {
		switch lo, hi := s.lo(k), s.hi(k); st.p[k] {
		case lo - x[k]:
			x[k] = lo
		case hi - x[k]:
			x[k] = hi
		default:
			x[k] = clamp(x[k]+st.p[k], lo, hi)
		}
	}
	return x
}

// believable reports whether a promise and what came of it are so small that
// rounding may hide whether it was kept. Promises that do not become smaller from
// one time to the next are made of rounding themselves. To believe is worth half a
// digit of the parameters on the sets of NIST, for 2 % of evaluations.
func (s *search) believable(promise, kept float64) bool {
	if most := rounding * s.here.cost; promise > most || math.Abs(kept)*promise > most || promise > s.believed/2 {
		return false
	}
	s.believed = promise
	return true
}

// shrink is the share of the radius that is left when a step kept only a share
// of its promise: where the parabola through what is known is least, but a tenth
// at the least and a half at the most. The promise counts for two slopes.
func shrink(kept float64) float64 {
	if kept >= 0 {
		return 0.5
	}
	return clamp(0.5/(1-kept/2), 0.1, 0.5)
}

// held are the parameters at a bound that would go on beyond it.
func (c *counted) held(m *model) []int {
	var g mat.VecDense
	g.MulVec(m.rows.T(), mat.NewVecDense(len(m.rest), m.rest))
	var held []int
	for k, x := range m.x {
		if x == c.lo(k) && g.AtVec(k) > 0 || x == c.hi(k) && g.AtVec(k) < 0 {
			held = append(held, k)
		}
	}
	return held
}

// angle is the largest cosine of the angles between the residuals and the
// columns of slopes of the parameters that may move.
func (c *counted) angle(m *model) float64 {
	size := mat.Norm(mat.NewVecDense(len(m.rest), m.rest), 2)
	if size == 0 {
		return 0
	}
	held, most := c.held(m), 0.0
	for k, norm := range norms(m.rows) {
		if norm > 0 && !slices.Contains(held, k) {
			along := mat.Dot(m.rows.ColView(k), mat.NewVecDense(len(m.rest), m.rest))
			most = math.Max(most, math.Abs(along)/norm/size)
		}
	}
	return most
}
