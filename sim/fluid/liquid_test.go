package fluid

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// allLiquids returns one of everything the package makes.
func allLiquids(t testing.TB) []*Liquid {
	all := []*Liquid{Water(), OilTableA5()}
	for _, grade := range OilGrades() {
		all = append(all, must(t)(EngineOil(grade)))
	}
	for _, x := range []float64{0, 0.1, 0.3, 0.5, 0.6} {
		all = append(all, must(t)(EthyleneGlycol(x)), must(t)(PropyleneGlycol(x)))
	}
	return append(all, must(t)(Constant("plain", Properties{1000, 4000, 0.5, 1e-3})))
}

// TestFinite: whatever the temperature and pressure, properties are positive and
// finite.
func TestFinite(t *testing.T) {
	liquids := allLiquids(t)
	rapid.Check(t, func(rt *rapid.T) {
		T := rapid.OneOf(rapid.Float64Range(-400, 2000), rapid.Float64()).Draw(rt, "t")
		p := rapid.Float64Range(1, 1e7).Draw(rt, "p")
		w := rapid.Float64Range(0, 50).Draw(rt, "w")
		check := func(name string, v float64, zero bool) {
			if !(v > 0 || zero && v == 0) || math.IsInf(v, 0) {
				rt.Errorf("%s at %g °C is %g", name, T, v)
			}
		}
		for _, l := range liquids {
			check(l.Name()+" density", l.Density(T), false)
			check(l.Name()+" heat capacity", l.HeatCapacity(T), false)
			check(l.Name()+" conductivity", l.Conductivity(T), false)
			check(l.Name()+" viscosity", l.Viscosity(T), false)
			check(l.Name()+" Prandtl", l.Prandtl(T), false)
			boiling, _ := l.BoilingPoint(p)
			check(l.Name()+" boiling point", boiling, true)
		}
		check("air density", AirDensity(p, T), false)
		check("air Prandtl", AirPrandtl(T), false)
		check("saturation", SaturationPressure(T), false)
		check("humidity ratio", HumidityRatio(T, 0.7, p), true)
		check("relative humidity", RelativeHumidity(T, w, p), true)
		check("wet bulb, kelvin", WetBulb(T, w, p)+zeroCelsius, false)
	})
}

// TestRange: inside its range every liquid thins as it warms, and outside the
// evaluation span its properties stand still.
func TestRange(t *testing.T) {
	for _, l := range allLiquids(t) {
		lo, hi := l.Range()
		if !(lo < hi) {
			t.Errorf("%s: range %g to %g", l.Name(), lo, hi)
		}
		if l.Name() == "plain" {
			continue
		}
		for T := lo; T+1 <= hi; T++ {
			if !(l.Viscosity(T+1) < l.Viscosity(T)) {
				t.Errorf("%s thickens at %g °C", l.Name(), T)
			}
			if T > 6 && !(l.Density(T+1) < l.Density(T)) {
				t.Errorf("%s grows denser at %g °C", l.Name(), T)
			}
		}
		if l.Viscosity(400) != l.Viscosity(l.hottest) || l.Viscosity(-200) != l.Viscosity(l.coldest) {
			t.Errorf("%s changes outside its evaluation span", l.Name())
		}
	}
}

func TestConstant(t *testing.T) {
	p := Properties{Density: 1050, HeatCapacity: 3500, Conductivity: 0.42, Viscosity: 0.9e-3}
	l := must(t)(Constant("bench coolant", p))
	for _, T := range []float64{-40, 20, 130} {
		got := Properties{l.Density(T), l.HeatCapacity(T), l.Conductivity(T), l.Viscosity(T)}
		if got != p {
			t.Errorf("at %g °C %+v, want %+v", T, got, p)
		}
	}
	if _, ok := l.FreezingPoint(); ok {
		t.Error("has a freezing point")
	}
	if _, ok := l.BoilingPoint(1e5); ok {
		t.Error("has a boiling point")
	}
	for _, bad := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		q := p
		q.Conductivity = bad
		if _, err := Constant("bad", q); err == nil || !strings.Contains(err.Error(), "conductivity") {
			t.Errorf("conductivity %g: error %v", bad, err)
		}
	}
}

// TestNoAllocation: properties are read inside every derivative.
func TestNoAllocation(t *testing.T) {
	liquids := allLiquids(t)
	sum := 0.0
	if n := testing.AllocsPerRun(10, func() {
		for _, l := range liquids {
			boiling, _ := l.BoilingPoint(1.5e5)
			sum += l.Prandtl(90) + l.Density(90) + boiling
		}
		sum += WetBulb(35, 0.01, 1e5) + AirPrandtl(30)
	}); n != 0 {
		t.Errorf("%g allocations", n)
	}
}
