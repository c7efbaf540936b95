package optimum

import (
	"context"
	"math"
)

const (
	leastRadius = 1e-5 // trust radius at which a search gives up
	firstWeight = 1e-4 // of the shortfall; raised as needed, because a heavy one makes steps short
	mostWeight  = 1e6  // of the shortfall
	stationary  = 1e-3 // remainder of the conditions below which a small promise is believed
	loosening   = 0.1  // of the curvature, when it is not
)

// Minimise searches from start by linear programs in a trust region.
//
// Each step is the answer of the linearised problem within the radius. Once
// steps have shown the curvature, the quadratic program is solved from there: a
// linear program alone zigzags where fewer limits act than there are variables.
// A step that the bend of a limit spoils is tried once more with the bend
// counted in. The radius follows how much of its promise in the exact penalty
// function a step keeps.
//
// Differences are to one side until no step is worth it, then to both.
//
// On the 19 problems of the tests that have limits this takes 873 evaluations;
// linear programs with neither curvature nor bend take 1821, without the
// curvature 1745, without the bend 986.
//
// Sources: R. Fletcher and E. Sainz de la Maza, "Nonlinear programming and
// nonsmooth optimization by successive linear programming", Mathematical
// Programming 43 (1989) 235-256; R. H. Byrd, J. Nocedal and R. A. Waltz,
// "Steering exact penalty methods for nonlinear programming", Optimization
// Methods and Software 23 (2008) 197-213 (weight of the shortfall).
func Minimise(ctx context.Context, p Problem, start []float64, set Settings) (*Solution, error) {
	end, err := minimiseFrom(ctx, p, found{Solution: &Solution{X: start}}, set)
	return end.Solution, err
}

// found is where a search ended, and the curvature that it learnt on the way.
type found struct {
	*Solution
	curve curvature // in the unit of F, over the whole range of each variable
}

// minimiseFrom searches from where another search ended, for the same or a problem
// that differs little from its.
func minimiseFrom(ctx context.Context, p Problem, near found, set Settings) (found, error) {
	s, at, err := newScaled(ctx, &p, near.X)
	if err != nil {
		return found{}, err
	}
	set = set.orDefaults(len(near.X))
	here, err := s.slopes(ctx, at, false)
	if err != nil {
		return found{}, err
	}
	q := &search{scaled: s, set: set, here: here, radius: set.Radius, weight: firstWeight, curve: near.curve.scaled(1 / s.unit)}
	status, err := q.run(ctx)
	if err != nil {
		return found{}, err
	}
	sol := s.judge(q.here, set)
	sol.Status, sol.Iterations = status, q.iterations
	return found{sol, q.curve.scaled(s.unit)}, nil
}

// search is the state of Minimise.
type search struct {
	*scaled
	set        Settings
	here       *model
	radius     float64 // of trust, as a share of the bounds
	weight     float64 // of the shortfall in the merit
	curve      curvature
	bothSides  bool // of the differences
	iterations int
}

// run steps with differences to one side to their end, then to both. One
// side may be enough where the limits are kept.
func (q *search) run(ctx context.Context) (Status, error) {
	status, err := q.descend(ctx)
	if err != nil || q.set.OneSided && kept(q.here.g, q.set) {
		return status, err
	}
	q.bothSides = true
	if q.here, err = q.central(ctx, q.here); err != nil || status == OutOfIterations {
		return status, err
	}
	q.radius = math.Max(q.radius, 10*q.pace())
	return q.descend(ctx)
}

// descend steps until a step is not worth it.
func (q *search) descend(ctx context.Context) (Status, error) {
	loosened := 0
	for ; q.iterations < q.set.Iterations; q.iterations++ {
		s, err := q.step(q.here)
		switch {
		case err != nil: // of the linear program; a smaller one may be solved
			q.radius /= 2
		case s.gain > q.worth():
			before := q.here
			if err := q.try(ctx, s); err != nil {
				return Stalled, err
			}
			if q.here != before {
				loosened = 0
			}
			if !q.bothSides && s.long() < q.pace() { // slopes to one side know no better
				return Converged, nil
			}
		case loosened < 2 && q.tooStiff():
			loosened++
			q.curve.scale(loosening)
		default:
			return Converged, nil
		}
		if q.radius < leastRadius {
			return Stalled, nil
		}
	}
	return OutOfIterations, nil
}

// worth is the gain of merit that is worth a step.
func (q *search) worth() float64 {
	if shortfall(q.here.g) > q.set.Shortfall {
		return math.Max(q.set.Gain, q.weight*q.set.Shortfall/1000)
	}
	return q.set.Gain
}

// tooStiff reports whether a step promises little only because the curvature
// is thought to be larger than it is: the slopes still say that there is a gain.
func (q *search) tooStiff() bool {
	return q.bothSides && q.curve.known() && q.judge(q.here, q.set).KKT > stationary
}
