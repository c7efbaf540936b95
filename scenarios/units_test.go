package scenarios

import (
	"math"
	"testing"
)

// film has no field in a scenario; it shows that compounds of any shape work.
var film = &Dimension{Name: "heat transfer coefficient", SI: "W/m^2/K", Accepts: []string{"W/m^2/K"}, powers: ofFilm}

// TestUnitFactors checks one of each unit against the factors of A. Thompson
// and B. N. Taylor, Guide for the Use of the International System of Units,
// NIST Special Publication 811, 2008, appendix B.8, quoted from memory. The
// guide prints seven digits; factors that it prints in bold are exact.
func TestUnitFactors(t *testing.T) {
	const printed, exact = 5e-7, 4e-16
	for _, c := range []struct {
		unit      string
		d         *Dimension
		want      float64
		tolerance float64
	}{
		{"in", length, 2.54e-2, exact},
		{"ft", length, 3.048e-1, exact},
		{"yd", length, 9.144e-1, exact},
		{"mi", length, 1.609344e3, exact},
		{"nmi", length, 1.852e3, exact},
		{"mil", length, 2.54e-5, exact},
		{"in^2", area, 6.4516e-4, exact},
		{"ft^2", area, 9.290304e-2, exact},
		{"in^3", volume, 1.638706e-5, printed},
		{"ft^3", volume, 2.831685e-2, printed},
		{"gal", volume, 3.785412e-3, printed},
		{"qt", volume, 9.463529e-4, printed},
		{"pt", volume, 4.731765e-4, printed},
		{"floz", volume, 2.957353e-5, printed},
		{"impgal", volume, 4.54609e-3, exact},
		{"lb", mass, 4.535924e-1, printed},
		{"oz", mass, 2.834952e-2, printed},
		{"slug", mass, 1.459390e1, printed},
		{"mph", speed, 4.4704e-1, exact},
		{"km/h", speed, 2.777778e-1, printed},
		{"kt", speed, 5.144444e-1, printed},
		{"ft/min", climbRate, 5.08e-3, exact},
		{"fpm", climbRate, 5.08e-3, exact},
		{"lb/s", massFlow, 4.535924e-1, printed},
		{"lb/min", massFlow, 7.559873e-3, printed},
		{"gal/min", volumeFlow, 6.309020e-5, printed},
		{"gpm", volumeFlow, 6.309020e-5, printed},
		{"ft^3/min", volumeFlow, 4.719474e-4, printed},
		{"cfm", volumeFlow, 4.719474e-4, printed},
		{"atm", pressure, 1.01325e5, exact},
		{"psi", pressure, 6.894757e3, printed},
		{"psf", pressure, 4.788026e1, printed},
		{"lbf/ft^2", pressure, 4.788026e1, printed},
		{"inHg", pressure, 3.386389e3, printed},
		{"inH2O", pressure, 2.490889e2, printed},
		{"mmHg", pressure, 1.333224e2, printed},
		{"mmH2O", pressure, 9.80665, exact},
		{"hp", power, 7.456999e2, printed},
		{"PS", power, 7.354988e2, printed},
		{"BTU/h", power, 2.930711e-1, printed},
		{"ft*lbf/s", power, 1.355818, printed},
		{"deg", angle, 1.745329e-2, printed},
		{"rpm", rotation, 1.047198e-1, printed},
		{"rev/min", rotation, 1.047198e-1, printed},
		{"ddegF", difference, 5.555556e-1, printed},
		{"lb/ft^3", density, 1.601846e1, printed},
		{"cP", viscosity, 1e-3, exact},
		{"lb/ft/s", viscosity, 1.488164, printed},
		{"BTU/ddegF", heatCapacity, 1.899101e3, printed},
		{"BTU/h/ft^2/ddegF", film, 5.678263, printed},
		{"BTU/h/ft/ddegF", conductivity, 1.730735, printed},
		{"BTU/lb", massEnergy, 2.326e3, exact},
		{"BTU/lb/ddegF", specificHeat, 4.1868e3, 1e-15},
		{"lb/hp/h", fuelRate, 1.689659e-7, printed},
		{"g/kWh", fuelRate, 1 / 3.6e9, exact}, // 1 kWh = 3.6e6 J, exact
		{"g/kW/h", fuelRate, 1 / 3.6e9, exact},
	} {
		n, err := Parse("1 "+c.unit, c.d)
		if err != nil {
			t.Errorf("%v", err)
			continue
		}
		if off := math.Abs(n.Value/c.want - 1); off > c.tolerance {
			t.Errorf("1 %s is %.16g %s, want %.16g: off by %.2g", c.unit, n.Value, c.d.SI, c.want, off)
		}
	}
}

// TestThermometers checks readings at fixed points: t(°C) = (t(°F) - 32)/1.8
// and T(K) = t(°C) + 273.15, SP 811 appendix B.8; degR is 1.8 T(K).
func TestThermometers(t *testing.T) {
	for _, c := range []struct {
		text string
		want float64 // °C
	}{
		{"32 degF", 0},
		{"212 °F", 100},
		{"95 degF", 35},
		{"100°F", 68 / 1.8},
		{"-40 degF", -40},
		{"−40 °C", -40},
		{"273.15 K", 0},
		{"0 K", -273.15},
		{"671.67 degR", 100},
	} {
		n, err := Parse(c.text, temperature)
		if err != nil {
			t.Errorf("%v", err)
			continue
		}
		if off := math.Abs(n.Value - c.want); off > 1e-13 {
			t.Errorf("%s is %.16g °C, want %.16g", c.text, n.Value, c.want)
		}
	}
}

// TestNamesOfKinds checks that a display unit, the SI unit and every unit that
// error texts offer really fit their kind.
func TestNamesOfKinds(t *testing.T) {
	for _, d := range dimensions {
		for _, name := range append([]string{d.SI, d.US, d.Metric}, d.Accepts...) {
			if d == ratio && (name == "" || name == "a bare number") {
				continue
			}
			if _, err := Parse("3 "+name, d); err != nil {
				t.Errorf("%v", err)
			}
		}
		one, err := Convert(1, "", d)
		if err != nil || one != 1 {
			t.Errorf("1 %s of %s converts to %g of its SI unit: %v", d.SI, d.Name, one, err)
		}
	}
}
