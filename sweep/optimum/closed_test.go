package optimum

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// Quadratics without cross terms are least at their targets, or at the bound
// before it.
func TestRandomQuadratics(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 5).Draw(t, "variables")
		target, weight := vector(t, n, -2, 3, "target"), vector(t, n, 1, 9, "weight")
		f := func(x, _ []float64) float64 {
			sum := 1.0
			for i := range x {
				sum += weight[i] * sq(x[i]-target[i])
			}
			return sum
		}
		p := Problem{Lo: every(n, 0), Hi: every(n, 1), Evaluate: evaluate(f)}
		x := make([]float64, n)
		for i := range x {
			x[i] = clamp(target[i], 0, 1)
		}
		least := f(x, nil)
		start := vector(t, n, 0, 1, "start")
		s, err := Minimise(t.Context(), p, start, Settings{})
		if err != nil {
			t.Fatal(err)
		}
		if s.F < least-1e-9 || s.F > least+1e-5*f(start, nil) {
			t.Fatalf("%+v, least %v at %v", s, least, x)
		}
	})
}

// The cheapest load: least price·x with Σ gain·x ≥ need, 0 ≤ x ≤ 1, fills the
// variables in the order of price for gain. Its multiplier is that of the last.
func TestRandomLoads(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 6).Draw(t, "variables")
		price, gain := vector(t, n, 1, 5, "price"), vector(t, n, 1, 5, "gain")
		order, whole := make([]int, n), 0.0
		for i := range order {
			order[i] = i
			whole += gain[i]
		}
		need := whole * number(t, 0, 1, "share")
		slices.SortStableFunc(order, func(a, b int) int {
			return int(math.Copysign(1, price[a]/gain[a]-price[b]/gain[b]))
		})
		least, left := 0.0, need
		for _, i := range order {
			share := math.Min(1, left/gain[i])
			least, left = least+share*price[i], left-share*gain[i]
		}
		p := Problem{Lo: every(n, 0), Hi: every(n, 1), Limits: 1, Evaluate: evaluate(func(x, g []float64) float64 {
			f := 0.0
			g[0] = -need
			for i := range x {
				f, g[0] = f+price[i]*x[i], g[0]+gain[i]*x[i]
			}
			return f
		})}
		s, err := Minimise(t.Context(), p, vector(t, n, 0, 1, "start"), Settings{})
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(s.F-least) > 1e-4*(1+least) || !s.Feasible || s.KKT > 1e-5 {
			t.Fatalf("%+v, least %v", s, least)
		}
	})
}

// Least Σ price·x with Π x^share ≥ need: each price·x is in proportion to its
// share, which fixes all. The limit is written as a temperature that falls with
// the flow through openings.
func TestRandomOpenings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 4).Draw(t, "variables")
		price, share := vector(t, n, 1, 4, "price"), vector(t, n, 1, 3, "share")
		need := number(t, 1, 3, "need")
		all, power := 0.0, 1.0
		for i := range share {
			all += share[i]
			power *= math.Pow(share[i]/price[i], share[i])
		}
		unit := math.Pow(need/power, 1/all) // price·x = unit·share
		least := unit * all
		p := Problem{Limits: 1, Evaluate: evaluate(func(x, g []float64) float64 {
			f, flow := 0.0, 1.0
			for i := range x {
				f, flow = f+price[i]*x[i], flow*math.Pow(x[i], share[i])
			}
			g[0] = 50 - 50*math.Pow(need/flow, 1/all)
			return f
		})}
		start := make([]float64, n)
		for i := range share {
			x := unit * share[i] / price[i]
			p.Lo, p.Hi = append(p.Lo, x/4), append(p.Hi, x*4)
			start[i] = x * number(t, 1, 3, "start")
		}
		s, err := Minimise(t.Context(), p, start, Settings{})
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(s.F-least) > 1e-5*least || !s.Feasible {
			t.Fatalf("%+v, least %v", s, least)
		}
		// f grows as need^(1/all), and so by least/50 for each degree.
		if price := least / 50; math.Abs(s.Multipliers[0]-price) > 0.01*price {
			t.Fatalf("multiplier %v, want %v", s.Multipliers[0], price)
		}
	})
}
