package fluid

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

const atmosphere = 101325.0 // Pa

// TestSaturation: computed apart from this program with the equations of ASHRAE
// Handbook – Fundamentals 2017, chapter 1.
func TestSaturation(t *testing.T) {
	for _, r := range table(t, "moist_air_saturation.csv") {
		T := r.number(t, "t_c")
		near(t, fmt.Sprintf("p_ws at %g °C", T), SaturationPressure(T), r.number(t, "p_ws_pa"), 0.0051)
		if r["w_s"] != "" {
			near(t, fmt.Sprintf("W_s at %g °C", T), SaturatedHumidityRatio(T, atmosphere), r.number(t, "w_s"), 0.51e-6)
		}
	}
	// ASHRAE Handbook – Fundamentals 2017, chapter 1, table 3.
	for T, want := range map[float64]float64{25: 3169.7, 50: 12351.3, 100: 101418} {
		nearRel(t, fmt.Sprintf("published p_ws at %g °C", T), SaturationPressure(T), want, 3e-4)
	}
	// Supercooled water at −20 °C, Smithsonian tables (from memory): 125.4 Pa.
	nearRel(t, "p_ws at −20 °C", SaturationPressure(-20), 125.4, 0.005)
}

// TestSaturationSlope: the derivative used by Newton's method is that of the
// function.
func TestSaturationSlope(t *testing.T) {
	for T := 220.0; T < 470; T += 10 {
		a, _ := logSaturation(T - 1e-3)
		b, _ := logSaturation(T + 1e-3)
		_, slope := logSaturation(T)
		nearRel(t, fmt.Sprintf("slope at %g K", T), slope, (b-a)/2e-3, 1e-7)
	}
}

// TestMoistAir: computed apart from this program with the equations of ASHRAE
// Handbook – Fundamentals 2017, chapter 1. The last column is the vapour taken
// up until saturation with water of 20 °C; MoistEnthalpy must balance there.
func TestMoistAir(t *testing.T) {
	for _, r := range table(t, "moist_air_checks.csv") {
		T, rh := r.number(t, "t_c"), r.number(t, "rh")
		name := fmt.Sprintf("%g °C, %g: ", T, rh)
		w := HumidityRatio(T, rh, atmosphere)
		near(t, name+"W", w, r.number(t, "w"), 0.51e-7)
		near(t, name+"wet bulb", WetBulb(T, w, atmosphere), r.number(t, "t_wb_c"), 0.51e-3)
		near(t, name+"enthalpy", MoistEnthalpy(T, w), r.number(t, "h"), 0.051)
		near(t, name+"humidity back", RelativeHumidity(T, w, atmosphere), rh, 1e-12)

		ts := saturationWith(MoistEnthalpy(T, w), w, WaterHeatCapacity*20)
		near(t, name+"uptake", SaturatedHumidityRatio(ts, atmosphere)-w, r.number(t, "dw_sat"), 0.51e-6)
	}
	// ASHRAE Handbook – Fundamentals 2017, chapter 1.
	nearRel(t, "h(30 °C, 0.02)", MoistEnthalpy(30, 0.02), 81316, 3e-4)
}

// saturationWith returns the temperature [°C] at which air of enthalpy h and
// humidity ratio w is saturated by water of enthalpy hw [J/kg], by bisection.
func saturationWith(h, w, hw float64) float64 {
	lo, hi := 0.0, 60.0
	for range 60 {
		mid := (lo + hi) / 2
		ws := SaturatedHumidityRatio(mid, atmosphere)
		if MoistEnthalpy(mid, ws) > h+(ws-w)*hw {
			hi = mid
		} else {
			lo = mid
		}
	}
	return lo
}

// TestWetBulbIdentity: air saturated adiabatically by water of its wet-bulb
// temperature ends at that temperature: 2.326 of the printed equation is 4.186 −
// 1.860, so both forms agree to rounding.
func TestWetBulbIdentity(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		T := rapid.Float64Range(-45, 90).Draw(rt, "t")
		rh := rapid.Float64Range(0, 1).Draw(rt, "rh")
		p := rapid.Float64Range(40e3, 105e3).Draw(rt, "p")
		w := HumidityRatio(T, rh, p)
		x := WetBulb(T, w, p)
		if x > T {
			rt.Fatalf("wet bulb %g above %g", x, T)
		}
		ws := SaturatedHumidityRatio(x, p)
		before := MoistEnthalpy(T, w) + (ws-w)*WaterHeatCapacity*x
		after := MoistEnthalpy(x, ws)
		if !(math.Abs(after-before) < 1e-3) {
			rt.Errorf("enthalpy %g before, %g after, wet bulb %g", before, after, x)
		}
	})
}

func TestSaturationRises(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		T := rapid.Float64Range(-60, 199).Draw(rt, "t")
		p := rapid.Float64Range(2e3, 3e5).Draw(rt, "p")
		if !(SaturationPressure(T+0.5) > SaturationPressure(T)) {
			rt.Errorf("vapour pressure falls at %g °C", T)
		}
		a, b := SaturatedHumidityRatio(T, p), SaturatedHumidityRatio(T+0.5, p)
		if !(b >= a && b <= 61.6) {
			rt.Errorf("W_s %g then %g at %g °C, %g Pa", a, b, T, p)
		}
	})
}

func TestHumidityLimits(t *testing.T) {
	boiling := SaturatedHumidityRatio(100, atmosphere)
	near(t, "W_s at boiling", boiling, 61.57, 0.01) // 0.621945·0.99/0.01
	near(t, "W_s above boiling", SaturatedHumidityRatio(150, atmosphere), boiling, 1e-9)
	near(t, "W, no pressure", HumidityRatio(20, 0.5, 0), 0, 0)
	near(t, "W, rh above 1", HumidityRatio(20, 1.5, atmosphere), SaturatedHumidityRatio(20, atmosphere), 0)
	near(t, "W, rh below 0", HumidityRatio(20, -1, atmosphere), 0, 0)
	near(t, "wet bulb, saturated", WetBulb(20, 1, atmosphere), 20, 0)
	near(t, "wet bulb, no pressure", WetBulb(20, 0.01, 0), 20, 0)
	near(t, "rh, w below 0", RelativeHumidity(20, -1, atmosphere), 0, 0)
	if rh := RelativeHumidity(20, 0.02, atmosphere); !(rh > 1) {
		t.Errorf("fog has relative humidity %g", rh)
	}
}
