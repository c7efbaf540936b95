package ode

// rosenbrockStepper steps with a Rosenbrock formula. The linear systems have the
// size of the active part; a passive component follows from its own row.
type rosenbrockStepper struct {
	*rosenbrock
	u     [][]float64 // stages
	yi    []float64   // argument of a stage, then the error
	fi    []float64   // f there
	jac   []float64   // n×n
	lu    []float64   // active part of I/(γh) − J, factored
	piv   []int
	ft    []float64 // ∂f/∂t
	fresh bool      // jac and ft are those of the present point
	hLU   float64   // step lu was made for; 0: none
}

func newRosenbrockStepper(r *rosenbrock, n int) *rosenbrockStepper {
	v, m := vectors(3+len(r.m), n), vectors(2, n*n)
	return &rosenbrockStepper{
		rosenbrock: r, yi: v[0], fi: v[1], ft: v[2], u: v[3:],
		jac: m[0], lu: m[1], piv: make([]int, n),
	}
}

func (st *rosenbrockStepper) order() int { return st.embedded + 1 }

func (st *rosenbrockStepper) damping() float64 { return 0 }

func (st *rosenbrockStepper) renew() { st.fresh = false }

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
	clear(st.fi)
	st.combine(st.yi, st.fi, st.e)
	norm := s.errorNorm(st.yi)
	if !(norm <= 1) {
		return norm, nil
	}
	if err := s.eval(s.t+h, s.y1, s.f1); err != nil {
		return 0, err
	}
	st.fresh = false
	return norm, nil
}

// stage solves for u_i.
func (st *rosenbrockStepper) stage(s *Solver, h float64, i int) error {
	u := st.u[i]
	switch {
	case i == 0:
		copy(st.fi, s.f)
	case st.shared && i == len(st.u)-1:
	default:
		st.combine(st.yi, s.y, st.a[i])
		if err := s.eval(s.t+st.α[i]*h, st.yi, st.fi); err != nil {
			return err
		}
	}
	copy(u, st.fi)
	for j, c := range st.c[i] {
		c /= h
		for k, uj := range st.u[j] {
			u[k] += c * uj
		}
	}
	if !s.p.Autonomous {
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
	clear(st.fi)
	st.combine(p.r2, st.fi, st.d2)
	st.combine(p.r3, st.fi, st.d3)
}
