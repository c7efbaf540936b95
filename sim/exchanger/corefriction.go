package exchanger

import "math"

// frictionLaw gives the Fanning friction factor f [-] and its local exponent
// d ln f/d ln Re at re > 0.
type frictionLaw interface {
	at(re float64) (f, exponent float64)
}

// coreFlow is the state of a core for coreFriction.
type coreFlow struct {
	mass  float64 // mass flow [kg/s]
	rho   float64 // density [kg/m³]
	free  float64 // minimum free area [m²]
	ratio float64 // wetted area over free area A/Ac [-]
	ends  float64 // Kc + Ke [-]
	re    float64 // Reynolds number per kg/s [s/kg]
}

// leastFlux is the mass flux [kg/(s m²)] at which the slope at rest is taken.
const leastFlux = 1e-9

// coreFriction returns Δp = G²/(2ρ)·(f·A/Ac + Kc + Ke) and its slope
// dΔp/dṁ = G/(ρ·Ac)·[f·A/Ac·(1 + e/2) + Kc + Ke] with e the local exponent of
// f, kept at 0 or above. At rest dp is 0 and the slope that at leastFlux.
func coreFriction(c coreFlow, law frictionLaw) (dp, slope float64) {
	g := math.Max(leastFlux, c.mass/c.free)
	f, e := law.at(g * c.free * c.re)
	slope = g / (c.rho * c.free) * math.Max(0, f*c.ratio*(1+e/2)+c.ends)
	if !(c.mass > 0) {
		return 0, slope
	}
	return g * g / (2 * c.rho) * (f*c.ratio + c.ends), slope
}
