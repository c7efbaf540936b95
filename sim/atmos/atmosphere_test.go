package atmos

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestStandardAtmosphere: U.S. Standard Atmosphere 1976 / ISO 2533, computed
// apart from this program.
func TestStandardAtmosphere(t *testing.T) {
	for _, r := range table(t, "standard_atmosphere.csv") {
		s := Standard().At(r["alt_m"])
		name := fmt.Sprintf("%g ft: ", r["alt_ft"])
		near(t, name+"temperature", s.Temperature, r["t_c"], 0.51e-3)
		nearRel(t, name+"pressure", s.Pressure, r["p_pa"], 2e-5)
		nearRel(t, name+"density", s.Density, r["rho"], 2e-5)
		nearRel(t, name+"speed of sound", s.SpeedOfSound, r["a"], 2e-5)
		nearRel(t, name+"viscosity", s.Viscosity, r["mu"], 4e-5)
	}
}

// TestStandardPressures: ASHRAE Handbook – Fundamentals 2017, chapter 1, table 1.
func TestStandardPressures(t *testing.T) {
	near(t, "pressure at 1000 m", StandardPressure(1000), 89875, 1)
	near(t, "pressure at 4000 m", StandardPressure(4000), 61640, 1)
}

// geopotential turns a geometric altitude [m] into the geopotential one, Earth
// radius 6 356 766 m (U.S. Standard Atmosphere 1976).
func geopotential(z float64) float64 {
	const r = 6356766
	return r * z / (r + z)
}

// TestPublishedSpots compares with tables against geometric altitude.
func TestPublishedSpots(t *testing.T) {
	// Mechanical Engineers' Handbook, volume 4, table 6: 3000 m.
	s := Standard().At(geopotential(3000))
	nearRel(t, "temperature, K", s.Temperature+273.15, 268.66, 5e-4)
	nearRel(t, "pressure", s.Pressure, 0.7012e5, 5e-4)
	nearRel(t, "density", s.Density, 0.9093, 5e-4)
	nearRel(t, "speed of sound", s.SpeedOfSound, 328.6, 5e-4)

	// Published standard-atmosphere table in ft, °F and psia.
	for _, c := range []struct{ kft, f, psia float64 }{
		{5, 41.2, 12.230}, {10, 23.4, 10.108}, {15, 5.5, 8.296},
	} {
		s := Standard().At(geopotential(c.kft * 1000 * foot))
		near(t, fmt.Sprintf("temperature at %g kft", c.kft), s.Temperature, celsius(c.f), 0.06)
		nearRel(t, fmt.Sprintf("pressure at %g kft", c.kft), s.Pressure, c.psia*6894.757, 5e-4)
	}
}

// TestUpperLayer: U.S. Standard Atmosphere 1976 (from memory): 226.32 hPa and
// 0.36392 kg/m³ at 11 km, 54.749 hPa and 0.08803 kg/m³ at 20 km, −56.5 °C.
func TestUpperLayer(t *testing.T) {
	for _, c := range []struct{ h, p, rho float64 }{
		{11000, 22632, 0.36392}, {20000, 5474.9, 0.08803},
	} {
		s := Standard().At(c.h)
		nearRel(t, fmt.Sprintf("pressure at %g m", c.h), s.Pressure, c.p, 1e-4)
		nearRel(t, fmt.Sprintf("density at %g m", c.h), s.Density, c.rho, 1e-4)
		near(t, fmt.Sprintf("temperature at %g m", c.h), s.Temperature, -56.5, 1e-9)
	}
}

// TestHydrostatic: on the standard day dp/dh = −ρg.
func TestHydrostatic(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		h := rapid.Float64Range(-490, 19990).Draw(rt, "h")
		if math.Abs(h-tropopause) < 1 {
			return
		}
		slope := (StandardPressure(h+0.5) - StandardPressure(h-0.5)) / 1
		weight := Standard().At(h).Density * gravity
		if !(math.Abs(slope/weight+1) < 1e-6) {
			rt.Errorf("at %g m dp/dh %g, −ρg %g", h, slope, -weight)
		}
	})
}

func TestDensityAltitude(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		h := rapid.Float64Range(-500, 20000).Draw(rt, "h")
		got := DensityAltitude(Standard().At(h).Density)
		// The density of 1.225 is rounded: 0.02 m.
		if !(math.Abs(got-h) < 0.02) {
			rt.Errorf("density altitude %g at %g m", got, h)
		}
	})
	near(t, "no air", DensityAltitude(0), 20000, 0)
	near(t, "dense air", DensityAltitude(50), -5000, 0)
}

// TestFinite: whatever altitude and temperature are asked for, the air stays air.
func TestFinite(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		h := rapid.Float64().Draw(rt, "h")
		dT := rapid.Float64Range(-1000, 1000).Draw(rt, "dT")
		for _, d := range []Day{{}, Standard(), Offset(dT), AtField(h, 20), HotDay(), HotDayCS22()} {
			s := d.At(h)
			for _, v := range []float64{s.Pressure, s.Temperature + 273.15, s.Density,
				s.SpeedOfSound, s.Viscosity, CalibratedToTrue(50, s)} {
				if !(v > 0) || math.IsInf(v, 0) {
					rt.Fatalf("%+v at %g m: %+v", d, h, s)
				}
			}
		}
	})
	low, high := Standard().At(-1e4), Standard().At(1e5)
	if low != Standard().At(-500) || high != Standard().At(20000) {
		t.Errorf("altitudes are not limited: %+v, %+v", low, high)
	}
}
