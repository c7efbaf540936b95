package exchanger

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"hotclimb/sim/fluid"
)

// TestKaysLondon: G 10, ρ 1.145 → 1.005, σ 0.7, Kc 0.30, Ke 0.10, f 0.03,
// A/Ac 80 (Kays & London equation, computed).
func TestKaysLondon(t *testing.T) {
	k := KaysLondon{
		MassFlux: 10, DensityIn: 1.145, DensityOut: 1.005, Sigma: 0.7, Entry: 0.30, Exit: 0.10,
		Fanning: 0.03, AreaRatio: 80,
	}
	entry, acceleration, friction, exit := k.Terms()
	near(t, "entry", entry, 35.37, 5e-3)
	near(t, "acceleration", acceleration, 12.17, 5e-3)
	near(t, "friction", friction, 112.10, 5e-3)
	near(t, "exit", exit, -20.40, 5e-3)
	near(t, "sum", k.Drop(), 139.24, 5e-3)
	k.DensityOut = k.DensityIn
	near(t, "isothermal", k.Drop(), 122.27, 5e-3)
}

// TestEndLosses: geometry A at 9 m/s, isothermal, 333.9 Pa of friction and
// 19.9 Pa of ends (computed).
func TestEndLosses(t *testing.T) {
	fin, rho, mu := louvered(t, "A"), fluid.AirDensity(101325, 45), fluid.AirViscosity(45)
	flow := 9 * rho
	full := KaysLondon{
		MassFlux: flow / fin.FreeArea(), DensityIn: rho, DensityOut: rho, Sigma: fin.sigma,
		Entry: EntryLoss(fin.sigma), Exit: ExitLoss(fin.sigma),
		Fanning: fin.Fanning(fin.Reynolds(flow, mu)), AreaRatio: fin.area / fin.free,
	}
	entry, _, friction, exit := full.Terms()
	near(t, "friction", friction, 333.9, 0.05)
	near(t, "ends", entry+exit, 19.9, 0.05)
	dp, _ := fin.Friction(flow, rho, mu)
	nearRel(t, "core form", dp, full.Drop(), 1e-12)
}

// TestHeatedCore: the acceleration of geometry A for a rise of 40 K is 3, 5, 6
// and 7 % of the drop at 3, 6, 9 and 12 m/s when it is counted as G²·(1/ρ2 − 1/ρ1)
// (computed). From face to face, ½(1 + σ²) of that is left; so the core agrees
// with the full equation of Kays & London within 0.2 %.
func TestHeatedCore(t *testing.T) {
	fin := louvered(t, "A")
	c := Core{Resist: fin, FreeArea: fin.FreeArea(), FaceArea: fin.FaceArea()}
	rho1, rho2, mu := fluid.AirDensity(101325, 25), fluid.AirDensity(101325, 65), fluid.AirViscosity(45)
	for v, share := range map[float64]float64{3: 0.03, 6: 0.05, 9: 0.06, 12: 0.07} {
		flow := v * fluid.AirDensity(101325, 45)
		g := flow / fin.FreeArea()
		dp, _ := c.PressureDrop(flow, rho1, rho2, mu)
		acceleration := g * g * (1/rho2 - 1/rho1)
		isothermal := dp - 0.5*(1+fin.sigma*fin.sigma)*acceleration
		near(t, fmt.Sprintf("share of acceleration at %g m/s", v), acceleration/isothermal, share, 5e-3)
		full := KaysLondon{
			MassFlux: g, DensityIn: rho1, DensityOut: rho2, Sigma: fin.sigma, Entry: EntryLoss(fin.sigma),
			Exit: ExitLoss(fin.sigma), Fanning: fin.Fanning(fin.Reynolds(flow, mu)), AreaRatio: fin.area / fin.free,
		}.Drop()
		nearRel(t, fmt.Sprintf("full form at %g m/s", v), dp, full, 2e-3)
	}
}

// TestBench: two points, (5 m/s, 100 Pa) and (10, 300) at ρ 1.225 and μ
// 1.789e-5, give 10V + 2V²; 8 m/s costs 208 Pa, and at ρ 0.9629, μ 1.712e-5
// 177.2 Pa at the same speed and 260.2 at the same mass flow (computed).
func TestBench(t *testing.T) {
	b := must[Bench](t)(BenchFrom([]BenchPoint{{5, 100}, {10, 300}}, 1.225, 1.789e-5, 0.09))
	near(t, "viscous", b.A*1.789e-5, 10, 1e-12)
	near(t, "inertial", b.B*1.225, 2, 1e-13)
	drop := func(v, rho, mu float64) float64 { dp, _ := b.Friction(v*rho*b.Area, rho, mu); return dp }
	near(t, "8 m/s", drop(8, 1.225, 1.789e-5), 208, 1e-10)
	near(t, "8 m/s, thin air", drop(8, 0.9629, 1.712e-5), 177.2, 0.05)
	near(t, "same mass flow", drop(8*1.225/0.9629, 0.9629, 1.712e-5), 260.2, 0.05)
}

// TestBenchFit: more points are fitted; pure laws come out pure; nonsense is
// refused.
func TestBenchFit(t *testing.T) {
	fit := func(p ...BenchPoint) (float64, float64) {
		b := must[Bench](t)(BenchFrom(p, 1, 1, 1))
		return b.A, b.B
	}
	a, b := fit(BenchPoint{2, 28}, BenchPoint{4, 72}, BenchPoint{6, 132}, BenchPoint{8, 208})
	near(t, "viscous of exact points", a, 10, 1e-10)
	near(t, "inertial of exact points", b, 2, 1e-11)
	a, b = fit(BenchPoint{1, 1}, BenchPoint{2, 8}) // rises with V³
	near(t, "no negative viscous part", a, 0, 0)
	near(t, "best square", b, 33.0/17, 1e-12)
	a, b = fit(BenchPoint{1, 1}, BenchPoint{4, 2}) // rises with √V
	near(t, "best line", a, 9.0/17, 1e-12)
	near(t, "no negative inertial part", b, 0, 0)
	for name, points := range map[string][]BenchPoint{
		"none": nil, "one": {{5, 100}}, "same speed": {{5, 100}, {5, 110}}, "negative": {{5, 100}, {10, -300}},
		"NaN": {{5, 100}, {math.NaN(), 300}},
	} {
		if _, err := BenchFrom(points, 1.2, 1.8e-5, 0.1); err == nil {
			t.Errorf("bench points %s are accepted", name)
		}
	}
	if _, err := BenchFrom([]BenchPoint{{5, 100}, {10, 300}}, 1.2, 1.8e-5, 0); err == nil {
		t.Error("a face of no area is accepted")
	}
}

// At rest a straight law keeps its slope and a curved one has none.
func TestPowerLawAtRest(t *testing.T) {
	for n, want := range map[float64]float64{1: 600, 1.7: 0, 2: 0} {
		p := PowerLaw{Drop: 300, Flow: 0.5, Exponent: n, Density: 1.1}
		if dp, slope := p.Friction(0, 1.1, 0); dp != 0 || slope != want {
			t.Errorf("exponent %g: %g Pa and %g Pa s/kg, want 0 and %g", n, dp, slope, want)
		}
	}
}

// TestPowerLaw: ρ·Δp ∝ ṁⁿ by hand.
func TestPowerLaw(t *testing.T) {
	p := PowerLaw{Drop: 300, Flow: 0.6, Exponent: 1.7, Density: 1.1}
	dp, slope := p.Friction(0.9, 0.9, 0)
	near(t, "Δp", dp, 300*math.Pow(1.5, 1.7)*1.1/0.9, 1e-9)
	near(t, "slope", slope, 1.7*dp/0.9, 1e-9)
}

// drops are all resistances, for the property tests.
func drops(t testing.TB) map[string]Drop {
	return map[string]Drop{
		"bench": Bench{A: 10 / 1.789e-5, B: 2 / 1.225, Area: 0.06}, "power law": PowerLaw{Drop: 300, Flow: 0.6, Exponent: 1.7, Density: 1.1},
		"louvered": radiator(t).Resist, "strip": must[*OffsetStrip](t)(NewOffsetStrip(strip(), nil)),
	}
}

// TestSlope: the slope is the derivative of the drop and never negative. Points
// where f has a corner are met with probability zero.
func TestSlope(t *testing.T) {
	for name, d := range drops(t) {
		rapid.Check(t, func(t *rapid.T) {
			flow := math.Exp(rapid.Float64Range(-9, 1.5).Draw(t, "ln flow"))
			rho := rapid.Float64Range(0.5, 1.4).Draw(t, "rho")
			mu := fluid.AirViscosity(rapid.Float64Range(-40, 150).Draw(t, "t"))
			dp, slope := d.Friction(flow, rho, mu)
			step := 1e-5 * flow
			up, _ := d.Friction(flow+step, rho, mu)
			down, _ := d.Friction(flow-step, rho, mu)
			if !(slope >= 0 && dp > 0) {
				t.Fatalf("%s: Δp %g, slope %g", name, dp, slope)
			}
			// one-sided differences, to allow for a corner inside the step
			lo, hi := min((up-dp)/step, (dp-down)/step), max((up-dp)/step, (dp-down)/step)
			if slope < lo*(1-1e-5) || slope > hi*(1+1e-5) {
				t.Fatalf("%s: slope %g, differences %g and %g", name, slope, lo, hi)
			}
		})
	}
}

// TestAtRest: no flow, and a reversed one, cost nothing; the slope is finite.
func TestAtRest(t *testing.T) {
	for name, d := range drops(t) {
		for _, flow := range []float64{0, -0.2} {
			dp, slope := d.Friction(flow, 1.1, 1.9e-5)
			if dp != 0 || !(slope >= 0) || math.IsInf(slope, 0) {
				t.Errorf("%s at %g kg/s: Δp %g, slope %g", name, flow, dp, slope)
			}
		}
	}
	fin := radiator(t).Resist
	dp, _ := fin.Friction(1e-4, 1.1, 1.9e-5)
	_, slope := fin.Friction(0, 1.1, 1.9e-5)
	nearRel(t, "laminar slope at rest", slope, dp/1e-4, 0.01)
}
