package fluid

import "math"

const (
	// AirGasConstant is the specific gas constant R of dry air [J/(kg K)].
	// Source: U.S. Standard Atmosphere 1976.
	AirGasConstant = 287.05287

	// AirHeatCapacity is the specific heat cp of dry air at constant pressure
	// [J/(kg K)], taken constant; the true value stays within 0.8 % of it from
	// −50 to 120 °C.
	AirHeatCapacity = 1006.0

	zeroCelsius = 273.15 // K
)

// airKelvin turns t [°C] into kelvin, t limited to −150…1000 °C.
func airKelvin(t float64) float64 {
	return min(max(t, -150), 1000) + zeroCelsius
}

// AirDensity returns the density ρ [kg/m³] of dry air at the absolute pressure
// p [Pa] and temperature t [°C]:
//
//	ρ = p/(R·T)
//
// Ideal gas; within 0.1 % at flight pressures. t is limited to −150…1000 °C.
func AirDensity(p, t float64) float64 {
	return p / (AirGasConstant * airKelvin(t))
}

// AirViscosity returns the dynamic viscosity µ [Pa s] of air at t [°C]:
//
//	µ = 1.458e-6·T^1.5/(T + 110.4)
//
// Source: U.S. Standard Atmosphere 1976 (Sutherland's law; constants from
// memory). t is limited to −150…1000 °C.
func AirViscosity(t float64) float64 {
	T := airKelvin(t)
	return 1.458e-6 * T * math.Sqrt(T) / (T + 110.4)
}

// AirConductivity returns the thermal conductivity k [W/(m K)] of air at t [°C]:
//
//	k = 2.64638e-3·T^1.5/(T + 245.4·10^(−12/T))
//
// Source: U.S. Standard Atmosphere 1976 (constants from memory). t is limited
// to −150…1000 °C.
func AirConductivity(t float64) float64 {
	T := airKelvin(t)
	return 2.64638e-3 * T * math.Sqrt(T) / (T + 245.4*math.Exp(-12*math.Ln10/T))
}

// AirPrandtl returns the Prandtl number Pr = cp·µ/k [-] of air at t [°C], about
// 0.71 in flight; from the three properties above.
func AirPrandtl(t float64) float64 {
	return AirHeatCapacity * AirViscosity(t) / AirConductivity(t)
}
