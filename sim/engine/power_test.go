package engine

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestPowerLapse: Gagg & Farrar 1934, second-hand; σ of the standard atmosphere.
func TestPowerLapse(t *testing.T) {
	for _, r := range []struct{ feet, sigma, lapse float64 }{
		{0, 1, 1},
		{5000, 0.86167, 0.8434},
		{10000, 0.73848, 0.7038},
		{15000, 0.62924, 0.5801},
	} {
		near(t, fmt.Sprintf("Φ at %g ft", r.feet), PowerLapse(r.sigma), r.lapse, 1e-4)
	}
}

// TestPowerLapseForms: the general form (σ − C)/(1 − C) with C = 1/8.55.
func TestPowerLapseForms(t *testing.T) {
	const c = 1 / 8.55
	rapid.Check(t, func(rt *rapid.T) {
		sigma := rapid.Float64Range(-0.5, 1.5).Draw(rt, "σ")
		want := math.Max(0, (sigma-c)/(1-c))
		if got := PowerLapse(sigma); !(math.Abs(got-want) <= 1e-14) {
			rt.Fatalf("Φ = %g, want %g", got, want)
		}
	})
}

// TestCoolingIndex: heat over air flow at constant calibrated airspeed, Φ/√σ,
// at 0, 5, 8, 10 and 15 kft; computed apart from this program.
func TestCoolingIndex(t *testing.T) {
	for _, r := range []struct{ feet, sigma, index float64 }{
		{0, 1, 1},
		{5000, 0.86167, 0.9085},
		{8000, 0.78602, 0.8546},
		{10000, 0.73848, 0.8190},
		{15000, 0.62924, 0.7313},
	} {
		near(t, fmt.Sprintf("Φ/√σ at %g ft", r.feet), PowerLapse(r.sigma)/math.Sqrt(r.sigma), r.index, 1e-4)
	}
}

func TestAvailable(t *testing.T) {
	natural := Engine{RatedPower: 120e3}
	near(t, "unboosted at σ 0.86167", natural.Available(0.86167), 120e3*PowerLapse(0.86167), 0)

	boosted := Engine{RatedPower: 120e3, Boosted: true, CriticalDensity: 0.8}
	near(t, "boosted at sea level", boosted.Available(1), 120e3, 0)
	near(t, "boosted in dense air", boosted.Available(1.2), 120e3, 0)
	near(t, "boosted at the critical altitude", boosted.Available(0.8), 120e3, 0)
	near(t, "boosted just above it", boosted.Available(0.8-1e-9), 120e3, 1e-3)
	// Indicated power 1/(1 − C) of the rated falls to 7/8, friction C/(1 − C)
	// stays; C = 1/8.55.
	near(t, "boosted at σ 0.7", boosted.Available(0.7), 120e3*(0.875*8.55-1)/7.55, 1e-8)
	atField := Engine{RatedPower: 120e3, Boosted: true, CriticalDensity: 1}
	near(t, "critical altitude at sea level", atField.Available(0.7), natural.Available(0.7), 1e-9)
	nowhere := Engine{RatedPower: 120e3, Boosted: true}
	near(t, "no critical altitude", nowhere.Available(0.05), 120e3, 0)
}

// TestAvailableIsMonotone: no NaN, never below 0, growing with density, and
// without a step.
func TestAvailableIsMonotone(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		e := Engine{
			RatedPower:      1,
			Boosted:         rapid.Bool().Draw(rt, "boosted"),
			CriticalDensity: rapid.Float64Range(0.1, 1.1).Draw(rt, "σ_c"),
		}
		sigma := rapid.Float64Range(0, 1.3).Draw(rt, "σ")
		step := rapid.Float64Range(0, 0.1).Draw(rt, "dσ")
		thin, dense := e.Available(sigma), e.Available(sigma+step)
		if !(thin >= 0) || !(dense >= thin) {
			rt.Fatalf("%g at σ %g, %g denser", thin, sigma, dense)
		}
		// The steepest lapse is 8.55/7.55 over σ_c.
		if dense-thin > 8.55/7.55/0.1*step+1e-12 {
			rt.Fatalf("a step of %g within %g", dense-thin, step)
		}
		if e.Boosted && dense > 1 {
			rt.Fatalf("boosted %g above its rating", dense)
		}
	})
}

// TestSpeed: cube law of a propeller.
func TestSpeed(t *testing.T) {
	e := Engine{RatedPower: 80e3, RatedSpeed: 500}
	near(t, "at rated power", e.Speed(80e3, 1), 500, 1e-12)
	near(t, "at an eighth", e.Speed(10e3, 1), 250, 1e-12)
	near(t, "at the power that density leaves", e.Speed(80e3*0.512, 0.512), 500, 1e-12)
	near(t, "in thinner air", e.Speed(10e3, 0.512), 250/0.8, 1e-12)
	near(t, "boosted, in thinner air", e.Speed(80e3, 0.512), 500, 1e-12)
	near(t, "idling", e.Speed(0, 1), 70, 1e-12)
	near(t, "windmilling", e.Speed(-5e3, 1), 70, 1e-12)
}

// TestDensityRatio: on a standard day it is the density ratio; at sea level and
// 35 °C, where the density is 0.935, it is 0.967 and leaves an unboosted engine
// 0.963 of its power (computed).
func TestDensityRatio(t *testing.T) {
	near(t, "standard day", DensityRatio(0.8617, 278.244, 278.244), 0.8617, 1e-15)
	near(t, "hot day", DensityRatio(1, 288.15, 308.15), 0.96700, 1e-5)
	near(t, "power on it", PowerLapse(DensityRatio(1, 288.15, 308.15)), 0.96263, 1e-5)
}
