package exchanger

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

var all = []Arrangement{BothUnmixed, AirUnmixed, LeastMixed, Counterflow, ParallelFlow}

// TestEffectivenessTable: effectiveness_table.csv, computed from the published
// formulae; listed to seven places.
func TestEffectivenessTable(t *testing.T) {
	columns := map[string]func(n, cr float64) float64{
		"cross_uu_exact": BothUnmixed.Effectiveness, "cross_uu_approx": CrossApproximate,
		"cross_cmax_mixed": AirUnmixed.Effectiveness, "cross_cmin_mixed": LeastMixed.Effectiveness,
		"counterflow": Counterflow.Effectiveness, "parallel": ParallelFlow.Effectiveness,
	}
	for _, r := range table(t, "effectiveness_table") {
		n, cr := r.number(t, "ntu"), r.number(t, "cr")
		for name, f := range columns {
			near(t, fmt.Sprintf("%s(%g, %g)", name, n, cr), f(n, cr), r.number(t, name), 6e-8)
		}
	}
}

// TestPublishedEffectiveness: values printed in the documentation of a public
// library of heat-transfer formulae (C. Bell, ht).
func TestPublishedEffectiveness(t *testing.T) {
	near(t, "both unmixed", BothUnmixed.Effectiveness(5, 0.7), 0.84448217997, 5e-12)
	near(t, "counterflow", Counterflow.Effectiveness(5, 0.7), 0.920670368605, 5e-13)
	near(t, "parallel flow", ParallelFlow.Effectiveness(5, 0.7), 0.5881156068417585, 1e-15)
}

// TestHolman: Holman, Heat Transfer, example 10-9, Cmax mixed.
func TestHolman(t *testing.T) {
	cmin, cr, _ := AirUnmixed.Between(0.725*1900, 5.2*1860)
	eps := AirUnmixed.Effectiveness(275*10.82/cmin, cr)
	q := eps * cmin * (130 - 15)
	near(t, "ε", eps, 0.831218036142, 1e-12)
	near(t, "Q", q, 131675.327, 1e-3)
	near(t, "one outlet", 130-q/(5.2*1860), 116.386, 5e-4)
	near(t, "other outlet", 15+q/cmin, 110.590, 5e-4)
}

// TestSom: Som, Introduction to Heat Transfer, example 10.7. The book uses the
// approximation; the exact figures are computed.
func TestSom(t *testing.T) {
	cmin, cr, actual := BothUnmixed.Between(10*1010, 7*4180)
	n := 220 * 250 / cmin
	near(t, "N", n, 5.44554, 5e-6)
	near(t, "ε approximate", CrossApproximate(n, cr), 0.95282, 5e-6)
	near(t, "q approximate", CrossApproximate(n, cr)*cmin*105, 1.01046e6, 6)
	near(t, "ε exact", actual.Effectiveness(n, cr), 0.94859, 6e-6)
	near(t, "air out", 125-105*actual.Effectiveness(n, cr), 25.40, 5e-3)
}

// TestIncroperaGasCooler: Incropera & DeWitt, example 11.3; the book's 39.7 m²
// is read from a chart (from memory), the rest computed.
func TestIncroperaGasCooler(t *testing.T) {
	q := 1 * 4197 * 90.0
	cmin := q / 200
	cr := cmin / 4197
	n := must[float64](t)(BothUnmixed.NTU(q/(cmin*265), cr))
	near(t, "q", q, 377730, 1e-6)
	near(t, "Cr", cr, 0.45, 1e-12)
	near(t, "N", n, 2.0808, 5e-5)
	near(t, "area", n*cmin/100, 39.30, 5e-3)
	nearRel(t, "area in the book", n*cmin/100, 39.7, 0.02)
}

// TestIncroperaOilCooler: Incropera & DeWitt, example 11.1, counterflow;
// numbers partly from memory, UA computed by mean temperature difference.
func TestIncroperaOilCooler(t *testing.T) {
	q := 0.1 * 2131 * 40
	out := 30 + q/(0.2*4178)
	lmtd := ((100 - out) - (60 - 30)) / math.Log((100-out)/(60-30))
	cmin, cr, _ := Counterflow.Between(0.1*2131, 0.2*4178)
	n := must[float64](t)(Counterflow.NTU(q/(cmin*70), cr))
	near(t, "q", q, 8524, 1e-9)
	near(t, "water out", out, 40.20, 5e-3)
	near(t, "LMTD", lmtd, 43.20, 5e-3)
	near(t, "UA by ε-NTU", n*cmin, 197.315, 5e-4)
	nearRel(t, "UA by LMTD", q/lmtd, n*cmin, 1e-12)
}

// TestSeriesAgainstIntegral compares the series with a second formulation, the
// integral of Triboix (Int. Comm. Heat Mass Transfer 36, 2009):
//
//	ε = 1/Cr − e^{−CrN}/(2(CrN)²)·∫₀^{2N√Cr} (1 + N − v²/(4CrN)) e^{−v²/(4CrN)} v·I₀(v) dv
func TestSeriesAgainstIntegral(t *testing.T) {
	worst := 0.0
	for _, n := range []float64{0.5, 1, 2, 3, 5, 8} {
		for _, cr := range []float64{0.25, 0.5, 0.75, 1} {
			a, b := CrossBothUnmixed(n, cr), crossIntegral(n, cr)
			worst = math.Max(worst, math.Abs(a-b))
			near(t, fmt.Sprintf("ε(%g, %g)", n, cr), a, b, 1e-12)
		}
	}
	t.Logf("largest difference %.2g", worst)
}

func crossIntegral(n, cr float64) float64 {
	y := cr * n
	f := func(v float64) float64 {
		// e^{−v²/(4y) − y} I₀(v) = e^{−(v−2y)²/(4y)}·[e^{−v} I₀(v)]
		return (1 + n - v*v/(4*y)) * v * math.Exp(-(v-2*y)*(v-2*y)/(4*y)) * scaledBessel(v)
	}
	return 1/cr - simpson(f, 0, 2*n*math.Sqrt(cr), 4000)/(2*y*y)
}

// scaledBessel is e^{−v} I₀(v) = (1/π)∫₀^π e^{v(cos a − 1)} da; the trapezium
// rule converges faster than any power for a periodic integrand.
func scaledBessel(v float64) float64 {
	const m = 64
	sum := (1 + math.Exp(-2*v)) / 2
	for i := 1; i < m; i++ {
		sum += math.Exp(v * (math.Cos(math.Pi*float64(i)/m) - 1))
	}
	return sum / m
}

func simpson(f func(float64) float64, a, b float64, n int) float64 {
	h := (b - a) / float64(n)
	sum := f(a) + f(b)
	for i := 1; i < n; i++ {
		sum += float64(2+2*(i%2)) * f(a+float64(i)*h)
	}
	return sum * h / 3
}

// TestLargeNTU: at Cr = 1 the series sums to 1 − e^{−2N}[I₀(2N) + I₁(2N)]
// (expected distance of two Poisson counts); the switch to the normal limit
// leaves no step.
func TestLargeNTU(t *testing.T) {
	for _, n := range []float64{100, 690, 710, 5000, 1e6} {
		z := 2 * n // e^{−z}(I₀ + I₁), asymptotic series of Abramowitz & Stegun 9.7.1
		want := 1 - 2/math.Sqrt(2*math.Pi*z)*(1-1/(8*z)-3/(128*z*z))
		near(t, fmt.Sprintf("ε(%g, 1)", n), CrossBothUnmixed(n, 1), want, 1e-8)
	}
	for _, cr := range []float64{0.2, 0.9, 0.99, 1} {
		below, above := CrossBothUnmixed(seriesReach, cr), CrossBothUnmixed(seriesReach*(1+1e-12), cr)
		near(t, fmt.Sprintf("step at Cr %g", cr), above, below, 2e-8)
	}
}

// TestLimits: Cr → 0 gives 1 − e^{−N} in every arrangement, N → 0 gives 0,
// N → ∞ the ceiling of the formula; out of range is clamped.
func TestLimits(t *testing.T) {
	ceiling := map[Arrangement]float64{
		BothUnmixed: 1, AirUnmixed: (1 - math.Exp(-0.5)) / 0.5, LeastMixed: 1 - math.Exp(-2),
		Counterflow: 1, ParallelFlow: 1 / 1.5,
	}
	for _, a := range all {
		near(t, a.String()+" at Cr 0", a.Effectiveness(1, 0), 0.6321205588285577, 1e-15)
		for _, cr := range []float64{1e-15, 1e-12, 1e-9} {
			near(t, fmt.Sprintf("%v at Cr %g", a, cr), a.Effectiveness(1, cr), 0.6321205588285577, cr+2e-15)
		}
		near(t, a.String()+" slope at N 0", a.Effectiveness(1e-9, 0.5)/1e-9, 1, 2e-9)
		near(t, a.String()+" at large N", a.Effectiveness(1e5, 0.5), ceiling[a], 1e-12)
		for _, n := range []float64{0, -1, math.NaN(), math.Inf(-1)} {
			near(t, fmt.Sprintf("%v at N %g", a, n), a.Effectiveness(n, 0.5), 0, 0)
		}
		near(t, a.String()+" Cr clamped", a.Effectiveness(2, 1.5), a.Effectiveness(2, 1), 0)
	}
	near(t, "counterflow at Cr 1", Counterflow.Effectiveness(3, 1), 0.75, 1e-15)
	near(t, "counterflow near Cr 1", Counterflow.Effectiveness(3, 1-1e-13), 0.75, 1e-12)
}

// TestBetween: one row of tubes with the air as the larger stream mixes the
// smaller one.
func TestBetween(t *testing.T) {
	cases := []struct {
		a           Arrangement
		air, liquid float64
		cmin, cr    float64
		actual      Arrangement
	}{
		{AirUnmixed, 600, 3600, 600, 1.0 / 6, AirUnmixed},
		{AirUnmixed, 900, 300, 300, 1.0 / 3, LeastMixed},
		{BothUnmixed, 900, 300, 300, 1.0 / 3, BothUnmixed},
		{AirUnmixed, 900, 0, 0, 0, LeastMixed},
		{Counterflow, 0, 0, 0, 0, Counterflow},
	}
	for _, c := range cases {
		cmin, cr, actual := c.a.Between(c.air, c.liquid)
		if cmin != c.cmin || cr != c.cr || actual != c.actual {
			t.Errorf("%v %g/%g: got %g, %g, %v", c.a, c.air, c.liquid, cmin, cr, actual)
		}
	}
	// At Cr = 1 both mixed formulae are the same.
	near(t, "Cr 1", LeastMixed.Effectiveness(1.7, 1), AirUnmixed.Effectiveness(1.7, 1), 1e-15)
	if got := Arrangement(9).String(); got != "unknown arrangement" {
		t.Errorf("unknown arrangement is called %q", got)
	}
}

// TestEffectivenessProperties: 0 ≤ ε ≤ 1, rising with N, falling with Cr, and
// parallel ≤ crossflow ≤ counterflow.
func TestEffectivenessProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Float64Range(0, 60).Draw(t, "n")
		cr := rapid.Float64Range(0, 1).Draw(t, "cr")
		n2 := n * rapid.Float64Range(1, 2).Draw(t, "larger")
		cr2 := cr * rapid.Float64Range(0, 1).Draw(t, "smaller")
		for _, a := range all {
			eps := a.Effectiveness(n, cr)
			if !(eps >= 0 && eps <= 1) {
				t.Fatalf("%v(%g, %g) = %g", a, n, cr, eps)
			}
			if more := a.Effectiveness(n2, cr); more < eps-1e-14 {
				t.Fatalf("%v falls from %.17g at N %g to %.17g at N %g", a, eps, n, more, n2)
			}
			if more := a.Effectiveness(n, cr2); more < eps-2e-14 {
				t.Fatalf("%v: smaller Cr gives less", a)
			}
			if eps > Counterflow.Effectiveness(n, cr)+1e-14 || eps < ParallelFlow.Effectiveness(n, cr)-1e-14 {
				t.Fatalf("%v(%g, %g) = %g leaves the span of parallel and counterflow", a, n, cr, eps)
			}
		}
	})
}

// TestInversion: NTU undoes Effectiveness.
func TestInversion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.SampledFrom(all).Draw(t, "arrangement")
		n := rapid.Float64Range(0, 8).Draw(t, "n")
		cr := rapid.Float64Range(0, 1).Draw(t, "cr")
		eps := a.Effectiveness(n, cr)
		back, err := a.NTU(eps, cr)
		if err != nil {
			t.Fatal(err)
		}
		if d := math.Abs(a.Effectiveness(back, cr) - eps); d > 1e-12 {
			t.Fatalf("%v: ε %.15g comes back %g off", a, eps, d)
		}
	})
	for _, a := range all {
		for _, n := range []float64{1e-6, 0.1, 1, 3} {
			back := must[float64](t)(a.NTU(a.Effectiveness(n, 0.3), 0.3))
			nearRel(t, fmt.Sprintf("%v N %g", a, n), back, n, 1e-10)
		}
		near(t, a.String()+" ε 0", must[float64](t)(a.NTU(0, 0.3)), 0, 0)
	}
}

// TestUnreachable: every arrangement refuses an ε above its ceiling.
func TestUnreachable(t *testing.T) {
	cases := []struct {
		a       Arrangement
		eps, cr float64
	}{
		{ParallelFlow, 0.6, 0.7}, {AirUnmixed, 0.8, 0.5}, {LeastMixed, 0.87, 0.5}, {BothUnmixed, 0.99999, 1},
		{Counterflow, 1, 0.5}, {Counterflow, -0.1, 0.5}, {Counterflow, math.NaN(), 0.5}, {Counterflow, 0.5, 1.1},
		{BothUnmixed, 0.5, math.NaN()},
	}
	for _, c := range cases {
		if n, err := c.a.NTU(c.eps, c.cr); err == nil {
			t.Errorf("%v reaches ε %g at Cr %g with N %g", c.a, c.eps, c.cr, n)
		}
	}
}
