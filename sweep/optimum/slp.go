package optimum

import (
	"context"
	"math"

	"gonum.org/v1/gonum/floats"
)

// leastRadius is the trust radius at which a search gives up.
const leastRadius = 1e-6

// search is the state of Minimise.
type search struct {
	*scaled
	set    Settings
	here   *model
	radius float64
	weight float64 // of the shortfall in the merit
}

// Minimise searches from start by linear programs in a trust region: each step
// is the best of the linearised problem within the radius, and the radius
// follows how well the exact penalty function did what was foretold.
//
// Source: R. Fletcher and E. Sainz de la Maza, "Nonlinear programming and
// nonsmooth optimization by successive linear programming", Mathematical
// Programming 43 (1989) 235-256.
func Minimise(ctx context.Context, p Problem, start []float64, set Settings) (*Solution, error) {
	s, at, err := newScaled(ctx, &p, start)
	if err != nil {
		return nil, err
	}
	set = set.orDefaults(len(start))
	here, err := s.differences(ctx, at)
	if err != nil {
		return nil, err
	}
	q := &search{scaled: s, set: set, here: here, radius: set.Radius, weight: 1}
	status, iterations, err := q.run(ctx)
	if err != nil {
		return nil, err
	}
	sol := s.judge(q.here, set)
	sol.Status, sol.Iterations = status, iterations
	return sol, nil
}

// run steps until a step is not worth it.
func (q *search) run(ctx context.Context) (Status, int, error) {
	for i := range q.set.Iterations {
		d, gain, err := q.step()
		switch {
		case err != nil:
			q.radius /= 2
		case gain <= q.set.Gain:
			return Converged, i, nil
		default:
			if err := q.try(ctx, d, gain); err != nil {
				return 0, i, err
			}
		}
		if q.radius < leastRadius {
			return Stalled, i + 1, nil
		}
	}
	return OutOfIterations, q.set.Iterations, nil
}

// step returns the best linear step and the merit that it promises to gain. It
// raises the weight of the shortfall while a shorter one is within reach.
func (q *search) step() (d []float64, gain float64, err error) {
	const most = 1e9
	d, err = q.here.program(q.radius, q.weight).solve()
	if err != nil {
		return nil, 0, err
	}
	if short := shortfall(q.here.linearised(d)); short > q.set.Shortfall && q.weight < most {
		keen := &linearProgram{model: &model{point: q.here.point, c: make([]float64, len(d)), j: q.here.j}}
		full := q.here.program(q.radius, 1)
		keen.low, keen.high, keen.weight = full.low, full.high, 1
		best, err := keen.solve()
		if err != nil {
			return nil, 0, err
		}
		if short > 1.01*shortfall(q.here.linearised(best))+q.set.Shortfall/10 {
			q.weight *= 10
			return q.step()
		}
	}
	gain = -floats.Dot(q.here.c, d) + q.weight*(shortfall(q.here.g)-shortfall(q.here.linearised(d)))
	return d, gain, nil
}

// try evaluates a step, takes it if it gains, and sets the radius by how much
// of the promise was kept.
func (q *search) try(ctx context.Context, d []float64, promised float64) error {
	y := make([]float64, len(d))
	for i := range y {
		y[i] = clamp(q.here.y[i]+d[i], 0, 1)
	}
	long := floats.Norm(d, math.Inf(1))
	kept := math.Inf(-1)
	there, err := q.at(ctx, y)
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if err == nil {
		kept = (q.here.merit(q.weight) - there.merit(q.weight)) / promised
	}
	switch {
	case kept < 0.25:
		q.radius = math.Min(q.radius, long) / 2
	case kept > 0.75 && long > 0.99*q.radius:
		q.radius = math.Min(1, 2*q.radius)
	}
	if kept < 0.05 {
		return nil
	}
	q.here, err = q.differences(ctx, there)
	return err
}
