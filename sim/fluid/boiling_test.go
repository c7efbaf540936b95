package fluid

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// boils returns the boiling point and fails the test if there is none.
func boils(t *testing.T, l *Liquid, p float64) float64 {
	t.Helper()
	T, ok := l.BoilingPoint(p)
	if !ok {
		t.Fatalf("%s does not boil at %g Pa", l.Name(), p)
	}
	return T
}

// TestBoilingPoints: the table was computed with IAPWS-IF97 water, this package
// takes the ASHRAE line: 0.02 K.
func TestBoilingPoints(t *testing.T) {
	liquids := map[string]*Liquid{
		"water": Water(),
		"eg30":  must(t)(EthyleneGlycol(0.3)),
		"eg40":  must(t)(EthyleneGlycol(0.4)),
		"eg50":  must(t)(EthyleneGlycol(0.5)),
	}
	for _, r := range table(t, "boiling_points.csv") {
		p := r.number(t, "p_amb_pa") + 1e5*r.number(t, "cap_bar")
		for column, l := range liquids {
			near(t, fmt.Sprintf("%s at %.0f Pa", l.Name(), p), boils(t, l, p), r.number(t, column), 0.02)
		}
	}
}

func TestBoilingSpots(t *testing.T) {
	half, err := MassFractionOfVolume(KindEthyleneGlycol, 0.5)
	if err != nil {
		t.Fatal(err)
	}
	eg, pg := EthyleneGlycol, PropyleneGlycol
	for _, c := range []struct {
		l                  *Liquid
		p, want, tolerance float64
		source             string
	}{
		{Water(), 101325, 100.0, 0.1, "IAPWS-IF97"},
		{Water(), 101325 + 0.9e5, 118.8, 0.1, "IAPWS-IF97"},
		{must(t)(eg(0.5)), 101325, 107.2, 1, "supplier data"},
		{must(t)(eg(0.6)), 101325, 111, 1, "supplier data"},
		{must(t)(eg(half)), 101325, 108, 1, "ASTM D3306, at least 108 (from memory)"},
		{must(t)(eg(half)), 1.2e5, 112.8, 0.06, "computed"},
		{must(t)(eg(half)), 101325 + 1.2e5, 132.4, 0.06, "computed"},
		{must(t)(eg(half)), 1.51e5, 120, 0.2, "computed"},
		{must(t)(pg(0.3)), 101325, 102.6, 0.06, "computed"},
		{must(t)(pg(0.4)), 101325, 104.0, 0.06, "computed"},
		{must(t)(pg(0.5)), 101325, 105.8, 0.06, "computed"},
		{must(t)(pg(0.6)), 101325, 108.4, 0.06, "computed"},
	} {
		near(t, fmt.Sprintf("%s at %.0f Pa (%s)", c.l.Name(), c.p, c.source), boils(t, c.l, c.p), c.want, c.tolerance)
	}
}

// TestGlycolVapour: the lines pass through the points they are drawn from.
func TestGlycolVapour(t *testing.T) {
	for _, c := range []struct {
		g                    glycolData
		kelvin, p, tolerance float64
	}{
		{ethylene(), 373.15, 2133, 1e-12},   // coolant data sheet
		{ethylene(), 470.4, 101325, 1e-3},   // Thermopedia, normal boiling point
		{propylene(), 461.35, 101325, 1e-3}, // normal boiling point, from memory
		{propylene(), 293.15, 17.3, 1e-3},   // at 20 °C, from memory
	} {
		v := c.g.vapour
		nearRel(t, c.g.name, v.p0*math.Exp(-v.b*(1/c.kelvin-1/v.t0)), c.p, c.tolerance)
	}
}

// TestBoilingIsRoot: at the boiling point the vapour pressure of the mixture is
// the pressure asked for; it rises with pressure and with glycol.
func TestBoilingIsRoot(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		build := rapid.SampledFrom([]func(float64) (*Liquid, error){EthyleneGlycol, PropyleneGlycol}).Draw(rt, "build")
		x := rapid.Float64Range(0, 0.58).Draw(rt, "x")
		p := rapid.Float64Range(5e3, 6e5).Draw(rt, "p")
		l, err := build(x)
		if err != nil {
			rt.Fatal(err)
		}
		richer, err := build(x + 0.02)
		if err != nil {
			rt.Fatal(err)
		}
		T, _ := l.BoilingPoint(p)
		lnP, _ := l.logVapour(T + zeroCelsius)
		if !(math.Abs(math.Exp(lnP)/p-1) < 1e-9) {
			rt.Errorf("vapour pressure %g Pa at the boiling point for %g Pa", math.Exp(lnP), p)
		}
		if higher, _ := l.BoilingPoint(1.01 * p); !(higher > T) {
			rt.Errorf("boils at %g °C, at 1 %% more pressure at %g °C", T, higher)
		}
		if higher, _ := richer.BoilingPoint(p); !(higher > T) {
			rt.Errorf("boils at %g °C, with more glycol at %g °C", T, higher)
		}
	})
}

func TestBoilingLimits(t *testing.T) {
	w := Water()
	for _, p := range []float64{math.Inf(-1), -1e5, 0, 1, 600} {
		near(t, fmt.Sprintf("boiling at %g Pa", p), boils(t, w, p), 0, 0)
	}
	for _, p := range []float64{1.6e6, 1e9, math.Inf(1)} {
		near(t, fmt.Sprintf("boiling at %g Pa", p), boils(t, w, p), 200, 0)
	}
	if _, ok := w.BoilingPoint(math.NaN()); ok {
		t.Error("water boils at an undefined pressure")
	}
	if _, ok := OilTableA5().BoilingPoint(101325); ok {
		t.Error("oil has a boiling point")
	}
}
