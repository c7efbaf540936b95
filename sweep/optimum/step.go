package optimum

import (
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
)

// step is a move and what the model foretells of it.
type step struct {
	d      []float64
	gain   float64   // of merit
	prices []float64 // of the limits
}

// long is how far the step goes in any variable.
func (s *step) long() float64 { return floats.Norm(s.d, math.Inf(1)) }

// step returns the best step of a model within the radius. It raises the weight
// of the shortfall while a step that falls shorter is within reach, and to more
// than any price.
func (q *search) step(m *model) (*step, error) {
	program := m.program(q.radius, q.weight)
	d, err := program.solve()
	if err != nil {
		return nil, err
	}
	if light, err := q.tooLight(program, d); err != nil {
		return nil, err
	} else if light {
		q.weight *= 10
		return q.step(m)
	}
	quadratic := program.quadratic(q.curve, d)
	if q.curve.known() {
		d = quadratic.solve(d)
	}
	prices := quadratic.multipliers(d, q.Limits)
	for _, p := range prices {
		q.weight = math.Min(math.Max(q.weight, 2*p), mostWeight)
	}
	return &step{d, q.foretell(d), prices}, nil
}

// tooLight reports whether the answer d of a program falls short by more than
// it need: where a step could keep all limits, at all, and where none can, by
// more than half of what could be made good.
func (q *search) tooLight(program *linearProgram, d []float64) (bool, error) {
	short := shortfall(program.linearised(d))
	if short <= q.set.Shortfall || q.weight >= mostWeight {
		return false, nil
	}
	keen, err := program.keen().solve()
	if err != nil {
		return false, err
	}
	least := shortfall(program.linearised(keen))
	if least <= q.set.Shortfall {
		return true, nil
	}
	return short-least > (shortfall(program.g)-least)/2+q.set.Shortfall/10, nil
}

// foretell is the merit that a step from here gains if the model is right.
func (q *search) foretell(d []float64) float64 {
	m := q.here
	f := floats.Dot(m.c, d) + floats.Dot(d, q.curve.times(d))/2
	return q.weight*(shortfall(m.g)-shortfall(m.linearised(d))) - f
}

// try evaluates a step, takes it if it gains, and sets the radius by how much
// of the promise was kept.
func (q *search) try(ctx context.Context, s *step) error {
	there, kept, err := q.keeps(ctx, s.d, s.gain)
	if err == nil && kept < 0.25 && there != nil && shortfall(there.g) > 0 {
		there, kept, err = q.tryBent(ctx, s, there, kept)
	}
	if err != nil {
		return err
	}
	switch {
	case kept < 0.25:
		q.radius = math.Min(q.radius, s.long()) / 2
	case kept > 0.75 && s.long() > 0.99*q.radius:
		q.radius = math.Min(1, 2*q.radius)
	}
	if kept < 0.05 {
		return nil
	}
	return q.move(ctx, s, there)
}

// keeps evaluates a step and returns where it leads, or nil where nothing can
// be computed, and the share of the promised gain of merit that it brings.
func (q *search) keeps(ctx context.Context, d []float64, promised float64) (*point, float64, error) {
	y := make([]float64, len(d))
	for i := range y {
		y[i] = clamp(q.here.y[i]+d[i], 0, 1)
	}
	there, err := q.at(ctx, y)
	if err != nil {
		return nil, math.Inf(-1), ctx.Err()
	}
	return there, (q.here.merit(q.weight) - there.merit(q.weight)) / promised, nil
}

// tryBent tries a step again with the limits as far off as they were found
// there, and returns the better of both; s becomes the step that was better.
//
// Source: J. Nocedal and S. J. Wright, Numerical Optimization, 2nd edition,
// Springer 2006, section 18.3 (second-order correction).
func (q *search) tryBent(ctx context.Context, s *step, there *point, kept float64) (*point, float64, error) {
	bent := *q.here
	bent.point = &point{y: q.here.y, f: q.here.f, g: make([]float64, q.Limits)}
	for i := range bent.g {
		bent.g[i] = there.g[i] - floats.Dot(q.here.j[i], s.d)
	}
	weight := q.weight
	again, err := q.step(&bent)
	q.weight = weight // what was promised was promised at this one
	if err != nil || slices.Equal(again.d, s.d) {
		return there, kept, nil
	}
	there2, kept2, err := q.keeps(ctx, again.d, s.gain)
	if err != nil || kept2 <= kept {
		return there, kept, err
	}
	s.d = again.d
	return there2, kept2, nil
}

// move takes the step to there and learns the curvature from it. Where nothing
// can be computed beside it, it stays and halves the radius.
func (q *search) move(ctx context.Context, s *step, there *point) error {
	next, err := q.slopes(ctx, there, q.bothSides)
	if err != nil {
		q.radius = math.Min(q.radius, s.long()) / 2
		return ctx.Err()
	}
	if s.long() > q.pace()/10 { // a shorter one tells more of noise
		turn := diff(next.lagrangian(s.prices), q.here.lagrangian(s.prices))
		q.curve.learn(diff(next.y, q.here.y), turn)
	}
	q.here = next
	return nil
}

// lagrangian is the slope of f - Σ price·g.
func (m *model) lagrangian(prices []float64) []float64 {
	s := append([]float64(nil), m.c...)
	for i, p := range prices {
		floats.AddScaled(s, -p, m.j[i])
	}
	return s
}
