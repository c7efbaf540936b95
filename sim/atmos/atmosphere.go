package atmos

import "math"

// Constants of the U.S. Standard Atmosphere 1976 (ISO 2533).
const (
	SeaLevelPressure     = 101325.0 // p0 [Pa]
	SeaLevelDensity      = 1.225    // ρ0 [kg/m³]
	SeaLevelSpeedOfSound = 340.294  // a0 [m/s]

	gasConstant    = 287.05287 // R of dry air, J/(kg K)
	gravity        = 9.80665   // m/s²
	heatRatio      = 1.4
	zeroCelsius    = 273.15 // K
	standardKelvin = 288.15 // K, at sea level
	standardLapse  = 0.0065 // K/m
	tropopause     = 11000.0
	stratoKelvin   = standardKelvin - standardLapse*tropopause // K, above the tropopause

	lowest  = -500.0  // m
	highest = 20000.0 // m

	scaleHeight      = standardKelvin / standardLapse          // m, to zero temperature
	pressureExponent = gravity / (gasConstant * standardLapse) // 5.25588
	isothermalDecay  = gravity / (gasConstant * stratoKelvin)  // 1/m
	tropopauseTheta  = 1 - tropopause/scaleHeight              // θ at the tropopause
	densityExponent  = pressureExponent - 1                    // 4.25588
)

// State is the air at one place. Humidity is neglected in Density.
type State struct {
	Altitude     float64 // pressure altitude h [m]
	Pressure     float64 // static pressure p [Pa]
	Temperature  float64 // t [°C]
	Density      float64 // ρ [kg/m³]
	SpeedOfSound float64 // a [m/s]
	Viscosity    float64 // dynamic viscosity µ [Pa s]
}

// StandardPressure returns the pressure p [Pa] at the pressure altitude h [m]:
//
//	p = 101325·(1 − h/44330.77)^5.25588              to 11 000 m
//	p = p_11·exp[−9.80665·(h − 11000)/(R·216.65)]    above
//
// Source: U.S. Standard Atmosphere 1976. h is limited to −500…20 000 m.
func StandardPressure(altitude float64) float64 {
	return standardPressure(bounded(altitude))
}

// standardPressure is [StandardPressure] for h within its limits.
func standardPressure(h float64) float64 {
	theta := 1 - min(h, tropopause)/scaleHeight
	above := max(h-tropopause, 0)
	return SeaLevelPressure * math.Exp(pressureExponent*math.Log(theta)-isothermalDecay*above)
}

// bounded moves an altitude [m] into −500…20 000.
func bounded(altitude float64) float64 { return min(max(altitude, lowest), highest) }

// At returns the air at the pressure altitude h [m] on the day d: the standard
// pressure with the temperature of the day, and
//
//	ρ = p/(R·T),  a = √(1.4·R·T),  µ = 1.458e-6·T^1.5/(T + 110.4)
//
// Source: U.S. Standard Atmosphere 1976 (Sutherland's constants from memory).
// h is limited to −500…20 000 m, and State.Altitude is the limited value.
func (d Day) At(altitude float64) State {
	h := bounded(altitude)
	t := d.temperature(h)
	T := t + zeroCelsius
	p := standardPressure(h)
	root := math.Sqrt(T)
	return State{
		Altitude:     h,
		Pressure:     p,
		Temperature:  t,
		Density:      p / (gasConstant * T),
		SpeedOfSound: math.Sqrt(heatRatio*gasConstant) * root,
		Viscosity:    1.458e-6 * T * root / (T + 110.4),
	}
}

// DensityAltitude returns the altitude [m] at which the standard atmosphere has
// the density ρ [kg/m³]: the inverse of
//
//	ρ = 1.225·(1 − h/44330.77)^4.25588
//
// and of the isothermal layer above 11 000 m. Source: U.S. Standard Atmosphere
// 1976. The answer is limited to −5000…20 000 m; a density of zero or less gives
// the upper end.
func DensityAltitude(density float64) float64 {
	if density <= 0 {
		return highest
	}
	logSigma := math.Log(density / SeaLevelDensity)
	logTropopause := densityExponent * math.Log(tropopauseTheta)
	h := scaleHeight * (1 - math.Exp(logSigma/densityExponent))
	if logSigma < logTropopause {
		h = tropopause + (logTropopause-logSigma)/isothermalDecay
	}
	return min(max(h, -5000), highest)
}
