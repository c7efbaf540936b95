package optimum

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/optimize/functions"
)

func TestConfirm(t *testing.T) {
	for _, k := range allKnown() {
		s, err := Confirm(t.Context(), within(t, k.p), [][]float64{k.start, middle(k.p)}, Settings{})
		if err != nil {
			t.Fatal(k.name, err)
		}
		t.Logf("%-16s %2d variables %d limits: %5d evaluations, off by %8.1e, misses %7.1e, remainder %7.1e, %v",
			k.name, len(k.x), k.p.Limits, s.Evaluations, k.off(s.F), s.Violation, s.KKT, s.Status)
		if math.Abs(k.off(s.F)) > offOfConfirm(len(k.x)) || !s.Feasible {
			t.Errorf("%s: %+v, known %v at %v", k.name, s, k.f, k.x)
		}
	}
}

// offOfConfirm is how far off Confirm may be by the number of variables. The
// method is known to stop early on a kink when there are many, and does so in
// numbers 100 (7 variables) and 113 (10).
func offOfConfirm(variables int) float64 {
	switch {
	case variables <= 4:
		return 1e-5
	case variables <= 7:
		return 5e-4
	default:
		return 2.5e-2
	}
}

// Functions of J. J. Moré, B. S. Garbow and K. E. Hillstrom, "Testing
// unconstrained optimization software", ACM Transactions on Mathematical
// Software 7 (1981) 17-41, as gonum has them with their published starts and
// optima, within bounds wide of both.
func TestConfirmMoreGarbowHillstrom(t *testing.T) {
	type function interface {
		Func(x []float64) float64
		Minima() []functions.Minimum
	}
	for _, c := range []struct {
		name  string
		f     function
		start []float64
		bound float64
	}{
		{"Rosenbrock", functions.ExtendedRosenbrock{}, []float64{-1.2, 1}, 3},
		{"Beale", functions.Beale{}, []float64{1, 1}, 4.5},
		{"helical valley", functions.HelicalValley{}, []float64{-1, 0, 0}, 3},
		{"Gauss", functions.Gaussian{}, []float64{0.4, 1, 0}, 2},
		{"Powell singular", functions.ExtendedPowellSingular{}, []float64{3, -1, 0, 1}, 5},
		{"Wood", functions.Wood{}, []float64{-3, -1, -3, -1}, 5},
		{"Brown and Dennis", functions.BrownAndDennis{}, []float64{25, 5, -5, -1}, 30},
	} {
		n := len(c.start)
		p := Problem{Lo: every(n, -c.bound), Hi: every(n, c.bound),
			Evaluate: evaluate(func(x, _ []float64) float64 { return c.f.Func(x) })}
		at := c.f.Func(c.start)
		s, err := Confirm(t.Context(), p, [][]float64{c.start}, Settings{Radius: 0.02})
		if err != nil {
			t.Fatal(c.name, err)
		}
		least := math.Inf(1)
		for _, m := range c.f.Minima() {
			if len(m.X) == n {
				least = math.Min(least, m.F)
			}
		}
		t.Logf("%-16s %d variables: %4d evaluations, f %.6g, published %.6g, start %.6g", c.name, n, s.Evaluations, s.F, least, at)
		if s.F-least > 1e-6*at {
			t.Errorf("%s: f %v, published %v", c.name, s.F, least)
		}
	}
}

// Bounds are kept by reflection.
func TestFold(t *testing.T) {
	for v, want := range map[float64]float64{0: 0, 0.25: 0.25, 1: 1, 1.25: 0.75, -0.25: 0.25, 2: 0, 2.5: 0.5, -1.5: 0.5, 3: 1} {
		if got := fold(v); math.Abs(got-want) > 1e-15 {
			t.Errorf("fold(%v) is %v, want %v", v, got, want)
		}
	}
}
