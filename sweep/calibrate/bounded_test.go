package calibrate

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// inside fails the test when a problem is asked outside its bounds.
func inside(t interface {
	Errorf(format string, args ...any)
}, p Problem) Problem {
	inner := p.Evaluate
	p.Evaluate = func(ctx context.Context, x, r []float64) error {
		for k := range x {
			if !(x[k] >= p.Lo[k] && x[k] <= p.Hi[k]) {
				t.Errorf("asked at %v, outside %v to %v", x, p.Lo, p.Hi)
			}
		}
		return inner(ctx, x, r)
	}
	return p
}

// Random linear problems within bounds, with columns that have much in common: the conditions of Karush, Kuhn and Tucker
// hold at the end, which for a convex problem is proof of the least.
func TestBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 5).Draw(t, "parameters")
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		a, b := randomRows(rng, 2*n+3, n)
		for i := range a { // columns that have much in common
			for k := range n {
				a[i][k] = 0.1*a[i][k] + a[i][0]
			}
		}
		lo, hi, start := make([]float64, n), make([]float64, n), make([]float64, n)
		for k := range n {
			lo[k] = rng.NormFloat64()
			hi[k] = lo[k] + 0.1 + rng.ExpFloat64()
			start[k] = lo[k] + 3*rng.NormFloat64()
		}
		p := inside(t, Problem{Residuals: len(b), Lo: lo, Hi: hi, Evaluate: exact(func(x, r []float64) { linear(a, b, x, r) })})
		s, err := Fit(context.Background(), p, start, Settings{})
		if err != nil {
			t.Fatal(err)
		}
		r, size := make([]float64, len(b)), 0.0
		linear(a, b, s.X, r)
		for _, v := range r {
			size += v * v
		}
		for k := range n {
			g, long := 0.0, 0.0
			for i := range r {
				g += a[i][k] * r[i]
				long += sq(a[i][k])
			}
			g /= math.Sqrt(long * size)
			atLo, atHi := s.X[k] == lo[k], s.X[k] == hi[k]
			if g < -1e-6 && !atHi || g > 1e-6 && !atLo {
				t.Fatalf("parameter %d has slope %v at %v in %v to %v", k, g, s.X[k], lo[k], hi[k])
			}
			if held := slices.Contains(s.Held, k); math.Abs(g) > 1e-6 && !held || held && !atLo && !atHi {
				t.Fatalf("parameter %d has slope %v at %v in %v to %v: held %v", k, g, s.X[k], lo[k], hi[k], held)
			}
		}
	})
}

// randomRows is a random linear problem.
func randomRows(rng *rand.Rand, m, n int) (a [][]float64, b []float64) {
	for range m {
		row := make([]float64, n)
		for k := range row {
			row[k] = rng.NormFloat64()
		}
		a, b = append(a, row), append(b, 3*rng.NormFloat64())
	}
	return a, b
}

// linear is r = A x - b.
func linear(a [][]float64, b, x, r []float64) {
	for i := range r {
		r[i] = -b[i]
		for k, v := range x {
			r[i] += a[i][k] * v
		}
	}
}

// A least at a bound, of a problem that is not linear: Rosenbrock's with x ≤ 0.5
// is least at (0.5, 0.25), where r = (0, 0.5).
func TestCurvedAtBound(t *testing.T) {
	p := Problem{Residuals: 2, Lo: []float64{-3, -3}, Hi: []float64{0.5, 3}, Evaluate: exact(moreGarbowHillstrom[0].f)}
	s, err := Fit(t.Context(), inside(t, p), []float64{-1.2, 1}, Settings{})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(s.X[0]-0.5)+math.Abs(s.X[1]-0.25) > 1e-9 || math.Abs(s.Cost-0.25) > 1e-12 || !slices.Equal(s.Held, []int{0}) || s.Freedom != 1 || s.Status != Converged {
		t.Errorf("%+v", s)
	}
}

// Between bounds that are closer than a step of differences.
func TestNarrowBounds(t *testing.T) {
	p := Problem{Residuals: 20, Lo: []float64{0, 0.7}, Hi: []float64{9, 0.7 + 1e-9}, Step: 0.01, Evaluate: exact(decay)}
	s, err := Fit(t.Context(), inside(t, p), []float64{1, 0.7}, Settings{})
	if err != nil || !slices.Equal(s.Held, []int{1}) || s.Status != Converged {
		t.Errorf("%+v, %v", s, err)
	}
}
