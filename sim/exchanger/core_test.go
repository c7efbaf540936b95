package exchanger

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"hotclimb/sim/fluid"
)

// TestRating: 24 kW at 60 K with 0.60 kg/s of air and 1.0 kg/s of coolant (cp
// 3600), both unmixed, scaled to other flows (computed).
func TestRating(t *testing.T) {
	r := rated()
	cmin, cr, actual := r.Arrangement.Between(r.AirFlow*1006, r.LiquidFlow*3600)
	eps := r.Heat / (cmin * r.TemperatureDifference)
	near(t, "ε", eps, 0.66269, 5e-6)
	near(t, "Cr", cr, 0.16767, 5e-6)
	near(t, "N", must[float64](t)(actual.NTU(eps, cr)), 1.19739, 5e-6)
	near(t, "UA", must[float64](t)(r.UA()), 722.74, 5e-3)
	air, liquid, _ := r.Sides()
	near(t, "air share", 722.74/air.UA, 0.8, 1e-5)
	c := ratedCore(t, r)
	for _, p := range []struct{ air, liquid, ua, q, tol float64 }{
		{0.6, 1.0, 722.74, 24000, 1e-6}, {0.9, 1.0, 847.10, 30760, 1}, {0.4, 1.0, 612.60, 18203, 0.5}, {0.6, 0.5, 629.45, 21250, 0.5},
	} {
		what := fmt.Sprintf("air %g, liquid %g", p.air, p.liquid)
		near(t, "UA at "+what, 1/(1/air.At(p.air, 0)+1/liquid.At(p.liquid, 0)), p.ua, 5.1e-3)
		k, _ := c.Heat(AirStream(p.air, 30), Stream{p.liquid, 90, 3600})
		near(t, "Q at "+what, k*60, p.q, p.tol)
	}
}

// TestRatingEveryArrangement: a core made from a rating returns its heat at the
// rated point, also when the air is the larger stream.
func TestRatingEveryArrangement(t *testing.T) {
	for _, a := range all {
		for _, liquidFlow := range []float64{1.0, 0.12} {
			r := rated()
			r.Arrangement, r.LiquidFlow, r.Heat = a, liquidFlow, 12000
			c := ratedCore(t, r)
			k, _ := c.Heat(AirStream(0.6, 30), Stream{liquidFlow, 90, 3600})
			nearRel(t, fmt.Sprintf("%v with %g kg/s", a, liquidFlow), k*60, 12000, 1e-9)
		}
	}
}

// TestRatingRefused: nonsense and heat out of reach are errors.
func TestRatingRefused(t *testing.T) {
	for name, spoil := range map[string]func(*Rating){
		"no heat": func(r *Rating) { r.Heat = 0 }, "NaN": func(r *Rating) { r.TemperatureDifference = math.NaN() },
		"no air": func(r *Rating) { r.AirFlow = 0 }, "share 1": func(r *Rating) { r.AirShare = 1 },
		"exponent": func(r *Rating) { r.AirExponent = -1 }, "too much heat": func(r *Rating) { r.Heat = 37000 },
	} {
		r := rated()
		spoil(&r)
		if _, _, err := r.Sides(); err == nil {
			t.Errorf("rating with %s is accepted", name)
		}
	}
}

// TestPlateRating: a plate exchanger is rated with the heat capacity of its
// coolant: at its catalogue flows it passes its catalogue heat.
func TestPlateRating(t *testing.T) {
	r := Rating{
		Heat: 13e3, TemperatureDifference: 30, AirFlow: 0.4, AirHeatCapacity: 3580, LiquidFlow: 0.5,
		LiquidHeatCapacity: 2200, AirShare: 0.25, Arrangement: Counterflow,
	}
	coolant, oil, err := r.Sides()
	if err != nil {
		t.Fatal(err)
	}
	c := Core{Air: coolant, Liquid: oil, Arrangement: Counterflow}
	k, _ := c.Heat(Stream{0.4, 80, 3580}, Stream{0.5, 110, 2200})
	nearRel(t, "heat", k*30, 13e3, 1e-9)
}

// TestHeatZeroFlow: a stream at rest passes no heat, from −40 to 150 °C.
func TestHeatZeroFlow(t *testing.T) {
	for name, c := range map[string]*Core{"fins": radiator(t), "rated": ratedCore(t, rated())} {
		for temp := -40.0; temp <= 150; temp += 10 {
			for _, f := range [][2]float64{{0, 1}, {0.5, 0}, {0, 0}} {
				k, eps := c.Heat(AirStream(f[0], temp), Stream{f[1], 110 - temp, 3600})
				if k != 0 || eps != 0 {
					t.Errorf("%s at flows %v: K %g, ε %g", name, f, k, eps)
				}
			}
			k, eps := c.Heat(AirStream(0.5, temp), Stream{1, 110 - temp, 3600})
			if !(k > 0 && eps > 0 && eps <= 1) {
				t.Errorf("%s at %g °C: K %g, ε %g", name, temp, k, eps)
			}
		}
	}
}

// TestMeanTemperature: one correction of the mean temperatures instead of full
// iteration costs less than 0.5 % of K. The coolant is in the middle of the
// transition from laminar to turbulent, where K depends most on temperature.
func TestMeanTemperature(t *testing.T) {
	c, worst := radiator(t), 0.0
	for _, flow := range []float64{0.1, 0.3, 0.6, 1.0} {
		air, liquid := AirStream(flow, 30), Stream{0.8, 100, 3600}
		k, _ := c.Heat(air, liquid)
		want := k
		for range 20 {
			q := want * 70
			ca, cl := flow*1006, 0.8*3600
			ua := 1 / (1/c.Air.At(flow, 30+q/(2*ca)) + 1/c.Liquid.At(0.8, 100-q/(2*cl)))
			cmin, cr, a := c.Arrangement.Between(ca, cl)
			want = cmin * a.Effectiveness(ua/cmin, cr)
		}
		worst = math.Max(worst, math.Abs(k/want-1))
	}
	t.Logf("largest difference %.3g", worst)
	if worst > 0.005 {
		t.Errorf("K is %.3g off", worst)
	}
}

// TestHalfCores: two identical half cores in parallel equal the undivided core.
func TestHalfCores(t *testing.T) {
	whole := ratedCore(t, rated())
	half := *whole
	air, liquid := whole.Air.(Power), whole.Liquid.(Power)
	air.UA, air.Flow = air.UA/2, air.Flow/2
	liquid.UA, liquid.Flow = liquid.UA/2, liquid.Flow/2
	half.Air, half.Liquid = air, liquid
	var share [2]float64
	if err := Split([]float64{7, 7}, 1.75, share[:]); err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		fa, fl := rapid.Float64Range(0.05, 2).Draw(t, "air"), rapid.Float64Range(0.05, 3).Draw(t, "liquid")
		k, _ := whole.Heat(AirStream(fa, 30), Stream{fl, 90, 3600})
		sum := 0.0
		for _, x := range share {
			part, _ := half.Heat(AirStream(fa/2, 30), Stream{x * fl, 90, 3600})
			sum += part
		}
		if math.Abs(sum-k) > 1e-12*k {
			t.Fatalf("halves pass %.15g W/K, the whole %.15g", sum, k)
		}
	})
}

// TestSplit: equal drops in every branch, shares that add up; 2^2.75 is what two
// cores in series cost over the same two in parallel at exponent 1.75.
func TestSplit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.SliceOfN(rapid.Float64Range(0.01, 100), 1, 6).Draw(t, "resistance")
		n := rapid.Float64Range(1, 2).Draw(t, "exponent")
		share := make([]float64, len(r))
		if err := Split(r, n, share); err != nil {
			t.Fatal(err)
		}
		sum, first := 0.0, r[0]*math.Pow(share[0], n)
		for i := range r {
			sum += share[i]
			if d := r[i] * math.Pow(share[i], n); math.Abs(d-first) > 1e-12*first {
				t.Fatalf("branch %d drops %g, the first %g", i, d, first)
			}
		}
		if math.Abs(sum-1) > 1e-14 {
			t.Fatalf("shares add up to %.17g", sum)
		}
	})
	share := make([]float64, 2)
	if err := Split([]float64{3, math.Inf(1)}, 1.75, share); err != nil || share[0] != 1 || share[1] != 0 {
		t.Errorf("closed branch: %v, %v", share, err)
	}
	if err := Split([]float64{3, 3}, 1.75, share); err != nil {
		t.Error(err)
	}
	near(t, "series over parallel", 2/math.Pow(share[0], 1.75), math.Pow(2, 2.75), 1e-12)
	for name, err := range map[string]error{
		"length": Split([]float64{1}, 1.75, share), "exponent": Split([]float64{1, 1}, 0, share),
		"zero": Split([]float64{1, 0}, 1.75, share), "closed": Split([]float64{math.Inf(1), math.Inf(1)}, 1.75, share),
		"none": Split(nil, 1.75, nil),
	} {
		if err == nil {
			t.Errorf("split with bad %s is accepted", name)
		}
	}
}

// TestPlate: counterflow of oil against coolant; the oil cooler of Incropera &
// DeWitt, example 11.1, passes 8524 W.
func TestPlate(t *testing.T) {
	plate := func(oil, coolant Conductance) *Core {
		return &Core{Air: coolant, Liquid: oil, Arrangement: Counterflow}
	}
	p := plate(Power{UA: 2 * 197.315, Flow: 0.1}, Power{UA: 2 * 197.315, Flow: 0.2})
	k, _ := p.Heat(Stream{0.2, 30, 4178}, Stream{0.1, 100, 2131})
	near(t, "Q", k*70, 8524, 0.01)
	back, _ := plate(p.Air, p.Liquid).Heat(Stream{0.1, 100, 2131}, Stream{0.2, 30, 4178})
	nearRel(t, "sides exchanged", back, k, 1e-14)
	oil := must[*fluid.Liquid](t)(fluid.EngineOil("15w_50"))
	tube := TubeGeometry{Diameter: 4e-3, Length: 0.2, FlowArea: 5e-4, WettedArea: 0.3}
	real := plate(must[*Tube](t)(NewTube(tube, oil)), must[*Tube](t)(NewTube(tube, coolant(t))))
	for _, flow := range []float64{0, 0.01, 0.5} {
		k, eps := real.Heat(Stream{1, 80, 3600}, Stream{flow, 110, 2200})
		if !(k >= 0 && eps >= 0 && eps <= 1) || (flow == 0) != (k == 0) {
			t.Errorf("oil flow %g: K %g, ε %g", flow, k, eps)
		}
	}
}

// TestPressureDropSlope: the slope of a heated core is the derivative.
func TestPressureDropSlope(t *testing.T) {
	c := radiator(t)
	rapid.Check(t, func(t *rapid.T) {
		flow := rapid.Float64Range(0.3, 2).Draw(t, "flow") // above the corners of f
		rho1 := rapid.Float64Range(0.6, 1.3).Draw(t, "rho1")
		rho2 := rho1 * rapid.Float64Range(0.8, 1).Draw(t, "ratio")
		_, slope := c.PressureDrop(flow, rho1, rho2, 1.9e-5)
		up, _ := c.PressureDrop(flow*(1+1e-6), rho1, rho2, 1.9e-5)
		down, _ := c.PressureDrop(flow*(1-1e-6), rho1, rho2, 1.9e-5)
		if want := (up - down) / (2e-6 * flow); math.Abs(slope-want) > 1e-7*want {
			t.Fatalf("slope %g, difference %g", slope, want)
		}
	})
	if dp, slope := c.PressureDrop(0, 1.1, 1.0, 1.9e-5); dp != 0 || !(slope > 0) {
		t.Errorf("at rest: Δp %g, slope %g", dp, slope)
	}
}

// TestCheck: an incomplete core is refused.
func TestCheck(t *testing.T) {
	for _, c := range []*Core{radiator(t), ratedCore(t, rated())} {
		if err := c.Check(); err != nil {
			t.Error(err)
		}
		for name, d := range drops(t) {
			c.Resist = d
			if err := c.Check(); err != nil {
				t.Errorf("%s: %v", name, err)
			}
		}
	}
	for name, spoil := range map[string]func(*Core){
		"no air": func(c *Core) { c.Air = nil }, "no resistance": func(c *Core) { c.Resist = nil },
		"no flow": func(c *Core) { c.Air = Power{UA: 1} }, "no UA": func(c *Core) { c.Liquid = Power{Flow: 1, UA: math.NaN()} },
		"no face": func(c *Core) { c.Resist = Bench{A: 1, B: 1} }, "no coefficient": func(c *Core) { c.Resist = Bench{Area: 1} },
		"no density":   func(c *Core) { c.Resist = PowerLaw{Drop: 1, Flow: 1, Exponent: 2} },
		"flat power":   func(c *Core) { c.Resist = PowerLaw{Drop: 1, Flow: 1, Density: 1, Exponent: 0.5} },
		"no free area": func(c *Core) { c.FreeArea = 0 }, "more free than face": func(c *Core) { c.FreeArea = 1 },
	} {
		c := *radiator(t)
		spoil(&c)
		if c.Check() == nil {
			t.Errorf("core with %s is accepted", name)
		}
	}
}
