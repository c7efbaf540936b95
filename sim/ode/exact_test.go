package ode

import (
	"math"
	"testing"
)

// oneNode is analytic case A: C 50 kJ/K, UA 1000 W/K, a step of 50 kW; the rise
// is 50·(1 − e^{−t/50}) K.
func oneNode(T1 float64) Problem {
	return Problem{
		Deriv: func(t float64, y, d []float64) error {
			d[0] = (50e3 - 1000*y[0]) / 50e3
			return nil
		},
		T1: T1, Y0: []float64{0},
	}
}

// twoNodes is analytic case B: metal 46 750 J/K and coolant 26 000 J/K at 35 °C,
// 3000 W/K between, 1000 W/K to air of 35 °C, 70 kW into the metal.
func twoNodes(T1 float64) Problem {
	return Problem{
		Deriv: func(t float64, y, d []float64) error {
			q := 3000 * (y[0] - y[1])
			d[0] = (70e3 - q) / 46750
			d[1] = (q - 1000*(y[1]-35)) / 26000
			return nil
		},
		T1: T1, Y0: []float64{35, 35},
	}
}

// twoNodesExact is the matrix exponential in closed form: the deviation x from
// the steady state obeys x' = A·x, and with the eigenvalues λ1, λ2 of A
//
//	e^{At} = [(A − λ2)·e^{λ1·t} − (A − λ1)·e^{λ2·t}]/(λ1 − λ2)
func twoNodesExact(t float64) []float64 {
	steady := [2]float64{105 + 70./3, 105}
	x := [2]float64{35 - steady[0], 35 - steady[1]}
	a := [2][2]float64{{-3000. / 46750, 3000. / 46750}, {3000. / 26000, -4000. / 26000}}
	trace, det := a[0][0]+a[1][1], a[0][0]*a[1][1]-a[0][1]*a[1][0]
	root := math.Sqrt(trace*trace/4 - det)
	λ1, λ2 := trace/2+root, trace/2-root
	e1, e2 := math.Exp(λ1*t), math.Exp(λ2*t)
	y := make([]float64, 2)
	for i := range y {
		ax := a[i][0]*x[0] + a[i][1]*x[1]
		y[i] = steady[i] + ((ax-λ2*x[i])*e1-(ax-λ1*x[i])*e2)/(λ1-λ2)
	}
	return y
}

func TestOneNode(t *testing.T) {
	for _, m := range methods {
		for _, c := range []struct{ t, want float64 }{ // 50·(1 − e^{−t/50})
			{25, 19.673467}, {50, 31.606028}, {100, 43.233236}, {200, 49.084218},
		} {
			sol := solve(t, oneNode(c.t), tolerance(m.method, 1, 1e-8))
			if math.Abs(sol.Y[0]-c.want) > 1e-5 {
				t.Errorf("%s: t %v: %.7f, want %.7f", m.name, c.t, sol.Y[0], c.want)
			}
		}
	}
}

func TestTwoNodes(t *testing.T) {
	for _, c := range []struct {
		t    float64
		want []float64
	}{ // matrix exponential, five decimals
		{10, []float64{47.02150, 39.61984}},
		{60, []float64{83.79823, 68.77837}},
		{300, []float64{125.82070, 102.95640}},
	} {
		if d := worst(twoNodesExact(c.t), c.want); d > 5.1e-6 {
			t.Errorf("closed form at %v is off by %g", c.t, d)
		}
		for _, m := range methods {
			sol := solve(t, twoNodes(c.t), tolerance(m.method, 2, 1e-8))
			if d := worst(sol.Y, c.want); d > 1e-5 {
				t.Errorf("%s: t %v: off by %g", m.name, c.t, d)
			}
		}
	}
	for _, m := range methods {
		sol := solve(t, twoNodes(3000), tolerance(m.method, 2, 1e-8))
		if d := worst(sol.Y, []float64{128.33333333, 105}); d > 1e-5 {
			t.Errorf("%s: steady state off by %g", m.name, d)
		}
	}
}

// The dense output is as good as the steps, within and at the default tolerance.
func TestTwoNodesDense(t *testing.T) {
	for _, m := range methods {
		d := 0.0
		y, dydt, f := make([]float64, 2), make([]float64, 2), make([]float64, 2)
		p := twoNodes(300)
		set := Settings{Method: m.method}
		slope := 0.0
		set.OnStep = func(s *Step) {
			for k := range 11 {
				at := s.T0 + (s.T1-s.T0)*float64(k)/10
				s.At(at, y)
				s.Slope(at, dydt)
				exact := twoNodesExact(at)
				d = math.Max(d, worst(y, exact))
				if err := p.Deriv(at, exact, f); err != nil {
					t.Error(err)
				}
				slope = math.Max(slope, worst(dydt, f))
				if y[1] != s.Value(1, at) || dydt[0] != s.Rate(0, at) {
					t.Error("scalar and vector access differ")
				}
			}
		}
		sol := solve(t, p, set)
		t.Logf("%s: %.2e K, slope %.2e K/s, %+v", m.name, d, slope, sol.Stats)
		if d > 3e-3 { // about 3·RelTol·100 K
			t.Errorf("%s: dense output off by %g K", m.name, d)
		}
		if slope > 3e-3 {
			t.Errorf("%s: slope off by %g K/s", m.name, slope)
		}
	}
}

// Stored heat less heat in plus heat out is a linear relation between rates and
// is kept to rounding at any tolerance.
func TestBalanceCloses(t *testing.T) {
	nodes := twoNodes(300).Deriv
	p := Problem{
		Deriv: func(t float64, y, d []float64) error {
			d[2], d[3] = 70e3, 1000*(y[1]-35)
			return nodes(t, y, d)
		},
		T1: 300, Y0: []float64{35, 35, 0, 0}, Passive: 2,
	}
	for _, m := range methods {
		for _, tol := range []float64{1e-3, 1e-5, 1e-7} {
			sol := solve(t, p, tolerance(m.method, 4, tol))
			y := sol.Y
			residual := (46750*(y[0]-35) + 26000*(y[1]-35) - y[2] + y[3]) / y[2]
			t.Logf("%s %g: %.1e", m.name, tol, residual)
			if math.Abs(residual) > 1e-11 {
				t.Errorf("%s, tolerance %g: residual %g of the heat in", m.name, tol, residual)
			}
			if math.Abs(y[2]-70e3*300) > 1e-4 {
				t.Errorf("%s: heat in %v", m.name, y[2])
			}
		}
	}
}

// Accumulators cost no calls: the steps are those of the problem without them.
func TestPassiveCostsNothing(t *testing.T) {
	nodes := twoNodes(300)
	with := nodes
	with.Deriv = func(t float64, y, d []float64) error {
		d[2] = 1000 * (y[1] - 35)
		return nodes.Deriv(t, y, d)
	}
	with.Y0, with.Passive = []float64{35, 35, 0}, 1
	for _, m := range methods {
		a := solve(t, nodes, Settings{Method: m.method})
		b := solve(t, with, Settings{Method: m.method})
		if a.Stats != b.Stats || worst(a.Y, b.Y) != 0 {
			t.Errorf("%s: %+v without, %+v with", m.name, a.Stats, b.Stats)
		}
	}
}
