package calibrate

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// With normal errors the variance of the answer is E[ψ²]/E[ψ']² times that by
// squares, ψ = ρ'/2 (P. J. Huber, Robust Statistics, Wiley 1981, section 3.2): at
// the published constants the inverse is 95 %.
func TestLossEfficiency(t *testing.T) {
	for _, kind := range []LossKind{Huber, Cauchy} {
		l := Loss{Kind: kind}
		square, slope := 0.0, 0.0
		const h = 1e-4
		for r := -10 + h/2; r < 10; r += h {
			density := math.Exp(-r*r/2) / math.Sqrt(2*math.Pi) * h
			psi := r * l.weight(r)
			square += psi * psi * density
			slope += r * psi * density // by parts
		}
		if got := slope * slope / square; math.Abs(got-0.95) > 5e-4 {
			t.Errorf("%v: efficiency %.4f", kind, got)
		}
	}
}

// A weight is the slope of the cost over 2r, costs are squares near 0, and no
// cost is above the parabola with its weight through it.
func TestLossShapes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := Loss{LossKind(rapid.IntRange(0, 2).Draw(t, "kind")), rapid.Float64Range(0.1, 10).Draw(t, "bend")}
		r, at := rapid.Float64Range(-30, 30).Draw(t, "r"), rapid.Float64Range(-30, 30).Draw(t, "at")
		const h = 1e-5
		slope := (l.cost(r+h) - l.cost(r-h)) / (2 * h)
		if math.Abs(slope-2*r*l.weight(r)) > 1e-4*(1+math.Abs(slope)) {
			t.Fatalf("slope of the cost %v, by the weight %v", slope, 2*r*l.weight(r))
		}
		if small := 1e-3 * l.Bend; math.Abs(l.cost(small)/(small*small)-1) > 1e-5 {
			t.Fatalf("%v costs %v", small, l.cost(small))
		}
		if above := l.cost(r) - l.cost(at) - l.weight(at)*(r*r-at*at); above > 1e-9*(1+at*at+r*r) {
			t.Fatalf("cost above its parabola by %v", above)
		}
	})
}

// A line through 20 readings with errors of 1 σ, one of which is 50 σ off: how far
// it pulls the slope from where the others leave it.
func TestOutlier(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 4))
	y := make([]float64, 20)
	for i := range y {
		y[i] = 2 + 0.3*float64(i) + rng.NormFloat64()
	}
	const out = 17
	y[out] += 50
	line := func(loss LossKind, sigma float64, from []float64) *Solution {
		s, err := Fit(t.Context(), Problem{Residuals: 20, Loss: Loss{Kind: loss}, Evaluate: exact(func(x, r []float64) {
			for i := range r {
				r[i] = x[0] + x[1]*float64(i) - y[i]
			}
			r[out] /= sigma
		})}, from, Settings{})
		if err != nil || s.Status != Converged {
			t.Fatal(loss, s, err)
		}
		return s
	}
	without := line(Squares, 1e6, []float64{0, 0})
	from := []float64{0, 0}
	for _, want := range []struct {
		loss                LossKind
		least, most, weight float64 // of the pull in σ, and of the outlier
	}{{Squares, 5, 50, 1}, {Huber, 0.1, 1, 0.04}, {Cauchy, 0, 0.3, 0.004}} {
		s := line(want.loss, 1, from)
		from = s.X
		pull := math.Abs(s.X[1]-without.X[1]) / without.Sigma[1]
		t.Logf("%-7v slope %.4f, pulled by %.2f σ, weight of the outlier %.4f, %d evaluations", want.loss, s.X[1], pull, s.Weights[out], s.Evaluations)
		if pull < want.least || pull > want.most || s.Weights[out] > want.weight {
			t.Errorf("%v: pulled by %v σ, the outlier weighs %v", want.loss, pull, s.Weights[out])
		}
	}
}

// The answer to readings of one number under Huber's loss: the root of Σψ, here
// by bisection.
func TestLocation(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		y := rapid.SliceOfN(rapid.Float64Range(-20, 20), 1, 15).Draw(t, "readings")
		l := Loss{Kind: Huber}
		s, err := Fit(t.Context(), Problem{Residuals: len(y), Loss: l, Evaluate: exact(func(x, r []float64) {
			for i := range r {
				r[i] = x[0] - y[i]
			}
		})}, []float64{3}, Settings{})
		if err != nil {
			t.Fatal(err)
		}
		cost := func(x float64) float64 {
			sum := 0.0
			for _, v := range y {
				sum += l.cost(x - v)
			}
			return sum
		}
		pull := func(x float64) float64 {
			sum := 0.0
			for _, v := range y {
				sum += (x - v) * l.weight(x-v)
			}
			return sum
		}
		lo, hi := -30.0, 30.0
		for range 100 {
			if mid := (lo + hi) / 2; pull(mid) < 0 {
				lo = mid
			} else {
				hi = mid
			}
		}
		// Where two groups pull alike the least is a flat stretch: compare costs.
		if math.Abs(s.X[0]-lo) > 1e-5 && s.Cost > cost(lo)+1e-9*(1+cost(lo)) {
			t.Fatalf("%v costs %v, by bisection %v costs %v", s.X[0], s.Cost, lo, cost(lo))
		}
	})
}

func TestLossNames(t *testing.T) {
	if got := fmt.Sprint(Squares, Huber, Cauchy); got != "squares huber cauchy" {
		t.Error(got)
	}
}
