package ode

import "math"

// rosenbrockStepper steps with a Rosenbrock formula. The linear systems have the
// size of the active part; a passive component follows from its own row.
type rosenbrockStepper struct {
	rosenbrock
	u     [][]float64 // stages
	yi    []float64   // argument of a stage, then the error
	jac   []float64   // n×n
	lu    []float64   // active part of I/(γh) − J, factored
	piv   []int
	ft    []float64 // ∂f/∂t, zero for a W-method
	fd    []float64 // f at a shifted point
	age   int       // accepted steps since jac was formed; −1: none
	hLU   float64   // step lu was made for; 0: none
	stale bool      // jac is not from the present point
}

func newRosenbrockStepper(r rosenbrock, n int) *rosenbrockStepper {
	v := func() []float64 { return make([]float64, n) }
	st := &rosenbrockStepper{
		rosenbrock: r, yi: v(), ft: v(), fd: v(),
		jac: make([]float64, n*n), lu: make([]float64, n*n), piv: make([]int, n),
	}
	for range r.m {
		st.u = append(st.u, v())
	}
	return st
}

func (st *rosenbrockStepper) order() int { return st.embedded + 1 }

func (st *rosenbrockStepper) renew() { st.age = -1 }

// try computes the stages, s.y1, s.f1 and the error norm.
func (st *rosenbrockStepper) try(s *Solver, h float64) (float64, error) {
	if err := st.matrices(s, h); err != nil {
		return 0, err
	}
	for i := range st.u {
		if err := st.stage(s, h, i); err != nil {
			return 0, err
		}
	}
	st.combine(s.y1, s.y, st.m)
	clear(st.fd)
	st.combine(st.yi, st.fd, st.e)
	norm := s.errorNorm(st.yi)
	if !(norm <= 1) {
		st.outdate()
		return norm, nil
	}
	if err := s.eval(s.t+h, s.y1, s.f1); err != nil {
		return 0, err
	}
	st.age++
	st.stale = true
	return norm, nil
}

// outdate asks for a new Jacobian if the present one is from an earlier point.
func (st *rosenbrockStepper) outdate() {
	if st.stale {
		st.age = -1
	}
}

// stage solves for u_i.
func (st *rosenbrockStepper) stage(s *Solver, h float64, i int) error {
	u := st.u[i]
	if i == 0 {
		copy(u, s.f)
	} else {
		st.combine(st.yi, s.y, st.a[i])
		if err := s.eval(s.t+st.α[i]*h, st.yi, u); err != nil {
			return err
		}
	}
	for j, c := range st.c[i] {
		c /= h
		for k, uj := range st.u[j] {
			u[k] += c * uj
		}
	}
	if !st.w {
		for k, d := range st.ft {
			u[k] += h * st.γsum[i] * d
		}
	}
	m := s.active
	backSolve(st.lu[:m*m], st.piv[:m], u[:m])
	for k := m; k < s.n; k++ { // u/(γh) = r + J·u
		r := u[k]
		for j, x := range u[:m] {
			r += st.jac[k*s.n+j] * x
		}
		u[k] = st.γ * h * r
	}
	return nil
}

// combine writes base + Σ w_j·u_j to out.
func (st *rosenbrockStepper) combine(out, base, w []float64) {
	copy(out, base)
	for j, w := range w {
		if w == 0 {
			continue
		}
		for k, u := range st.u[j] {
			out[k] += w * u
		}
	}
}

// dense fills the step: the formula's own output or the cubic through the ends.
func (st *rosenbrockStepper) dense(s *Solver, h float64) {
	if st.d2 == nil {
		s.step.hermite(s.t, h, s.y, s.y1, s.f, s.f1)
		return
	}
	p := &s.step
	p.base, p.h = s.t, h
	copy(p.y0, s.y)
	for i := range p.r1 {
		p.r1[i] = s.y1[i] - s.y[i]
	}
	clear(st.fd)
	st.combine(p.r2, st.fd, st.d2)
	st.combine(p.r3, st.fd, st.d3)
}

// matrices makes Jacobian and factors as far as they are missing.
func (st *rosenbrockStepper) matrices(s *Solver, h float64) error {
	if st.age < 0 || !st.w && st.stale || st.age >= maxAge {
		if err := st.jacobian(s, h); err != nil {
			return err
		}
		st.age, st.hLU, st.stale = 0, 0, false
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

// maxAge is the number of steps a W-method may use one Jacobian for. On a stiff
// loop of nine temperatures it takes the fewest calls of Deriv: 5200 for 1 step,
// 2980 for 5, 2870 for 10, 3140 for 20 and 3870 for 50, at RelTol 1e-5.
const maxAge = 10

// jacobian forms J at the present point and, unless a W-method, ∂f/∂t.
func (st *rosenbrockStepper) jacobian(s *Solver, h float64) error {
	s.stats.Jacobians++
	clear(st.jac)
	if !st.w {
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
	if err := s.eval(s.t+δ, s.y, st.fd); err != nil {
		return err
	}
	for i := range st.ft {
		st.ft[i] = (st.fd[i] - s.f[i]) / δ
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
	if s.eval(s.t, st.yi, st.fd) != nil {
		st.yi[j] = y - δ
		if err := s.eval(s.t, st.yi, st.fd); err != nil {
			return err
		}
	}
	δ = st.yi[j] - y
	for i := range st.fd {
		st.jac[i*s.n+j] = (st.fd[i] - s.f[i]) / δ
	}
	return nil
}
