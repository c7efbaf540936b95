package fluid

import (
	"fmt"
	"testing"
)

// TestAir: computed from the formulas of the U.S. Standard Atmosphere 1976.
func TestAir(t *testing.T) {
	near(t, "density", AirDensity(101325, 15), 1.2250, 5e-5)
	for _, c := range []struct{ kelvin, mu, k, tolMu, tolK float64 }{
		{288.15, 1.7894e-5, 0.025326, 5e-10, 5e-7},
		{300, 1.846e-5, 0.026252, 5e-9, 5e-7},
		{350, 2.0736e-5, 0.030043, 5e-10, 5e-7},
		{400, 2.2853e-5, 0.033657, 5e-10, 5e-7},
	} {
		T := c.kelvin - 273.15
		near(t, fmt.Sprintf("viscosity at %g K", c.kelvin), AirViscosity(T), c.mu, c.tolMu)
		near(t, fmt.Sprintf("conductivity at %g K", c.kelvin), AirConductivity(T), c.k, c.tolK)
		nearRel(t, "Prandtl", AirPrandtl(T), 1006*c.mu/c.k, 3e-4)
	}
}
