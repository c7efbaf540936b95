package ode

import (
	"errors"
	"math"
	"testing"
)

func TestRoot(t *testing.T) {
	for _, c := range []struct {
		name       string
		f          func(float64) float64
		a, b, want float64
		most       int // evaluations
	}{
		{"line", func(x float64) float64 { return 3 - x }, 0, 10, 3, 6},
		{"cos", math.Cos, 0, 3, math.Pi / 2, 10},
		{"reversed ends", math.Cos, 3, 0, math.Pi / 2, 10},
		{"√2", func(x float64) float64 { return x*x - 2 }, 0, 2, math.Sqrt2, 12},
		{"steep", func(x float64) float64 { return math.Expm1(50 * (x - 0.1)) }, 0, 1, 0.1, 30},
		{"cube", func(x float64) float64 { return x * x * x }, -1, 3, 0, 200},
		{"step", func(x float64) float64 { return math.Copysign(1, x-1./3) }, 0, 1, 1. / 3, 60},
		{"end a", func(x float64) float64 { return x }, 0, 1, 0, 2},
		{"end b", func(x float64) float64 { return x - 1 }, 0, 1, 1, 2},
	} {
		calls := 0
		x, err := Root(func(x float64) float64 { calls++; return c.f(x) }, c.a, c.b, 1e-13)
		if err != nil || math.Abs(x-c.want) > 2e-13 {
			t.Errorf("%s: %.17g, want %.17g: %v", c.name, x, c.want, err)
		}
		if calls > c.most {
			t.Errorf("%s: %d calls", c.name, calls)
		}
	}
}

func TestRootTolerance(t *testing.T) {
	calls := 0
	x, err := Root(func(x float64) float64 { calls++; return math.Exp(x) - 5 }, 0, 10, 1e-2)
	if err != nil || math.Abs(x-math.Log(5)) > 1e-2 || calls > 12 {
		t.Errorf("%v after %d calls, %v", x, calls, err)
	}
}

func TestRootErrors(t *testing.T) {
	if _, err := Root(math.Exp, 0, 1, 0); !errors.Is(err, ErrBracket) {
		t.Errorf("no bracket: %v", err)
	}
	if _, err := Root(math.Sqrt, -1, 1, 0); !errors.Is(err, ErrNotFinite) {
		t.Errorf("NaN at an end: %v", err)
	}
	hole := func(x float64) float64 {
		if x > 0.2 && x < 0.8 {
			return math.NaN()
		}
		return x - 0.5
	}
	if _, err := Root(hole, 0, 1, 0); !errors.Is(err, ErrNotFinite) {
		t.Errorf("NaN inside: %v", err)
	}
}

func TestFactorSolve(t *testing.T) {
	a := []float64{0, 2, 1, 1, 1, 0, 3, 0, -1} // needs an exchange
	x := []float64{7, 3, 0}                    // the rows times (1, 2, 3)
	piv := make([]int, 3)
	if !factor(a, piv, 3) {
		t.Fatal("regular matrix refused")
	}
	backSolve(a, piv, x)
	if d := worst(x, []float64{1, 2, 3}); d > 1e-15 {
		t.Errorf("%v", x)
	}
	if factor([]float64{1, 2, 2, 4}, piv, 2) {
		t.Error("singular matrix accepted")
	}
}
