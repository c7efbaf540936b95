package ode

import (
	"math"
	"testing"
)

// Robertson's chemical reaction. Reference at 1e11: IVP test set, F. Mazzia,
// C. Magherini, release 2.4, 2008, problem ROBER (from memory); HW II, section
// IV.10. At 40 from the same equations with DOPRI5 at 1e-12, as 0.7158, 9.185e-6
// printed in HW II, section IV.1.
func TestRobertson(t *testing.T) {
	p := Problem{
		Deriv: func(t float64, y, d []float64) error {
			d[0] = -0.04*y[0] + 1e4*y[1]*y[2]
			d[2] = 3e7 * y[1] * y[1]
			d[1] = -d[0] - d[2]
			return nil
		},
		Y0: []float64{1, 0, 0},
	}
	for _, m := range methods[:2] {
		p.T1 = 1e11
		sol := solve(t, p, Settings{Method: m.method, RelTol: 1e-7, AbsTol: []float64{1e-14, 1e-19, 1e-9}})
		want := []float64{0.2083340149701255e-7, 0.8333360770334713e-13, 0.9999999791665050}
		t.Logf("%s: %.10g, %+v", m.name, sol.Y, sol.Stats)
		for i, w := range want {
			if e := math.Abs(sol.Y[i]/w - 1); e > 1e-5 {
				t.Errorf("%s: y[%d] = %.10g, want %.10g", m.name, i, sol.Y[i], w)
			}
		}
		p.T1 = 40
		set := Settings{RelTol: 1e-7, AbsTol: []float64{1e-9, 1e-12, 1e-9}}
		set.Method = DormandPrince
		explicit := solve(t, p, set)
		set.Method = m.method
		implicit := solve(t, p, set)
		for i := range explicit.Y {
			if e := math.Abs(implicit.Y[i]/explicit.Y[i] - 1); e > 1e-5 {
				t.Errorf("%s: t 40: y[%d] off by %g", m.name, i, e)
			}
		}
		if math.Abs(explicit.Y[0]-0.7158) > 5e-5 || math.Abs(explicit.Y[1]-9.185e-6) > 1e-9 {
			t.Errorf("t 40: %v", explicit.Y)
		}
		if 10*implicit.Stats.Evaluations > explicit.Stats.Evaluations {
			t.Errorf("stiff method %+v, explicit %+v", implicit.Stats, explicit.Stats)
		}
	}
}

// Van der Pol's oscillator with ε = 1e-6. Reference values at 1 and 2: HW II,
// section IV.10, problem VDPOL, and the IVP test set (from memory).
func TestVanDerPol(t *testing.T) {
	p := Problem{
		Deriv: func(t float64, y, d []float64) error {
			d[0] = y[1]
			d[1] = ((1-y[0]*y[0])*y[1] - y[0]) / 1e-6
			return nil
		},
		Y0: []float64{2, -0.66},
	}
	for _, m := range methods[:2] {
		for _, c := range []struct {
			t    float64
			want []float64
		}{
			{1, []float64{-0.1863646254808130e1, 0.7535430865435460}},
			{2, []float64{0.1706167732170456e1, -0.8928097010248257}},
		} {
			p.T1 = c.t
			sol := solve(t, p, tolerance(m.method, 2, 1e-7))
			e := worst(sol.Y, c.want)
			t.Logf("%s t %v: error %.2e, %+v", m.name, c.t, e, sol.Stats)
			if e > 1e-4 {
				t.Errorf("%s: t %v: off by %g", m.name, c.t, e)
			}
		}
	}
}

// Prothero–Robinson: y' = −λ(y − sin t) + cos t follows a forcing, the default
// formula for decays up to λ = 300, which is its limit: with a small tolerance it
// takes ten times the steps of λ = 1 there.
func TestStiffForcing(t *testing.T) {
	for _, λ := range []float64{1, 30, 300} {
		p := Problem{
			Deriv: func(t float64, y, d []float64) error {
				d[0] = -λ*(y[0]-math.Sin(t)) + math.Cos(t)
				return nil
			},
			T1: 10, Y0: []float64{0},
		}
		e := 0.0
		set := tolerance(KapsRentrop, 1, 1e-5)
		set.OnStep = func(s *Step) {
			for k := range 11 {
				at := s.T0 + (s.T1-s.T0)*float64(k)/10
				e = math.Max(e, math.Abs(s.Value(0, at)-math.Sin(at)))
			}
		}
		sol := solve(t, p, set)
		t.Logf("λ = %g: error %.2e, %+v", λ, e, sol.Stats)
		if e > 1e-4 {
			t.Errorf("λ = %g: off by %g", λ, e)
		}
		if sol.Stats.Evaluations > 5000 {
			t.Errorf("λ = %g: %d evaluations", λ, sol.Stats.Evaluations)
		}
	}
}

// The loop of nine temperatures: stiff methods against the explicit one.
func TestStiffLoop(t *testing.T) {
	grid := func(out *[][]float64) func(*Step) {
		return func(s *Step) {
			for at := math.Floor(s.T0) + 1; at <= s.T1; at++ {
				y := make([]float64, 9)
				s.At(at, y)
				*out = append(*out, y)
			}
		}
	}
	var want [][]float64
	set := tolerance(DormandPrince, 9, 1e-9)
	set.OnStep = grid(&want)
	explicit := solve(t, stiffLoop(), set)
	for _, c := range []struct {
		method     Method
		tol, bound float64
		most       int // evaluations
	}{
		{KapsRentrop, 1e-5, 0.01, 8500},
		{KapsRentrop, 1e-6, 1e-3, 25000},
		{Rodas4, 1e-4, 0.01, 2500},
		{Rodas4, 1e-5, 1e-3, 4000},
		{Rodas4, 1e-6, 1e-4, 7000},
	} {
		var got [][]float64
		set := tolerance(c.method, 9, c.tol)
		set.OnStep = grid(&got)
		sol := solve(t, stiffLoop(), set)
		if len(got) != 900 || len(want) != 900 {
			t.Fatalf("%d and %d points", len(got), len(want))
		}
		e := 0.0
		for i := range got {
			e = math.Max(e, worst(got[i], want[i]))
		}
		t.Logf("method %d, %g: worst %.2e K, %+v; explicit %d", c.method, c.tol, e, sol.Stats, explicit.Stats.Evaluations)
		if e > c.bound {
			t.Errorf("method %d, tolerance %g: off by %g K, bound %g", c.method, c.tol, e, c.bound)
		}
		if sol.Stats.Evaluations > c.most {
			t.Errorf("method %d, tolerance %g: %d evaluations", c.method, c.tol, sol.Stats.Evaluations)
		}
	}
}

// Noise of 1e-9 of the derivative, as left by an inner iteration, changes neither
// the effort nor the solution by much.
func TestNoise(t *testing.T) {
	quiet := stiffLoop()
	noisy := quiet
	noisy.Deriv = func(t float64, y, d []float64) error {
		err := quiet.Deriv(t, y, d)
		for i := range d {
			d[i] *= 1 + 1e-9*math.Sin(1e9*(t+y[i]))
		}
		return err
	}
	for _, m := range methods[:2] {
		set := tolerance(m.method, 9, 1e-5)
		a, b := solve(t, quiet, set), solve(t, noisy, set)
		t.Logf("%s: differ by %.1e, %d and %d evaluations", m.name, worst(a.Y, b.Y), a.Stats.Evaluations, b.Stats.Evaluations)
		if d := worst(a.Y, b.Y); d > 1e-3 {
			t.Errorf("%s: differ by %g", m.name, d)
		}
		if b.Stats.Evaluations > a.Stats.Evaluations*11/10 {
			t.Errorf("%s: %d evaluations, without noise %d", m.name, b.Stats.Evaluations, a.Stats.Evaluations)
		}
	}
}
