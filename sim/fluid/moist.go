package fluid

import "math"

const (
	// VapourHeatCapacity is cp of water vapour [J/(kg K)] in the enthalpy of
	// moist air. Source: ASHRAE Handbook – Fundamentals 2017, chapter 1.
	VapourHeatCapacity = 1860.0

	// WaterHeatCapacity is the specific heat c_w of liquid water [J/(kg K)] in
	// the heat balances of moist air, consistent with [VapourEnthalpy]; a
	// coolant of water takes [Liquid.HeatCapacity] instead.
	// Source: ASHRAE Handbook – Fundamentals 2017, chapter 1.
	WaterHeatCapacity = 4186.0

	vapourEnthalpyAtZero = 2.501e6  // J/kg
	massRatio            = 0.621945 // molar mass of water over that of dry air
	vapourShareLimit     = 0.99     // largest p_w/p a humidity ratio is given for
	saturationLow        = -60.0    // °C
	saturationHigh       = 200.0    // °C
)

// logSaturation returns ln p_ws [ln Pa] at the absolute temperature T [K] and its
// derivative d(ln p_ws)/dT [1/K].
func logSaturation(T float64) (lnP, slope float64) {
	const (
		c1 = -5800.2206
		c2 = 1.3914993
		c3 = -0.048640239
		c4 = 4.1764768e-5
		c5 = -1.4452093e-8
		c6 = 6.5459673
	)
	lnP = c1/T + c2 + T*(c3+T*(c4+T*c5)) + c6*math.Log(T)
	slope = -c1/(T*T) + c3 + T*(2*c4+T*3*c5) + c6/T
	return lnP, slope
}

// saturationKelvin turns t [°C] into kelvin, limited to the span of
// [SaturationPressure].
func saturationKelvin(t float64) float64 {
	return min(max(t, saturationLow), saturationHigh) + zeroCelsius
}

// SaturationPressure returns the vapour pressure p_ws [Pa] over liquid water at
// t [°C]:
//
//	ln p_ws = −5800.2206/T + 1.3914993 − 0.048640239T + 4.1764768e-5T²
//	          − 1.4452093e-8T³ + 6.5459673 ln T
//
// Source: ASHRAE Handbook – Fundamentals 2017, chapter 1, equation 6. Within
// 0.1 % of IAPWS-IF97 from 0 to 150 °C. Valid for 0…200 °C; below 0 °C the same
// line is continued as supercooled water, the meteorological convention for
// relative humidity. t is limited to −60…200 °C.
func SaturationPressure(t float64) float64 {
	lnP, _ := logSaturation(saturationKelvin(t))
	return math.Exp(lnP)
}

// ratioOfPressure returns W [-] for the vapour pressure pw in air of total
// pressure p, both Pa; pw is limited to 0…0.99 p.
func ratioOfPressure(pw, p float64) float64 {
	if !(p > 0) {
		return 0
	}
	pw = min(max(pw, 0), vapourShareLimit*p)
	return massRatio * pw / (p - pw)
}

// HumidityRatio returns the humidity ratio W [kg vapour/kg dry air] of air at
// t [°C], relative humidity rh [-] and total pressure p [Pa]:
//
//	W = 0.621945·p_w/(p − p_w),  p_w = rh·p_ws(t)
//
// Source: ASHRAE Handbook – Fundamentals 2017, chapter 1, equations 12, 20. Ideal gas: the
// real-gas factor would raise W by about 0.5 %. rh is limited to 0…1 and p_w to
// 0.99 p, which bounds W at 61.6 where the water would boil; p ≤ 0 gives 0.
func HumidityRatio(t, rh, p float64) float64 {
	return ratioOfPressure(min(max(rh, 0), 1)*SaturationPressure(t), p)
}

// SaturatedHumidityRatio returns the humidity ratio W_s [kg/kg dry air] of air
// saturated at t [°C] and total pressure p [Pa]. It is [HumidityRatio] at rh 1:
// at and above the boiling point it stays at its bound of 61.6, so it is finite
// and never falls with temperature.
func SaturatedHumidityRatio(t, p float64) float64 {
	return ratioOfPressure(SaturationPressure(t), p)
}

// RelativeHumidity returns the relative humidity rh [-] of air at t [°C] with the
// humidity ratio w [kg/kg dry air] and total pressure p [Pa]:
//
//	rh = p·W/((0.621945 + W)·p_ws(t))
//
// Inverse of [HumidityRatio]. Above 1 the state is supersaturated (fog), which
// is returned as it is; w below 0 counts as 0.
func RelativeHumidity(t, w, p float64) float64 {
	w = max(w, 0)
	return p * w / ((massRatio + w) * SaturationPressure(t))
}

// VapourEnthalpy returns the enthalpy h_g [J/kg] of water vapour at t [°C],
// counted from liquid water at 0 °C:
//
//	h_g = 2.501e6 + 1860·t
//
// Source: ASHRAE Handbook – Fundamentals 2017, chapter 1. With the liquid taken
// as 4186·t the heat of evaporation is 0.30 % above IAPWS-IF97 at 80 °C, 0.53 % at
// 100 °C.
func VapourEnthalpy(t float64) float64 {
	return vapourEnthalpyAtZero + VapourHeatCapacity*t
}

// MoistEnthalpy returns the enthalpy h [J/kg dry air] of moist air at t [°C] with
// the humidity ratio w [kg/kg dry air]:
//
//	h = 1006·t + W·(2.501e6 + 1860·t)
//
// Source: ASHRAE Handbook – Fundamentals 2017, chapter 1, equation 30.
func MoistEnthalpy(t, w float64) float64 {
	return AirHeatCapacity*t + w*VapourEnthalpy(t)
}
