package ode

// dormandPrinceStepper steps with DOPRI5: order 5(4), seven stages, the last of
// which is the first of the next step, and an interpolant of order 4.
//
// Source: J. R. Dormand, P. J. Prince, A family of embedded Runge–Kutta formulae,
// J. Comput. Appl. Math. 6 (1980); interpolant: HNW I, section II.6, code DOPRI5.
// Coefficients from memory; tests check sums and observed orders.
type dormandPrinceStepper struct {
	k  [7][]float64
	yi []float64
}

var (
	dopriC = [7]float64{0, 1. / 5, 3. / 10, 4. / 5, 8. / 9, 1, 1}
	dopriA = [7][6]float64{
		{},
		{1. / 5},
		{3. / 40, 9. / 40},
		{44. / 45, -56. / 15, 32. / 9},
		{19372. / 6561, -25360. / 2187, 64448. / 6561, -212. / 729},
		{9017. / 3168, -355. / 33, 46732. / 5247, 49. / 176, -5103. / 18656},
		{35. / 384, 0, 500. / 1113, 125. / 192, -2187. / 6784, 11. / 84},
	}
	// dopriE is the order-5 minus the order-4 weight, dopriD the dense output.
	dopriE = [7]float64{71. / 57600, 0, -71. / 16695, 71. / 1920, -17253. / 339200, 22. / 525, -1. / 40}
	dopriD = [7]float64{
		-12715105075. / 11282082432, 0, 87487479700. / 32700410799, -10690763975. / 1880347072,
		701980252875. / 199316789632, -1453857185. / 822651844, 69997945. / 29380423,
	}
)

func newDormandPrinceStepper(n int) *dormandPrinceStepper {
	st := &dormandPrinceStepper{yi: make([]float64, n)}
	for i := range st.k {
		st.k[i] = make([]float64, n)
	}
	return st
}

func (st *dormandPrinceStepper) order() int { return 5 }

// damping is what keeps steps calm at the bound of stability.
func (st *dormandPrinceStepper) damping() float64 { return 0.4 }

func (st *dormandPrinceStepper) renew() {}

// try computes the stages, s.y1, s.f1 and the error norm.
func (st *dormandPrinceStepper) try(s *Solver, h float64) (float64, error) {
	copy(st.k[0], s.f)
	for i := 1; i < 7; i++ {
		copy(st.yi, s.y)
		for j, a := range dopriA[i][:i] {
			for n, k := range st.k[j] {
				st.yi[n] += h * a * k
			}
		}
		if err := s.eval(s.t+dopriC[i]*h, st.yi, st.k[i]); err != nil {
			return 0, err
		}
	}
	copy(s.y1, st.yi)
	copy(s.f1, st.k[6])
	st.sum(st.yi, h, &dopriE)
	return s.errorNorm(st.yi), nil
}

// dense fills the step.
func (st *dormandPrinceStepper) dense(s *Solver, h float64) {
	s.step.hermite(s.t, h, s.y, s.y1, s.f, s.f1)
	st.sum(s.step.r4, h, &dopriD)
}

// sum writes h·Σ w_i·k_i to out.
func (st *dormandPrinceStepper) sum(out []float64, h float64, w *[7]float64) {
	clear(out)
	for i, w := range w {
		for n, k := range st.k[i] {
			out[n] += h * w * k
		}
	}
}
