package fluid

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// TestOilTableA5: F. P. Incropera & D. P. DeWitt, table A.5. Viscosity is the
// table itself; the lines of the others miss it by what EngineOil says, and Prandtl
// by the sum of heat capacity and conductivity.
func TestOilTableA5(t *testing.T) {
	l := OilTableA5()
	for _, r := range table(t, "engine_oil_incropera_a5.csv") {
		T := r.number(t, "t_k") - 273.15
		name := fmt.Sprintf("%.0f K: ", r.number(t, "t_k"))
		nearRel(t, name+"density", l.Density(T), r.number(t, "rho"), 0.00062)
		nearRel(t, name+"heat capacity", l.HeatCapacity(T), 1e3*r.number(t, "cp_kj"), 0.002)
		nearRel(t, name+"conductivity", l.Conductivity(T), r.number(t, "k"), 0.015)
		nearRel(t, name+"viscosity", l.Viscosity(T), r.number(t, "mu_pas"), 1e-12)
		nearRel(t, name+"Prandtl", l.Prandtl(T), r.number(t, "pr_computed"), 0.017)
		if r["pr_table"] != "" {
			nearRel(t, name+"printed Prandtl", l.Prandtl(T), r.number(t, "pr_table"), 0.017)
		}
	}
	// Half way between two rows ln µ is their mean.
	near(t, "viscosity at 355 K", l.Viscosity(355-273.15), math.Sqrt(0.0356*0.0252), 1e-12)
}

// TestOilViscosity: ASTM D341 lines; ν40, ν100 from memory, the rest computed.
// Tolerances are half the last digit given.
func TestOilViscosity(t *testing.T) {
	for _, r := range table(t, "oil_viscosity_d341.csv") {
		grade := strings.ToLower(strings.NewReplacer(" ", "_", "-", "_").Replace(r["oil"]))
		l := must(t)(EngineOil(grade))
		near(t, grade+" A", l.viscosity.a, r.number(t, "A"), 0.51e-4)
		near(t, grade+" B", l.viscosity.b, r.number(t, "B"), 0.51e-4)
		for column, T := range map[string]float64{"nu40": 40, "nu60": 60, "nu80": 80, "nu100": 100, "nu120": 120} {
			nu := 1e6 * l.Viscosity(T) / l.Density(T)
			near(t, grade+" "+column, nu, r.number(t, column), 0.0051)
		}
	}
}

// TestOilBands: ν100 lies in the band of SAE J300 for the grade.
func TestOilBands(t *testing.T) {
	bands := map[string][2]float64{"30": {9.3, 12.5}, "40": {12.5, 16.3}, "50": {16.3, 21.9}}
	for _, grade := range OilGrades() {
		l := must(t)(EngineOil(grade))
		nu := 1e6 * l.Viscosity(100) / l.Density(100)
		band := bands[grade[len(grade)-2:]]
		if !(nu >= band[0] && nu < band[1]) {
			t.Errorf("%s: %g mm²/s at 100 °C, outside %v", grade, nu, band)
		}
	}
}

func TestEngineOilNames(t *testing.T) {
	if n := len(OilGrades()); n != 5 {
		t.Errorf("%d grades, want 5", n)
	}
	_, err := EngineOil("10w_30")
	if err == nil || !strings.Contains(err.Error(), "20w_50") {
		t.Errorf("unknown grade: %v, want an error naming the known ones", err)
	}
	if _, ok := must(t)(EngineOil("sae_30")).FreezingPoint(); ok {
		t.Error("oil has a freezing point")
	}
}
