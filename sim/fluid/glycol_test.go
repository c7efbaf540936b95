package fluid

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestGlycolTable compares the coefficients in the code with the published ones,
// cell by cell.
func TestGlycolTable(t *testing.T) {
	for name, terms := range map[string][]glycolTerm{
		"melinder_ethylene_glycol.csv":  ethyleneTerms[:],
		"melinder_propylene_glycol.csv": propyleneTerms[:],
	} {
		rows := table(t, name)
		if len(rows) != len(terms) {
			t.Fatalf("%s: %d terms in the code, %d in the table", name, len(terms), len(rows))
		}
		for n, r := range rows {
			got := terms[n]
			for column, value := range map[string]float64{
				"i": float64(got.i), "j": float64(got.j),
				"t_freeze_c": got.freezing, "rho": got.density, "cp": got.capacity,
				"k": got.conductivity, "ln_mu_mpas": got.lnViscosity,
			} {
				if want := r.number(t, column); value != want {
					t.Errorf("%s, row %d, %s: %g in the code, %g in the table", name, n, column, value, want)
				}
			}
		}
	}
}

// TestGlycolChecks: computed from the polynomials of Melinder 2010 apart from
// this program; the tolerances are half the last digit given.
func TestGlycolChecks(t *testing.T) {
	build := map[string]func(float64) (*Liquid, error){"EG": EthyleneGlycol, "PG": PropyleneGlycol}
	for _, r := range table(t, "glycol_checks.csv") {
		l := must(t)(build[r["fluid"]](r.number(t, "x_mass_pct") / 100))
		T := r.number(t, "t_c")
		name := fmt.Sprintf("%s at %g °C: ", l.Name(), T)
		freezing, ok := l.FreezingPoint()
		if !ok {
			t.Errorf("%s has no freezing point", l.Name())
		}
		near(t, name+"freezing", freezing, r.number(t, "t_freeze_c"), 0.51e-4)
		near(t, name+"density", l.Density(T), r.number(t, "rho"), 0.51e-4)
		near(t, name+"heat capacity", l.HeatCapacity(T), r.number(t, "cp"), 0.51e-4)
		near(t, name+"conductivity", l.Conductivity(T), r.number(t, "k"), 0.51e-7)
		near(t, name+"viscosity", 1e3*l.Viscosity(T), r.number(t, "mu_mpas"), 0.51e-7)
		near(t, name+"Prandtl", l.Prandtl(T), r.number(t, "pr"), 0.51e-5)
	}
}

// TestGlycolFreezing: freezing points by volume of glycol (supplier data) 10 to
// 50 %; the polynomials lie up to 3 K colder.
func TestGlycolFreezing(t *testing.T) {
	for volume, want := range map[float64]float64{0.1: -3, 0.2: -8, 0.3: -16, 0.4: -25, 0.5: -37} {
		x, err := MassFractionOfVolume(KindEthyleneGlycol, volume)
		if err != nil {
			t.Fatal(err)
		}
		got, _ := must(t)(EthyleneGlycol(x)).FreezingPoint()
		near(t, fmt.Sprintf("freezing at %g by volume", volume), got, want, 3.5)
	}
	x, _ := MassFractionOfVolume(KindEthyleneGlycol, 0.5)
	got, _ := must(t)(EthyleneGlycol(x)).FreezingPoint()
	near(t, "polynomial at 50 % by volume", got, -39.8, 0.05) // computed
}

func TestMassFractionOfVolume(t *testing.T) {
	x, err := MassFractionOfVolume(KindEthyleneGlycol, 0.5)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "ethylene glycol, half by volume", x, 0.527, 5e-4) // densities 1113, 998.2 at 20 °C
	for _, kind := range []string{KindEthyleneGlycol, KindPropyleneGlycol} {
		for _, v := range []float64{0, 1} {
			if x, err := MassFractionOfVolume(kind, v); err != nil || x != v {
				t.Errorf("%s: %g by volume = %g by mass, %v", kind, v, x, err)
			}
		}
	}
	for _, c := range []struct {
		kind string
		v    float64
	}{{"glycerol", 0.5}, {KindEthyleneGlycol, -0.1}, {KindEthyleneGlycol, 50}, {KindPropyleneGlycol, math.NaN()}} {
		if _, err := MassFractionOfVolume(c.kind, c.v); err == nil {
			t.Errorf("MassFractionOfVolume(%q, %g) gives no error", c.kind, c.v)
		}
	}
}

func TestGlycolRefusesShare(t *testing.T) {
	for _, x := range []float64{-0.01, 0.601, 50, math.NaN(), math.Inf(1)} {
		if _, err := EthyleneGlycol(x); err == nil {
			t.Errorf("EthyleneGlycol(%g) gives no error", x)
		}
		if _, err := PropyleneGlycol(x); err == nil {
			t.Errorf("PropyleneGlycol(%g) gives no error", x)
		}
	}
}

// TestGlycolNone: without glycol both mixtures come near water, by another
// source (IAPWS-IF97): an end the polynomials were not made for.
func TestGlycolNone(t *testing.T) {
	water := Water()
	for _, build := range []func(float64) (*Liquid, error){EthyleneGlycol, PropyleneGlycol} {
		l := must(t)(build(0))
		for _, T := range []float64{20, 60, 100} {
			nearRel(t, l.Name()+" density", l.Density(T), water.Density(T), 0.001)
			nearRel(t, l.Name()+" heat capacity", l.HeatCapacity(T), water.HeatCapacity(T), 0.001)
			nearRel(t, l.Name()+" conductivity", l.Conductivity(T), water.Conductivity(T), 0.005)
			nearRel(t, l.Name()+" viscosity", l.Viscosity(T), water.Viscosity(T), 0.02)
		}
	}
}

// TestGlycolBeyondData: above 100 °C viscosity continues without a step or kink,
// keeps falling, and stays above that of water.
func TestGlycolBeyondData(t *testing.T) {
	water := Water()
	rapid.Check(t, func(rt *rapid.T) {
		build := rapid.SampledFrom([]func(float64) (*Liquid, error){EthyleneGlycol, PropyleneGlycol}).Draw(rt, "build")
		l, err := build(rapid.Float64Range(0.1, 0.6).Draw(rt, "x"))
		if err != nil {
			rt.Fatal(err)
		}
		const h = 0.01
		below := math.Log(l.Viscosity(100) / l.Viscosity(100-h))
		above := math.Log(l.Viscosity(100+h) / l.Viscosity(100))
		if !(math.Abs(above-below) < 1e-6) {
			rt.Errorf("slope of ln µ: %g below, %g above 100 °C", below/h, above/h)
		}
		T := rapid.Float64Range(0, 149).Draw(rt, "t")
		if !(l.Viscosity(T+1) < l.Viscosity(T)) {
			rt.Errorf("viscosity rises at %g °C", T)
		}
		if !(l.Viscosity(T) > water.Viscosity(T)) {
			rt.Errorf("viscosity %g at %g °C, water %g", l.Viscosity(T), T, water.Viscosity(T))
		}
	})
}
