package calibrate

import (
	"context"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// TestSequentialIsJoint: on a linear problem, what one half of the readings
// leaves, taken as the prior of the other half with its correlations, ends where
// both halves together do.
func TestSequentialIsJoint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 5).Draw(t, "parameters")
		m := rapid.IntRange(2, 10).Draw(t, "readings")
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 3))
		a, b := randomRows(rng, m, n)
		first := make([]Prior, n)
		for k := range first {
			first[k] = Prior{rng.NormFloat64(), math.Exp(rng.NormFloat64())}
		}
		fit := func(rows int, from int, known []Prior, correlation *mat.SymDense) *Solution {
			p := Problem{Residuals: rows - from, Prior: known, Correlation: correlation,
				Evaluate: exact(func(x, r []float64) { linear(a[from:rows], b[from:rows], x, r) })}
			s, err := Fit(context.Background(), p, make([]float64, n), Settings{})
			if err != nil {
				t.Fatal(err)
			}
			return s
		}
		joint, half := fit(m, 0, first, nil), fit(m/2, 0, first, nil)
		left := make([]Prior, n)
		for k := range left {
			left[k] = Prior{half.X[k], half.Sigma[k]}
		}
		then := fit(m, m/2, left, half.Correlation)
		for k := range n {
			if math.Abs(then.X[k]-joint.X[k]) > 1e-5*joint.Sigma[k] || math.Abs(then.Sigma[k]/joint.Sigma[k]-1) > 1e-5 {
				t.Fatalf("parameter %d: %v ± %v, jointly %v ± %v", k, then.X[k], then.Sigma[k], joint.X[k], joint.Sigma[k])
			}
			for i := range k {
				if got, want := then.Correlation.At(i, k), joint.Correlation.At(i, k); math.Abs(got-want) > 1e-5 {
					t.Fatalf("correlation of %d and %d: %v, jointly %v", i, k, got, want)
				}
			}
		}
		if sum := half.Cost + then.Cost; math.Abs(sum-joint.Cost) > 1e-6*(1+joint.Cost) {
			t.Fatalf("the halves cost %v, both together %v", sum, joint.Cost)
		}
	})
}

// TestCorrelatedPriors: a reading of one number moves another that goes with it,
// by ρ σ_b/σ_a of its own way, and leaves it σ_b √(1 - ρ²(1 - s²)) with s what is
// left of σ_a: the conditional normal.
func TestCorrelatedPriors(t *testing.T) {
	const rho, noise = -0.8, 0.5
	p := Problem{
		Residuals: 2, Prior: []Prior{{1, 2}, {10, 3}, {}},
		Correlation: mat.NewSymDense(3, []float64{1, rho, 0.3, rho, 1, 0, 0.3, 0, 1}), // that of an unknown one does not count
		Evaluate:    exact(func(x, r []float64) { r[0], r[1] = (x[0]-4)/noise, x[2] }),
		Scale:       []float64{1, 1, 1},
	}
	s, err := Fit(context.Background(), p, []float64{0, 0, 0}, Settings{})
	if err != nil {
		t.Fatal(err)
	}
	gain := 4 / (4 + noise*noise)
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"the number read", s.X[0], 1 + gain*3},
		{"the number that goes with it", s.X[1], 10 + rho*3/2*gain*3},
		{"its doubt", s.Sigma[1], 3 * math.Sqrt(1-rho*rho*gain)},
		{"the unknown number", s.X[2], 0},
	} {
		if math.Abs(c.got-c.want) > 1e-7 {
			t.Errorf("%s: %v, want %v", c.what, c.got, c.want)
		}
	}
}

// TestWrongCorrelations: correlations that cannot hold together, and those a
// rounding away from it.
func TestWrongCorrelations(t *testing.T) {
	p := Problem{Residuals: 1, Prior: []Prior{{0, 1}, {0, 1}, {0, 1}}, Evaluate: exact(func(x, r []float64) { r[0] = x[0] })}
	p.Correlation = mat.NewSymDense(3, []float64{1, 0.9, 0.9, 0.9, 1, -0.9, 0.9, -0.9, 1})
	if _, err := Fit(context.Background(), p, []float64{0, 0, 0}, Settings{}); err == nil || !strings.Contains(err.Error(), "cannot hold together") {
		t.Errorf("contradictory correlations: %v", err)
	}
	p.Correlation = mat.NewSymDense(3, []float64{1, 1, 0, 1, 1, 0, 0, 0, 1})
	s, err := Fit(context.Background(), p, []float64{0, 0, 0}, Settings{})
	if err != nil || s.Correlation.At(0, 1) < 0.99 {
		t.Errorf("numbers that go together altogether: %v", err)
	}
	p.Correlation = mat.NewSymDense(2, nil)
	if _, err := Fit(context.Background(), p, []float64{0, 0, 0}, Settings{}); err == nil {
		t.Error("correlations of two for three parameters are taken")
	}
}
