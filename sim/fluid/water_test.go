package fluid

import (
	"fmt"
	"testing"
)

// TestWater: saturated water of IAPWS-IF97; the tolerances are the errors the
// documentation states.
func TestWater(t *testing.T) {
	l := Water()
	for _, r := range table(t, "saturated_water_if97.csv") {
		T := r.number(t, "t_c")
		name := fmt.Sprintf("%g °C: ", T)
		nearRel(t, name+"density", l.Density(T), r.number(t, "rho_l"), 2e-5)
		nearRel(t, name+"heat capacity", l.HeatCapacity(T), r.number(t, "cp_l"), 2.2e-4)
		nearRel(t, name+"conductivity", l.Conductivity(T), r.number(t, "k_l"), 1.9e-4)
		nearRel(t, name+"viscosity", l.Viscosity(T), r.number(t, "mu_l"), 1.01e-3)
		nearRel(t, name+"Prandtl", l.Prandtl(T), r.number(t, "pr_l"), 1.4e-3)
		nearRel(t, name+"vapour pressure", SaturationPressure(T), 1e3*r.number(t, "p_sat_kpa"), 1e-3)
	}
}

// TestEvaporation: heat of evaporation with the constants of moist air against
// IAPWS-IF97, 2308.1 kJ/kg at 80 °C.
func TestEvaporation(t *testing.T) {
	nearRel(t, "at 80 °C", VapourEnthalpy(80)-WaterHeatCapacity*80, 2308.1e3, 0.0035)
	for _, r := range table(t, "saturated_water_if97.csv") {
		if T := r.number(t, "t_c"); T <= 100 {
			got := VapourEnthalpy(T) - WaterHeatCapacity*T
			nearRel(t, fmt.Sprintf("at %g °C", T), got, 1e3*r.number(t, "h_fg"), 0.0053)
		}
	}
}
