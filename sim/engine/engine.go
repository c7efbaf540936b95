// Package engine turns power into heat: into the coolant jackets, into the
// oil, and into the air of the engine bay.
//
// Left out: the effect of mixture strength and ignition timing on the heat (a
// very rich take-off mixture cuts it by 5 to 10 %, from memory, medium), the
// charge cooler of a boosted engine, and humidity of the intake air.
package engine

import "math"

// Engine is a piston or rotary engine. Rated power and rated speed must be
// above 0, the ratios and the idle fuel not below 0.
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
// Source: Gagg & Farrar, SAE Transactions 29 (1934), second-hand. It is indicated
// power in proportion to density less a constant friction, C = 1/8.55 = 0.117 of
// the indicated power at sea level; other authors take 0.12 (from memory), which
// is 0.003 less at σ = 0.5. Above 1 in air denser than standard; not below 0,
// which it reaches at σ = C.
func PowerLapse(sigma float64) float64 {
	return math.Max(0, sigma-(1-sigma)/7.55)
}

// Available returns the full-throttle power [W] at the density ratio σ:
//
//	P = P_r·Φ(σ), boosted P = P_r·Φ(min(1, σ/σ_c))
//
// A boosted engine holds its rated power until the density falls below σ_c of
// its critical altitude. From there its compressor keeps the pressure ratio, so
// that indicated power falls with density and friction stays: the lapse of an
// unboosted engine rated at that altitude (engineering judgement).
func (e *Engine) Available(sigma float64) float64 {
	if !e.Boosted {
		return e.RatedPower * PowerLapse(sigma)
	}
	if sigma >= e.CriticalDensity {
		return e.RatedPower
	}
	return e.RatedPower * PowerLapse(sigma/e.CriticalDensity)
}

// idleSpeed is the least speed of a running engine over its rated speed:
// engineering judgement, 700 to 900 rpm of 5500.
const idleSpeed = 0.14

// DensityRatio returns the density ratio σ that sets the power of an engine
// where the air is not at its standard temperature: at the same pressure, power
// goes with the square root of the absolute temperature, not with density,
//
//	σ = σ_std·√(T_std/T)
//
// from the standard density ratio at the pressure altitude and both absolute
// temperatures [K]. Source: usual correction of piston engine power (from
// memory, high).
func DensityRatio(standard, tStandard, t float64) float64 {
	return standard * math.Sqrt(tStandard/t)
}

// Speed returns the engine speed [rad/s] at which a fixed-pitch propeller
// takes the power [W] at the density ratio σ:
//
//	ω = ω_r·(P/(P_r·σ))^(1/3)
//
// from P = C_P·ρ·n³·D⁵ at constant power coefficient, not below idle, and not
// above the rated speed, where a pilot or a governor holds it.
func (e *Engine) Speed(power, sigma float64) float64 {
	ratio := math.Cbrt(math.Max(0, power) / (e.RatedPower * sigma))
	return e.RatedSpeed * math.Min(1, math.Max(idleSpeed, ratio))
}

// Heat returns the heat given off at a power [W]. Fuel flow is linear in power
// from its idle share, and heat follows fuel flow:
//
//	ṁ_f/ṁ_f,r = i + (1 − i)·P/P_r,  Q = Q_r·(ṁ_f/ṁ_f,r)^n
//
// Source: n near 0.75, 0.6 to 0.9, because the gas-side coefficient grows with
// flow^0.75 (from memory of Taylor, The Internal-Combustion Engine, medium); the
// straight line of fuel over power at one speed is common practice. Error: a
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

// RatioFromFuel converts a share [-] of the fuel energy to a ratio of brake
// power [-]: share·b_e·H_u, from the consumption b_e [kg/J] and the lower
// heating value H_u [J/kg]. The share that is the brake power itself gives 1.
func RatioFromFuel(share, consumption, heatingValue float64) float64 {
	return share * consumption * heatingValue
}
