// Package engine turns power into heat: into the coolant jackets, into the
// oil, and into the air of the engine bay.
//
// Left out: the effect of mixture strength and ignition timing on the heat,
// and the charge heating of a turbocharger beyond what heat_to_bay holds.
package engine

import "math"

// Engine is a piston or rotary engine.
type Engine struct {
	RatedPower       float64 // at full throttle, sea level, standard day [W]
	RatedSpeed       float64 // engine speed at rated power [rad/s]
	Boosted          bool    // holds its power up to the critical altitude
	CriticalDensity  float64 // standard density ratio σ at the critical altitude [-]
	FuelConsumption  float64 // fuel per brake power at rated power [kg/J]
	HeatToCoolant    float64 // over brake power, at rated power [-]
	HeatToOil        float64 // over brake power, at rated power [-]
	HeatToBay        float64 // over brake power, at rated power [-]
	PartLoadExponent float64 // n of Q = Q_r·(ṁ_f/ṁ_f,r)^n [-]
	IdleFuel         float64 // fuel flow at no power over that at rated power [-]
}

// Heat is what the engine gives off.
type Heat struct {
	Coolant float64 // into the metal of the jackets [W]
	Oil     float64 // into the oil [W]
	Bay     float64 // into the air of the cowl [W]
	Fuel    float64 // fuel flow [kg/s]
}

// PowerLapse returns Φ = P/P0 of an unboosted engine at the density ratio
// σ = ρ/ρ0:
//
//	Φ = σ − (1 − σ)/7.55
//
// Source: Gagg & Farrar, SAE Transactions 29 (1934), second-hand. Not below 0.
func PowerLapse(sigma float64) float64 {
	return math.Max(0, sigma-(1-sigma)/7.55)
}

// Available returns the full-throttle power [W] at the density ratio σ. A
// boosted engine holds its rated power until the density falls below that of
// its critical altitude, then lapses like an unboosted one from there.
func (e *Engine) Available(sigma float64) float64 {
	if !e.Boosted {
		return e.RatedPower * PowerLapse(sigma)
	}
	if sigma >= e.CriticalDensity {
		return e.RatedPower
	}
	return e.RatedPower * PowerLapse(sigma) / PowerLapse(e.CriticalDensity)
}

// Speed returns the engine speed [rad/s] at which a fixed-pitch propeller
// takes the power [W]: with its cube root.
func (e *Engine) Speed(power float64) float64 {
	return e.RatedSpeed * math.Cbrt(math.Max(0, power)/e.RatedPower)
}

// Heat returns the heat given off at a power [W]. Fuel flow is linear in power
// from its idle share, and heat follows fuel flow:
//
//	ṁ_f/ṁ_f,r = i + (1 − i)·P/P_r,  Q = Q_r·(ṁ_f/ṁ_f,r)^n
//
// Source: n near 0.75 because the gas-side coefficient grows with flow^0.75
// (from memory of Taylor, The Internal-Combustion Engine, medium). Error: a
// tenth of the ratios themselves, more for rich mixtures. A power below zero
// counts as zero.
func (e *Engine) Heat(power float64) Heat {
	fuel := e.IdleFuel + (1-e.IdleFuel)*math.Max(0, power)/e.RatedPower
	q := e.RatedPower * math.Pow(fuel, e.PartLoadExponent)
	return Heat{
		Coolant: e.HeatToCoolant * q,
		Oil:     e.HeatToOil * q,
		Bay:     e.HeatToBay * q,
		Fuel:    fuel * e.FuelConsumption * e.RatedPower,
	}
}

// RatioFromFuel converts a share of the fuel energy to a ratio of brake power:
// share·b_e·H_u, from the consumption b_e [kg/J] and the lower heating value
// H_u [J/kg].
func RatioFromFuel(share, consumption, heatingValue float64) float64 {
	return share * consumption * heatingValue
}
