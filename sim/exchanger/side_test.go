package exchanger

import (
	"fmt"
	"math"
	"testing"

	"hotclimb/sim/fluid"
)

// TestLouveredFactors: louvered_fin_jf_checks.csv (Chang & Wang 1997; Chang et
// al. 2000 with the 2006 blend; computed).
func TestLouveredFactors(t *testing.T) {
	for _, r := range table(t, "louvered_fin_jf_checks") {
		fin, re := louvered(t, r["geometry"]), r.number(t, "re_lp")
		what := fmt.Sprintf("%s at Re %g", r["geometry"], re)
		near(t, "j of "+what, fin.Colburn(re), r.number(t, "j"), 6e-9) // listed to eight places
		near(t, "f of "+what, fin.Fanning(re), r.number(t, "f"), 6e-9)
	}
}

// TestLouveredCore: louvered_fin_core_checks.csv, air at 45 °C and 101 325 Pa
// (same sources; the drop by the Kays & London equation).
func TestLouveredCore(t *testing.T) {
	rho, mu := fluid.AirDensity(101325, 45), fluid.AirViscosity(45)
	for _, r := range table(t, "louvered_fin_core_checks") {
		fin, v := louvered(t, r["geometry"]), r.number(t, "v_face")
		flow := rho * v
		what := fmt.Sprintf("%s at %g m/s", r["geometry"], v)
		h, eta := fin.surface(flow, 45)
		dp, _ := fin.Friction(flow, rho, mu)
		nearRel(t, "Re of "+what, fin.Reynolds(flow, mu), r.number(t, "re_lp"), 3e-5)
		nearRel(t, "h of "+what, h, r.number(t, "h"), 3e-6)
		nearRel(t, "η of "+what, eta, r.number(t, "eta_o"), 1e-6)
		nearRel(t, "UA of "+what, fin.At(flow, 45), r.number(t, "ua_per_frontal"), 3e-6)
		nearRel(t, "Δp of "+what, dp, r.number(t, "dp"), 3e-6)
	}
}

// TestLocalExponents: between 4 and 12 m/s UA ∝ V^0.45–0.47 and Δp ∝
// V^1.52–1.55 for both geometries (computed).
func TestLocalExponents(t *testing.T) {
	rho, mu := fluid.AirDensity(101325, 45), fluid.AirViscosity(45)
	for _, name := range []string{"A", "B"} {
		fin := louvered(t, name)
		exponent := func(f func(flow float64) float64) float64 {
			return math.Log(f(12*rho)/f(4*rho)) / math.Log(3)
		}
		ua := exponent(func(flow float64) float64 { return fin.At(flow, 45) })
		dp := exponent(func(flow float64) float64 { p, _ := fin.Friction(flow, rho, mu); return p })
		if ua < 0.445 || ua > 0.475 || dp < 1.515 || dp > 1.555 {
			t.Errorf("%s: UA ∝ V^%.3f, Δp ∝ V^%.3f", name, ua, dp)
		}
	}
}

// TestFrictionContinuous: the 2006 blend removes the jump, f is continuous at
// Re 130 and 230; the laminar continuation is tangent to it. So is Δp over the
// whole range.
func TestFrictionContinuous(t *testing.T) {
	for _, name := range []string{"A", "B"} {
		law := &louvered(t, name).friction
		for _, re := range []float64{law.join, 130, 230} {
			below, eBelow := law.at(re * (1 - 1e-13))
			above, eAbove := law.at(re * (1 + 1e-13))
			nearRel(t, fmt.Sprintf("%s: f at Re %g", name, re), above, below, 1e-9)
			if re == law.join {
				near(t, name+": exponent at the join", eAbove, eBelow, 1e-9)
			}
		}
		low, _ := law.lowForm(130)
		nearRel(t, name+": blend starts at the low form", louvered(t, name).Fanning(130), low, 1e-12)
		high, _ := law.highForm(230)
		nearRel(t, name+": blend ends at the high form", louvered(t, name).Fanning(230-1e-9), high, 1e-9)
	}
}

// TestOffsetStripTable: offset_strip_checks.csv (Manglik & Bergles 1995;
// computed, listed to five significant places).
func TestOffsetStripTable(t *testing.T) {
	for _, r := range table(t, "offset_strip_checks") {
		g := strip()
		g.Spacing, g.Height = r.number(t, "s")/1e3, r.number(t, "h")/1e3
		g.Thickness, g.Strip = r.number(t, "t")/1e3, r.number(t, "l")/1e3
		o, re := must[*OffsetStrip](t)(NewOffsetStrip(g, nil)), r.number(t, "re")
		what := fmt.Sprintf("%s at Re %g", r["surface"], re)
		near(t, "Dh of "+what, o.HydraulicDiameter()*1e3, r.number(t, "dh"), 6e-6)
		near(t, "j of "+what, o.Colburn(re), r.number(t, "j"), 6e-7)
		near(t, "f of "+what, o.Fanning(re), r.number(t, "f"), 6e-7)
	}
}

// TestOffsetStripDiameter: Kays & London tabulate 2.383 mm for 1/8-15.61 (from
// memory).
func TestOffsetStripDiameter(t *testing.T) {
	o := must[*OffsetStrip](t)(NewOffsetStrip(strip(), nil))
	nearRel(t, "Dh", o.HydraulicDiameter(), 2.383e-3, 1e-3)
	near(t, "free area", o.FreeArea(), 0.03, 0)
}

// TestOffsetStripSide works hA of the strip out by hand, for air and for oil:
// j at Re = G·Dh/μ, h = j·G·cp·Pr^{−2/3}, fins of half the plate distance.
func TestOffsetStripSide(t *testing.T) {
	oil := fluid.OilTableA5()
	for _, c := range []struct {
		liquid                *fluid.Liquid
		flow, mu, cp, pr, tAt float64
	}{
		{nil, 0.3, fluid.AirViscosity(50), 1006, fluid.AirPrandtl(50), 50},
		{oil, 2.0, oil.Viscosity(90), oil.HeatCapacity(90), oil.Prandtl(90), 90},
	} {
		o := must[*OffsetStrip](t)(NewOffsetStrip(strip(), c.liquid))
		gFlux := c.flow / 0.03
		h := o.Colburn(gFlux*2.38278e-3/c.mu) * gFlux * c.cp * math.Pow(c.pr, -2.0/3)
		mL := math.Sqrt(2*h/(180*0.102e-3)*(1+0.102/3.175)) * 6.248e-3 / 2
		area := 4 * 0.05 / 2.38278e-3 * 0.03
		fins := 1 - 2*1.52516*3.175/(2*(1.52516*3.175+6.248*3.175+0.102*6.248)+0.102*1.52516)
		nearRel(t, "hA", o.At(c.flow, c.tAt), area*h*(1-fins*(1-math.Tanh(mL)/mL)), 1e-5)
	}
}

// TestGnielinski: the first from the documentation of a public library (C.
// Bell, ht); the others computed with the Petukhov friction factor.
func TestGnielinski(t *testing.T) {
	near(t, "(1e5, 1.2, 0.0185)", Gnielinski(1e5, 1.2, 0.0185), 254.62682749, 5e-9)
	for _, c := range []struct{ re, pr, nu float64 }{{4000, 7, 31.708}, {5000, 6, 38.222}, {1e4, 6, 74.982}} {
		near(t, fmt.Sprintf("(%g, %g)", c.re, c.pr), Gnielinski(c.re, c.pr, Petukhov(c.re)), c.nu, 5e-4)
		near(t, fmt.Sprintf("Nusselt(%g, %g)", c.re, c.pr), Nusselt(c.re, c.pr, 0.01, 3.66), c.nu, 5e-4)
	}
}

// TestHausen: the first from the documentation of a public library (C. Bell,
// ht); oil computed.
func TestHausen(t *testing.T) {
	near(t, "(1e5, 1.1, L/D 10)", Hausen(1e5*1.1*0.5/5, 3.66), 39.01352358988535, 1e-13)
	near(t, "oil, L/D 100", Nusselt(100, 200, 1.0/100, 3.66), 9.3019, 5e-5)
	near(t, "oil, L/D 500", Nusselt(100, 200, 1.0/500, 3.66), 5.4804, 5e-5)
	near(t, "developed", Nusselt(0, 200, 1.0/500, 3.66), 3.66, 0)
	near(t, "negative Re", Nusselt(-5, 200, 1.0/500, 3.66), 3.66, 0)
}

// TestTransition: Nu is continuous and rises from Re 2300 to 4000, straight
// between.
func TestTransition(t *testing.T) {
	nu := func(re float64) float64 { return Nusselt(re, 8, 0.01, 3.66) }
	near(t, "at 2300", nu(2300+1e-9), nu(2300), 1e-9)
	near(t, "at 4000", nu(4000-1e-9), nu(4000), 1e-9)
	near(t, "half way", nu(3150), (nu(2300)+nu(4000))/2, 1e-12)
}

// TestRectangularDucts: Nu_H at 0.7 from the documentation of a public library
// (C. Bell, ht); the rest computed. a = 0 is the pair of plates of Shah & London.
func TestRectangularDucts(t *testing.T) {
	near(t, "Nu_H(0.7)", NusseltFlux(0.7), 3.751762675455, 1e-12)
	for _, c := range []struct{ a, flux, wall, fRe float64 }{
		{0.125, 6.4922, 5.5958, 20.590}, {1, 3.6102, 2.9787, 14.230}, {0, 8.235, 7.541, 24},
	} {
		near(t, fmt.Sprintf("Nu_H(%g)", c.a), NusseltFlux(c.a), c.flux, 5.1e-5)
		near(t, fmt.Sprintf("Nu_T(%g)", c.a), NusseltWall(c.a), c.wall, 5.1e-5)
		near(t, fmt.Sprintf("f·Re(%g)", c.a), FrictionReynolds(c.a), c.fRe, 5.1e-4)
	}
}

// TestTube: laminar oil by hand: hA = Nu·k/D·A, with the Nu of Hausen.
func TestTube(t *testing.T) {
	oil := must[*fluid.Liquid](t)(fluid.Constant("oil", fluid.Properties{
		Density: 850, HeatCapacity: 2000, Conductivity: 0.14, Viscosity: 0.014, // Pr 200
	}))
	g := TubeGeometry{Diameter: 0.01, Length: 1, FlowArea: 1e-3, WettedArea: 0.4}
	u := must[*Tube](t)(NewTube(g, oil))
	near(t, "Re", u.Reynolds(0.14, 90), 100, 1e-12)
	near(t, "hA", u.At(0.14, 90), 9.3019*0.14/0.01*0.4, 3e-4)
	near(t, "no flow", u.At(0, 90), 0, 0)
	near(t, "conduction limit", u.At(1e-12, 90), 3.66*0.14/0.01*0.4, 1e-6)
	g.Developed = 7.541
	near(t, "between plates", must[*Tube](t)(NewTube(g, oil)).At(1e-12, 90), 7.541*0.14/0.01*0.4, 1e-6)
}

// TestPower: the rated value, the power, the floor.
func TestPower(t *testing.T) {
	p := Power{UA: 800, Flow: 0.5, Exponent: 0.8, Floor: 0.1}
	near(t, "rated", p.At(0.5, 20), 800, 1e-12)
	near(t, "double", p.At(1, 20), 800*math.Pow(2, 0.8), 1e-9)
	near(t, "floor", p.At(0.001, 20), 80, 1e-12)
	near(t, "at rest", p.At(0, 20), 80, 0)
	near(t, "reversed", Power{UA: 800, Flow: 0.5, Exponent: 0.5}.At(-1, 20), 0, 0)
	near(t, "square root", Power{UA: 800, Flow: 0.5, Exponent: 0.5}.At(2, 20), 1600, 1e-12)
}

// TestSidesFinite: no conductance gives NaN, Inf or a negative number from rest
// to five times the usual flow and from −40 to 150 °C.
func TestSidesFinite(t *testing.T) {
	oil := must[*fluid.Liquid](t)(fluid.EngineOil("15w_50"))
	tube := TubeGeometry{Diameter: 2.5e-3, Length: 0.3, FlowArea: 1e-3, WettedArea: 0.5}
	sides := map[string]Conductance{
		"louvered": louvered(t, "A"),
		"strip":    must[*OffsetStrip](t)(NewOffsetStrip(strip(), nil)),
		"oil":      must[*OffsetStrip](t)(NewOffsetStrip(strip(), oil)),
		"tube":     must[*Tube](t)(NewTube(tube, coolant(t))),
		"oil tube": must[*Tube](t)(NewTube(tube, oil)),
		"power":    Power{UA: 700, Flow: 0.6, Exponent: 0.5},
	}
	for name, side := range sides {
		for _, flow := range []float64{0, 1e-300, 1e-12, 1e-6, 0.01, 0.6, 3} {
			for temp := -40.0; temp <= 150; temp += 10 {
				hA := side.At(flow, temp)
				if !(hA >= 0) || math.IsInf(hA, 0) || (flow == 0 && hA != 0) {
					t.Fatalf("%s: hA %g at %g kg/s, %g °C", name, hA, flow, temp)
				}
			}
		}
	}
}

// TestBadGeometry: sizes without meaning are refused.
func TestBadGeometry(t *testing.T) {
	louvers := map[string]func(*LouverGeometry){
		"zero pitch": func(g *LouverGeometry) { g.LouverPitch = 0 }, "NaN": func(g *LouverGeometry) { g.FinDepth = math.NaN() },
		"thick fin": func(g *LouverGeometry) { g.FinThickness = 2e-3 }, "thin fin": func(g *LouverGeometry) { g.FinThickness = 1e-5 },
		"thick tube": func(g *LouverGeometry) { g.TubeThickness = 11e-3 }, "steep": func(g *LouverGeometry) { g.LouverAngle = 2 },
	}
	for name, spoil := range louvers {
		g := geometryA()
		spoil(&g)
		if _, err := NewLouveredFin(g); err == nil {
			t.Errorf("louvered fin with %s is accepted", name)
		}
	}
	g := strip()
	g.FaceArea = g.FreeArea
	if _, err := NewOffsetStrip(g, nil); err == nil {
		t.Error("an offset strip without walls is accepted")
	}
	if _, err := NewOffsetStrip(StripGeometry{}, nil); err == nil {
		t.Error("an empty strip is accepted")
	}
	if _, err := NewTube(TubeGeometry{}, coolant(t)); err == nil {
		t.Error("an empty tube is accepted")
	}
	if _, err := NewTube(TubeGeometry{Diameter: 1, Length: 1, FlowArea: 1, WettedArea: 1}, nil); err == nil {
		t.Error("a tube without liquid is accepted")
	}
}
