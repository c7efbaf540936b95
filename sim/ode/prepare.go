package ode

import (
	"fmt"
	"math"
	"slices"
)

// prepare checks the input and sets the solver to the start of the problem.
func (s *Solver) prepare(p Problem, set Settings) error {
	if err := check(p, set, s.n); err != nil {
		return err
	}
	s.p, s.set = p, set
	s.active = s.n - p.Passive
	s.rel, s.maxSteps = set.RelTol, set.MaxSteps
	if s.rel == 0 {
		s.rel = DefaultRelTol
	}
	if s.maxSteps == 0 {
		s.maxSteps = DefaultMaxSteps
	}
	for i := range s.abs {
		s.abs[i] = DefaultAbsTol
	}
	copy(s.abs, set.AbsTol)
	s.stops = s.stops[:0]
	for _, t := range p.Stops {
		if t > p.T0 && t < p.T1 {
			s.stops = append(s.stops, t)
		}
	}
	slices.Sort(s.stops)
	s.stops = append(slices.Compact(s.stops), p.T1)
	s.next, s.stopAtT1 = 0, slices.Contains(p.Stops, p.T1)
	s.t, s.status, s.stats = p.T0, Aborted, Stats{}
	copy(s.y, p.Y0)
	s.watch.begin(len(p.Events))
	s.choose(set.Method)
	return nil
}

// choose sets the formula, made on first use.
func (s *Solver) choose(m Method) {
	switch m {
	case Rodas4:
		if s.rodas == nil {
			s.rodas = newRosenbrockStepper(&rodasFormula, s.n)
		}
		s.method = s.rodas
	case DormandPrince:
		if s.dopri == nil {
			s.dopri = newDormandPrinceStepper(s.n)
		}
		s.method = s.dopri
	default:
		if s.kaps == nil {
			s.kaps = newRosenbrockStepper(&kapsFormula, s.n)
		}
		s.method = s.kaps
	}
}

// check returns the first fault of the input.
func check(p Problem, set Settings, n int) error {
	bad := func(format string, args ...any) error {
		return fmt.Errorf("%w: %s", ErrBadInput, fmt.Sprintf(format, args...))
	}
	switch {
	case p.Deriv == nil:
		return bad("Deriv is nil")
	case n == 0 || len(p.Y0) != n:
		return bad("Y0 has %d components, the solver %d", len(p.Y0), n)
	case notFinite(p.Y0) >= 0:
		return bad("Y0[%d] is not finite", notFinite(p.Y0))
	case !(p.T0 <= p.T1) || math.IsInf(p.T1-p.T0, 0):
		return bad("times %v to %v", p.T0, p.T1)
	case p.Passive < 0 || p.Passive >= n:
		return bad("Passive is %d of %d components", p.Passive, n)
	case set.AbsTol != nil && len(set.AbsTol) != n:
		return bad("AbsTol has %d components, the solver %d", len(set.AbsTol), n)
	case !(set.RelTol >= 0 && set.RelTol < 1):
		return bad("RelTol is %v", set.RelTol)
	case !(set.MaxStep >= 0 && set.FirstStep >= 0) || set.MaxSteps < 0:
		return bad("negative MaxStep, FirstStep or MaxSteps")
	case set.Method < KapsRentrop || set.Method > DormandPrince:
		return bad("unknown method %d", set.Method)
	}
	for i, a := range set.AbsTol {
		if !(a >= 0) {
			return bad("AbsTol[%d] is %v", i, a)
		}
	}
	for i, e := range p.Events {
		if e.Value == nil {
			return bad("event %d (%q) has no Value", i, e.Name)
		}
	}
	if i := notFinite(p.Stops); i >= 0 {
		return bad("Stops[%d] is not finite", i)
	}
	return nil
}
