package ode

import (
	"math"
	"testing"
)

// orderProblem is not linear and not autonomous; its solution is
// (e^{sin t}, 1/(1+t), sin t).
func orderProblem() Problem {
	return Problem{
		Deriv: func(t float64, y, d []float64) error {
			d[0] = y[0] * math.Cos(t)
			d[1] = -y[1] * y[1]
			d[2] = y[0]*y[1]*y[2] - math.Exp(math.Sin(t))/(1+t)*math.Sin(t) + math.Cos(t)
			return nil
		},
		Jacobian: func(t float64, y, j []float64) error {
			j[0] = math.Cos(t)
			j[4] = -2 * y[1]
			j[6], j[7], j[8] = y[1]*y[2], y[0]*y[2], y[0]*y[1]
			return nil
		},
		T1: 1, Y0: []float64{1, 1, 0},
	}
}

func orderExact(t float64) []float64 {
	return []float64{math.Exp(math.Sin(t)), 1 / (1 + t), math.Sin(t)}
}

// fixedErrors integrates with n equal steps and returns the largest error at the
// ends of the steps and inside them.
func fixedErrors(t *testing.T, p Problem, m Method, n int) (ends, dense float64) {
	h := (p.T1 - p.T0) / float64(n)
	y := make([]float64, 3)
	sol := solve(t, p, Settings{
		Method: m, FirstStep: h, MaxStep: h, RelTol: 1e-12, AbsTol: filled(3, 1e9),
		OnStep: func(s *Step) {
			s.At(s.T1, y)
			ends = math.Max(ends, worst(y, orderExact(s.T1)))
			for _, θ := range []float64{0.35, 0.6} {
				at := s.T0 + θ*(s.T1-s.T0)
				s.At(at, y)
				dense = math.Max(dense, worst(y, orderExact(at)))
			}
		},
	})
	if sol.Stats.Steps != n {
		t.Fatalf("%d steps, want %d", sol.Stats.Steps, n)
	}
	return ends, dense
}

func TestOrder(t *testing.T) {
	right := orderProblem().Jacobian
	for _, c := range []struct {
		name     string
		method   Method
		jacobian func(float64, []float64, []float64) error
		steps    int     // of the first of two runs
		end      float64 // order at the ends of steps
		dense    float64 // order between, at least: 4 of the cubics, 5 of DOPRI5's, or end
	}{
		{"KapsRentrop", KapsRentrop, right, 32, 4, 4},
		{"KapsRentrop, J by differences", KapsRentrop, nil, 8, 4, 4},
		{"Rodas4", Rodas4, right, 32, 4, 4},
		{"DormandPrince", DormandPrince, nil, 40, 5, 5},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := orderProblem()
			p.Jacobian = c.jacobian
			e1, d1 := fixedErrors(t, p, c.method, c.steps)
			e2, d2 := fixedErrors(t, p, c.method, 2*c.steps)
			end, dense := math.Log2(e1/e2), math.Log2(d1/d2)
			t.Logf("errors %.2e %.2e order %.2f; dense %.2e %.2e order %.2f", e1, e2, end, d1, d2, dense)
			if math.Abs(end-c.end) > 0.3 {
				t.Errorf("order %.2f, want %g", end, c.end)
			}
			if dense < c.dense-0.3 {
				t.Errorf("dense order %.2f, want %g", dense, c.dense)
			}
		})
	}
}

// A Rosenbrock method loses its order with a wrong Jacobian: the test above can
// tell.
func TestOrderNeedsJacobian(t *testing.T) {
	p := orderProblem()
	p.Jacobian = func(float64, []float64, []float64) error { return nil }
	for _, m := range []Method{KapsRentrop, Rodas4} {
		e1, _ := fixedErrors(t, p, m, 64)
		e2, _ := fixedErrors(t, p, m, 128)
		if order := math.Log2(e1 / e2); order > 2.5 {
			t.Errorf("method %d: order %.2f with J = 0, expected a loss", m, order)
		}
	}
}

// Effort rises and error falls with the tolerance. On this problem the error at
// the end stays below 2 tolerances for every method.
func TestAdaptivity(t *testing.T) {
	const multiple = 2
	for _, m := range methods {
		t.Run(m.name, func(t *testing.T) {
			before := 0
			for _, tol := range []float64{1e-3, 1e-4, 1e-5, 1e-6, 1e-7, 1e-8, 1e-9} {
				sol := solve(t, orderProblem(), tolerance(m.method, 3, tol))
				e := worst(sol.Y, orderExact(1))
				t.Logf("%g: error %.2e, %+v", tol, e, sol.Stats)
				if e > multiple*tol {
					t.Errorf("tolerance %g: error %g", tol, e)
				}
				if sol.Stats.Evaluations <= before {
					t.Errorf("tolerance %g: %d evaluations, before %d", tol, sol.Stats.Evaluations, before)
				}
				before = sol.Stats.Evaluations
			}
		})
	}
}
