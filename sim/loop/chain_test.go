package loop

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// exchangeOf returns exchangers of the given conductances, all in the same air.
func exchangeOf(air float64, k ...float64) []Exchange {
	x := make([]Exchange, len(k))
	for i := range x {
		x[i] = Exchange{K: k[i], AirIn: air}
	}
	return x
}

// TestSeries: two radiators one after the other in the coolant, each in its own
// air (energy balance): Q1 = K1(T_h − T_a), T1 = T_h − Q1/F, Q2 = K2(T1 − T_a).
func TestSeries(t *testing.T) {
	const hot, air, f, k1, k2 = 100.0, 30.0, 4000.0, 600.0, 500.0
	q1 := k1 * (hot - air)
	t1 := hot - q1/f
	q2 := k2 * (t1 - air)

	x := exchangeOf(air, k1, k2)
	sum := Chain{{{Core: 0, Share: 1}}, {{Core: 1, Share: 1}}}.Heat(hot, f, x)
	near(t, "Q1", x[0].Q, q1, 1e-9)
	near(t, "T1", x[1].LiquidIn, t1, 1e-12)
	near(t, "Q2", x[1].Q, q2, 1e-9)
	near(t, "sum", sum, q1+q2, 1e-9)
	near(t, "by hand, Q2", q2, 29750, 1e-9)

	// The other way round: the other core gets the hot liquid.
	x = exchangeOf(air, k1, k2)
	Chain{{{Core: 1, Share: 1}}, {{Core: 0, Share: 1}}}.Heat(hot, f, x)
	near(t, "liquid into the second core first", x[1].LiquidIn, hot, 0)
	near(t, "liquid into the first core last", x[0].LiquidIn, hot-k2*(hot-air)/f, 1e-12)
}

// TestParallel: both members get the liquid as it comes, whatever their air.
func TestParallel(t *testing.T) {
	x := exchangeOf(30, 600, 500)
	x[1].AirIn = 45
	sum := Chain{{{Core: 0, Share: 0.5}, {Core: 1, Share: 0.5}}}.Heat(100, 4000, x)
	near(t, "Q of the first", x[0].Q, 42000, 1e-9)
	near(t, "Q of the second", x[1].Q, 27500, 1e-9)
	near(t, "liquid into the second", x[1].LiquidIn, 100, 0)
	near(t, "sum", sum, 69500, 1e-9)
}

// TestMixing: a core behind a bank gets the mixture of its outlets, whose own
// temperatures t − Q/(share·F) differ.
func TestMixing(t *testing.T) {
	const hot, f = 110.0, 5000.0
	x := exchangeOf(20, 300, 700, 400)
	c := Chain{{{Core: 0, Share: 0.3}, {Core: 1, Share: 0.7}}, {{Core: 2, Share: 1}}}
	c.Heat(hot, f, x)
	mixed := 0.3*(hot-x[0].Q/(0.3*f)) + 0.7*(hot-x[1].Q/(0.7*f))
	near(t, "mixture", x[2].LiquidIn, mixed, 1e-12)
}

// counterflow returns ε·C_min of a counterflow exchanger (textbook form).
func counterflow(ua, liquid, air float64) float64 {
	low, r := min(liquid, air), min(liquid, air)/max(liquid, air)
	e := math.Exp(-ua / low * (1 - r))
	return low * (1 - e) / (1 - r*e)
}

// TestHalves: two identical half cores side by side in liquid and air equal the
// undivided core.
func TestHalves(t *testing.T) {
	const hot, cold, ua, liquid, air = 100.0, 35.0, 1500.0, 4000.0, 1600.0
	whole := exchangeOf(cold, counterflow(ua, liquid, air))
	want := Chain{{{Core: 0, Share: 1}}}.Heat(hot, liquid, whole)

	half := counterflow(ua/2, liquid/2, air/2)
	x := exchangeOf(cold, half, half)
	got := Chain{{{Core: 0, Share: 0.5}, {Core: 1, Share: 0.5}}}.Heat(hot, liquid, x)
	near(t, "two halves", got, want, 1e-9)
	near(t, "liquid out", hot-got/liquid, hot-want/liquid, 1e-12)
	near(t, "one half", x[0].Q, x[1].Q, 0)
}

// TestNoFlow: without flow nothing is taken out, and nothing divides by it.
func TestNoFlow(t *testing.T) {
	x := exchangeOf(30, 0, 0, 0)
	c := Chain{{{Core: 0, Share: 1}}, {{Core: 1, Share: 0.5}, {Core: 2, Share: 0.5}}}
	near(t, "heat", c.Heat(95, 0, x), 0, 0)
	for _, e := range x {
		near(t, "liquid in", e.LiquidIn, 95, 0)
		near(t, "Q", e.Q, 0, 0)
	}
	near(t, "an empty chain", Chain(nil).Heat(95, 4000, nil), 0, 0)
}

// TestChainKeepsEnergy: for any chain with K ≤ F the liquid ends between the
// air and its start, the sum is that of all Q, and more conductance anywhere
// takes out more.
func TestChainKeepsEnergy(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		f := rapid.Float64Range(10, 1e4).Draw(rt, "F")
		hot := rapid.Float64Range(-20, 150).Draw(rt, "hot")
		air := rapid.Float64Range(-50, 60).Draw(rt, "air")
		share := rapid.SliceOfN(rapid.Float64Range(0, 1), 3, 3).Draw(rt, "K/F")
		// The bank of the last two gets the flow in halves.
		x := exchangeOf(air, share[0]*f, share[1]*f/2, share[2]*f/2)
		c := Chain{{{Core: 0, Share: 1}}, {{Core: 1, Share: 0.5}, {Core: 2, Share: 0.5}}}
		sum := c.Heat(hot, f, x)
		if all := x[0].Q + x[1].Q + x[2].Q; !(math.Abs(sum-all) <= 1e-9*f*200) {
			rt.Fatalf("sum %g of %g", sum, all)
		}
		out := hot - sum/f
		if !(out >= min(hot, air)-1e-9 && out <= max(hot, air)+1e-9) {
			rt.Fatalf("liquid leaves at %g between %g and %g", out, hot, air)
		}
		i := rapid.IntRange(0, 2).Draw(rt, "core")
		x[i].K *= 0.9
		if less := c.Heat(hot, f, x); math.Abs(less) > math.Abs(sum)+1e-9*f {
			rt.Fatalf("%g with less conductance, %g with more", less, sum)
		}
	})
}
