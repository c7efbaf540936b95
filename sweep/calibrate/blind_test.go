package calibrate

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// knot is a problem where parameters 0 and 4 only act as a product, 1 acts on
// nothing, 2 and 3 only as a sum, and 5 is seen.
func knot(x, r []float64) {
	for i := range r {
		t := float64(i) / 10
		r[i] = (x[0]*x[4]*t + (x[2]+x[3])*t*t + x[5] - (6*t + 2*t*t + 1)) / 0.02
	}
}

// Three things that the readings cannot tell apart are named one by one, not as
// a mixture of all.
func TestBlind(t *testing.T) {
	priors := []Prior{{2, 0.2}, {7, 1}, {1, 0.5}, {1, 0.5}, {3, 0.3}, {1, 3}}
	s, err := Fit(t.Context(), Problem{Residuals: 30, Prior: priors, Evaluate: exact(knot)}, []float64{2.1, 7.5, 0.8, 1, 3, 2}, Settings{})
	if err != nil {
		t.Fatal(err)
	}
	want := []struct {
		leaders []int
		weights []float64
	}{
		// One σ of 0 up and one of 4 down leave the product as it is: 10 % each.
		{[]int{0, 4}, []float64{math.Sqrt(0.5), 0, 0, 0, -math.Sqrt(0.5), 0}},
		{[]int{1}, []float64{0, 1, 0, 0, 0, 0}},
		{[]int{2, 3}, []float64{0, 0, math.Sqrt(0.5), -math.Sqrt(0.5), 0, 0}},
	}
	blind := s.Blind(1)
	if len(blind) != len(want) {
		t.Fatalf("%d directions: %+v", len(blind), blind)
	}
	for i, w := range want {
		got := blind[i]
		if !slices.Equal(got.Leaders(0.1), w.leaders) || got.Seen > 1e-6 {
			t.Errorf("direction %d: %+v, leaders %v", i, got, got.Leaders(0.1))
		}
		for k := range w.weights {
			if math.Abs(got.Weights[k]-w.weights[k]) > 1e-5 {
				t.Errorf("direction %d: weights %v, want %v", i, got.Weights, w.weights)
				break
			}
		}
	}
	// What is known of a pair before, the readings cannot halve but for its sum.
	sharpened := s.Sharpened()
	for k, most := range []float64{0.75, 1, 0.75, 0.75, 0.75, 0.2} {
		if sharpened[k] > most+1e-6 || (k < 5) != (sharpened[k] > 0.7) {
			t.Errorf("parameter %d sharpened to %v, want %v at most", k, sharpened[k], most)
		}
	}
	if s.Correlation.At(0, 4) > -0.9 || s.Correlation.At(2, 3) > -0.9 {
		t.Errorf("correlations %v", mat.Formatted(s.Correlation))
	}
}

// Without priors there is no covariance, the search ends well all the same, and
// the directions are named.
func TestBlindWithoutPriors(t *testing.T) {
	s, err := Fit(t.Context(), Problem{Residuals: 30, Evaluate: exact(knot)}, []float64{2.1, 7.5, 0.8, 1, 2.7, 2}, Settings{})
	if err != nil {
		t.Fatal(err)
	}
	if s.Status != Converged || s.Cost > 1e-18 {
		t.Errorf("%v at %v, cost %v", s.Status, s.X, s.Cost)
	}
	if s.Covariance != nil || s.Sigma != nil || s.Correlation != nil || s.Sharpened() != nil || s.ScaledSigma() != nil {
		t.Errorf("covariance %v of what is not seen", s.Covariance)
	}
	if blind := s.Blind(1000); len(blind) != 3 || !slices.Equal(blind[0].Leaders(0.1), []int{0, 4}) {
		t.Errorf("%+v", blind)
	}
}

// Fewer readings than parameters.
func TestFewReadings(t *testing.T) {
	p := Problem{Residuals: 1, Evaluate: exact(func(x, r []float64) { r[0] = x[0] + 2*x[1] - 5 })}
	s, err := Fit(t.Context(), p, []float64{1, 1}, Settings{})
	if err != nil {
		t.Fatal(err)
	}
	if s.Covariance != nil || s.Cost > 1e-18 || s.Freedom != -1 || len(s.Blind(1e6)) != 1 {
		t.Errorf("%+v, blind %+v", s, s.Blind(1e6))
	}
}

// The singular vectors of a sum and a difference are turned back to what they are
// made of, and Seen with them: each parameter moves both readings by 0.3 and 0.1.
func TestBlindTurned(t *testing.T) {
	p := Problem{Residuals: 2, Scale: []float64{1, 1}, Evaluate: exact(func(x, r []float64) { r[0], r[1] = 0.3*(x[0]+x[1]), 0.1*(x[0]-x[1]) })}
	s, err := Fit(t.Context(), p, []float64{1, 2}, Settings{})
	if err != nil {
		t.Fatal(err)
	}
	all := s.Directions()
	near(t, "least seen", all[0].Seen, 0.1*math.Sqrt2)
	near(t, "most seen", all[1].Seen, 0.3*math.Sqrt2)
	for k, d := range s.Blind(1) {
		near(t, "turned", d.Seen, math.Sqrt(0.1))
		near(t, "weight", d.Weights[k], 1)
	}
	if some := s.Blind(3); len(some) != 1 || math.Abs(some[0].Seen-all[0].Seen) > 1e-12 {
		t.Errorf("%+v below a third, of %+v", some, all)
	}
}

// Directions are the eigenvectors of JᵀJ in units: they stand at right angles,
// the readings move along each by Seen, and the squares of Seen add up to those of J.
func TestDirections(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 5).Draw(t, "parameters")
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 5))
		a, b := randomRows(rng, 2*n+1, n)
		units := make([]float64, n)
		for k := range units {
			units[k] = math.Exp(rng.NormFloat64())
		}
		p := Problem{Residuals: len(b), Scale: units, Evaluate: exact(func(x, r []float64) { linear(a, b, x, r) })}
		s, err := Fit(context.Background(), p, make([]float64, n), Settings{})
		if err != nil {
			t.Fatal(err)
		}
		all, sum, last := s.Directions(), 0.0, 0.0
		for i, d := range all {
			if d.Seen < last {
				t.Fatalf("not in order: %+v", all)
			}
			last = d.Seen
			sum += d.Seen * d.Seen
			if math.Abs(s.seen(d)/d.Seen-1) > 1e-6 {
				t.Fatalf("seen %v, by the slopes %v", d.Seen, s.seen(d))
			}
			for j, other := range all {
				dot := 0.0
				for k := range n {
					dot += d.Weights[k] * other.Weights[k]
				}
				if want := map[bool]float64{true: 1}[i == j]; math.Abs(dot-want) > 1e-9 {
					t.Fatalf("directions %d and %d: %v", i, j, dot)
				}
			}
		}
		want := 0.0
		for i := range a {
			for k, v := range a[i] {
				want += sq(v * units[k])
			}
		}
		if math.Abs(sum/want-1) > 1e-6 {
			t.Fatalf("squares add up to %v, of J %v", sum, want)
		}
	})
}
