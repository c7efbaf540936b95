package ode

import "math"

// matrices makes Jacobian and factors as far as they are missing.
func (st *rosenbrockStepper) matrices(s *Solver, h float64) error {
	if !st.fresh {
		if err := st.jacobian(s, h); err != nil {
			return err
		}
		st.fresh, st.hLU = true, 0
	}
	if st.hLU == h {
		return nil
	}
	m := s.active
	for i := range m {
		for j := range m {
			st.lu[i*m+j] = -st.jac[i*s.n+j]
		}
		st.lu[i*m+i] += 1 / (st.γ * h)
	}
	s.stats.Factorizations++
	st.hLU = h
	if !factor(st.lu[:m*m], st.piv[:m], m) {
		st.hLU = 0
		return errNotUsable
	}
	return nil
}

// jacobian forms J and ∂f/∂t at the present point.
func (st *rosenbrockStepper) jacobian(s *Solver, h float64) error {
	s.stats.Jacobians++
	clear(st.jac)
	if !s.p.Autonomous {
		if err := st.timeSlope(s, h); err != nil {
			return err
		}
	}
	if s.p.Jacobian != nil {
		return st.given(s)
	}
	copy(st.yi, s.y)
	for j := range s.active {
		if err := st.column(s, h, j); err != nil {
			return err
		}
	}
	return nil
}

// timeSlope forms ∂f/∂t by a forward difference over 10·RelTol of the step: its
// error is small against the tolerance, and so is noise of f divided by it.
func (st *rosenbrockStepper) timeSlope(s *Solver, h float64) error {
	δ := math.Max(math.Min(10*s.rel, 1e-3)*h, math.Sqrt(epsilon)*math.Max(math.Abs(s.t), h))
	δ = s.t + math.Min(δ, h) - s.t
	if err := s.eval(s.t+δ, s.y, st.fi); err != nil {
		return err
	}
	for i := range st.ft {
		st.ft[i] = (st.fi[i] - s.f[i]) / δ
	}
	return nil
}

// given takes the problem's own Jacobian.
func (st *rosenbrockStepper) given(s *Solver) error {
	if err := s.p.Jacobian(s.before(s.t), s.y, st.jac); err != nil {
		return err
	}
	if notFinite(st.jac) >= 0 {
		return ErrNotFinite
	}
	return nil
}

// shift returns the change of y_j for a difference quotient: a tenth of the
// allowed error, so that it is large against noise in f and small to the caller,
// kept between √ε and 1e-4 of the size of y_j, which is |y_j| or |h·f_j|. It goes
// the way the solution moves.
func (s *Solver) shift(h float64, j int) float64 {
	size := math.Max(math.Abs(s.y[j]), math.Abs(h*s.f[j]))
	δ := 0.1 * (s.abs[j] + s.rel*math.Abs(s.y[j]))
	if size > 0 {
		δ = math.Max(math.Min(δ, 1e-4*size), math.Sqrt(epsilon)*size)
	}
	if δ == 0 || size == 0 && δ > math.Sqrt(epsilon) {
		δ = math.Sqrt(epsilon)
	}
	return math.Copysign(δ, s.f[j])
}

// column sets column j of the Jacobian by a forward difference, or backwards if
// f fails there.
func (st *rosenbrockStepper) column(s *Solver, h float64, j int) error {
	y, δ := s.y[j], s.shift(h, j)
	defer func() { st.yi[j] = y }()
	st.yi[j] = y + δ
	if s.eval(s.t, st.yi, st.fi) != nil {
		st.yi[j] = y - δ
		if err := s.eval(s.t, st.yi, st.fi); err != nil {
			return err
		}
	}
	δ = st.yi[j] - y
	for i := range st.fi {
		st.jac[i*s.n+j] = (st.fi[i] - s.f[i]) / δ
	}
	return nil
}
