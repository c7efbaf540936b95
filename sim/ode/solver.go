package ode

import (
	"context"
	"errors"
	"fmt"
	"math"
)

// Errors that end an integration; test with errors.Is.
var (
	ErrMaxSteps  = errors.New("ode: too many steps")
	ErrStepSize  = errors.New("ode: step size too small")
	ErrBadInput  = errors.New("ode: bad input")
	errNotUsable = errors.New("ode: no usable step") // a trial to repeat with a smaller step
)

// formula is one integration method working on the solver's state.
type formula interface {
	// order returns the order of the error estimate plus one.
	order() int
	// damping returns the weight β of the old error in the step size controller.
	damping() float64
	// renew tells that the solution starts anew: nothing old may be used.
	renew()
	// try computes y1, the slope f1 there if accepted, and the error norm.
	try(s *Solver, h float64) (norm float64, err error)
	// dense fills s.step for the accepted step.
	dense(s *Solver, h float64)
}

// Solver is the reusable workspace of integrations with n components. It
// allocates nothing per step. One solver serves one goroutine at a time.
type Solver struct {
	n      int
	kaps   *rosenbrockStepper
	rodas  *rosenbrockStepper
	dopri  *dormandPrinceStepper
	method formula

	p        Problem
	set      Settings
	active   int       // components in Jacobian and error test
	stops    []float64 // stops ascending, then T1
	next     int       // the one ahead in stops
	stopAtT1 bool      // T1 is a stop too
	rel      float64
	abs      []float64
	maxSteps int

	t      float64
	y, f   []float64 // solution and slope at t
	y1, f1 []float64 // the same at the end of the step
	hNext  float64   // step to try
	logErr float64   // ln of the error norm of the last accepted step
	again  bool      // the last attempt was rejected
	step   Step
	status Status
	stats  Stats
	watch  watch
}

// NewSolver returns a solver for n components.
func NewSolver(n int) *Solver {
	n = max(n, 0)
	v := vectors(5, n)
	return &Solver{
		n: n, abs: v[0], y: v[1], f: v[2], y1: v[3], f1: v[4],
		step: newStep(n), watch: newWatch(n),
	}
}

// Solve integrates p with a new solver.
func Solve(ctx context.Context, p Problem, set Settings) (Solution, error) {
	return NewSolver(len(p.Y0)).Solve(ctx, p, set)
}

// Solve integrates p from T0 to T1. With an error, the solution is the last
// good point before it and all hits so far.
func (s *Solver) Solve(ctx context.Context, p Problem, set Settings) (Solution, error) {
	if err := s.prepare(p, set); err != nil {
		return Solution{}, err
	}
	err := s.run(ctx)
	if err != nil {
		s.status = Aborted
	}
	return Solution{
		T: s.t, Y: append([]float64(nil), s.y...), Status: s.status,
		Hits: s.watch.hits, Stats: s.stats,
	}, err
}

// run takes steps until the end or an error.
func (s *Solver) run(ctx context.Context) error {
	if err := s.restart(); err != nil {
		return err
	}
	for s.status == Aborted {
		if err := ctx.Err(); err != nil {
			return s.wrap(err)
		}
		if s.t >= s.p.T1 {
			s.status = Reached
			return nil
		}
		if s.stats.Steps+s.stats.Rejected >= s.maxSteps {
			return s.wrap(ErrMaxSteps)
		}
		if err := s.attempt(); err != nil {
			return err
		}
	}
	return nil
}

// wrap adds time and state to an error.
func (s *Solver) wrap(err error) error {
	return fmt.Errorf("at t = %.9g, y = %.6g: %w", s.t, s.y, err)
}

// attempt tries one step and accepts or rejects it.
func (s *Solver) attempt() error {
	h, lands := s.nextStep()
	if !lands && h < 4*epsilon*math.Abs(s.t) {
		return s.wrap(ErrStepSize)
	}
	norm, err := s.method.try(s, h)
	if err != nil {
		return s.shrink(h, err)
	}
	if !(norm <= 1) {
		s.reject(h, norm)
		return nil
	}
	s.method.dense(s, h)
	s.step.T0, s.step.T1 = s.t, s.t+h
	if lands {
		s.step.T1 = s.stops[s.next]
	}
	s.stats.Steps++
	s.adapt(h, norm)
	return s.accept(lands)
}

// accept looks for events in the step and moves to its end, or to a new start.
func (s *Solver) accept(lands bool) error {
	cut, err := s.inspect()
	if err != nil {
		return s.wrap(err)
	}
	if cut {
		if s.status != Aborted {
			return nil
		}
		return s.restart()
	}
	s.t = s.step.T1
	s.y, s.y1 = s.y1, s.y
	s.f, s.f1 = s.f1, s.f
	if !lands || s.next == len(s.stops)-1 {
		return nil
	}
	s.next++
	return s.restart()
}

// restart begins anew from t and y: slope, events that jumped, first step.
func (s *Solver) restart() error {
	s.method.renew()
	s.watch.rearm()
	for {
		if err := s.eval(s.t, s.y, s.f); err != nil {
			return s.wrap(err)
		}
		again, err := s.jumped()
		if err != nil {
			return s.wrap(err)
		}
		if s.status != Aborted {
			return nil
		}
		if !again {
			break
		}
	}
	s.logErr, s.again = 0, false
	if s.t < s.p.T1 {
		s.hNext = s.firstStep()
	}
	return nil
}

// eval calls Deriv, kept on the earlier side of the next stop, and refuses
// values that are not finite.
func (s *Solver) eval(t float64, y, dydt []float64) error {
	s.stats.Evaluations++
	if err := s.p.Deriv(s.before(t), y, dydt); err != nil {
		return err
	}
	if i := notFinite(dydt); i >= 0 {
		return fmt.Errorf("dydt[%d] = %v: %w", i, dydt[i], ErrNotFinite)
	}
	return nil
}

// before returns t, or the last time before the next stop if t is past that.
func (s *Solver) before(t float64) float64 {
	stop := s.stops[s.next]
	if t < stop || s.t >= stop || s.next == len(s.stops)-1 && !s.stopAtT1 {
		return t
	}
	return math.Nextafter(stop, math.Inf(-1))
}
