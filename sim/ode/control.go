package ode

import "math"

const (
	safety   = 0.7 // aim at a quarter of the allowed error: a step tried twice costs more
	shortest = 0.2 // least and most change of step size from step to step
	longest  = 6.0
	logLeast = -9.2 // ln of the least old error the controller remembers, 1e-4
)

// nextStep returns the step to try and whether it lands on the next stop or T1.
// A stop less than two steps away is reached in two equal ones.
func (s *Solver) nextStep() (h float64, lands bool) {
	h = s.hNext
	if s.set.MaxStep > 0 {
		h = math.Min(h, s.set.MaxStep)
	}
	left := s.stops[s.next] - s.t
	switch {
	case h >= 0.999*left:
		return left, true
	case h > left/2:
		return left / 2, false
	}
	return s.t + h - s.t, false
}

// errorNorm returns the largest |error|/(abs + rel·|y|) of the active components:
// the largest, so that adding a component never loosens the others.
func (s *Solver) errorNorm(e []float64) float64 {
	norm := 0.0
	for i, e := range e[:s.active] {
		scale := s.abs[i] + s.rel*math.Max(math.Abs(s.y[i]), math.Abs(s.y1[i]))
		if e == 0 {
			continue
		}
		if r := math.Abs(e) / scale; !(r <= norm) { // keeps NaN
			norm = r
		}
	}
	return norm
}

// adapt sets the next step size after an accepted step, by the proportional-
// integral controller h·safety·err^(−(1 − ¾β)/k)·errOld^(β/k).
//
// Source: K. Gustafsson, Control theoretic techniques for stepsize selection in
// explicit Runge–Kutta methods, ACM TOMS 17 (1991); HW II, section IV.2.
func (s *Solver) adapt(h, norm float64) {
	k, β := float64(s.method.order()), s.method.damping()
	log := math.Log(math.Max(norm, 1e-8))
	factor := safety * math.Exp((β*s.logErr-(1-0.75*β)*log)/k)
	most := longest
	if s.again {
		most = 1
	}
	s.hNext = h * math.Min(math.Max(factor, shortest), most)
	s.logErr, s.again = math.Max(log, logLeast), false
}

// reject sets a smaller step after a failed error test.
func (s *Solver) reject(h, norm float64) {
	factor := shortest
	if !math.IsNaN(norm) && !math.IsInf(norm, 0) {
		factor = math.Max(safety*math.Pow(norm, -1/float64(s.method.order())), shortest)
	}
	s.hNext = h * math.Min(factor, safety)
	s.again = true
	s.stats.Rejected++
}

// shrink sets a much smaller step after a failed Deriv, or gives up with its
// error where the step is already negligible.
func (s *Solver) shrink(h float64, cause error) error {
	s.stats.Rejected++
	s.hNext, s.again = h/8, true
	if s.hNext < 1e-12*math.Max(math.Abs(s.t), s.p.T1-s.p.T0) {
		return s.wrap(cause)
	}
	return nil
}

// firstStep returns a first step from the sizes of y, f and the change of f
// along a small Euler step.
//
// Source: HNW I, section II.4, "starting step size", which aims at a hundredth of
// the allowed error; here all of it is used, and a step too long tried again.
func (s *Solver) firstStep() float64 {
	span := s.stops[s.next] - s.t
	if s.set.FirstStep > 0 {
		return math.Min(s.set.FirstStep, span)
	}
	copy(s.y1, s.y)
	d0, d1 := s.errorNorm(s.y), s.errorNorm(s.f)
	h0 := 0.01 * d0 / d1
	if !(d0 > 1e-5 && d1 > 1e-5) || math.IsInf(h0, 0) {
		h0 = 1e-6 * span
	}
	h0 = math.Min(h0, span)
	for i := range s.y1 {
		s.y1[i] = s.y[i] + h0*s.f[i]
	}
	if s.eval(s.t+h0, s.y1, s.f1) != nil {
		return 1e-3 * h0
	}
	for i := range s.f1 {
		s.f1[i] = (s.f1[i] - s.f[i]) / h0
	}
	h1 := math.Max(1e-6*span, 1e-3*h0)
	if d := math.Max(d1, s.errorNorm(s.f1)); d > 1e-15 {
		h1 = math.Pow(1/d, 1/float64(s.method.order()))
	}
	return math.Min(math.Min(100*h0, h1), span)
}
