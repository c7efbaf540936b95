package exchanger

import "math"

// Limits of the laminar and the turbulent law in [Nusselt]; between them Nu is
// blended (Gnielinski 1995, as common in design handbooks; from memory).
const laminarEnd, turbulentStart = 2300, 4000

// Hausen returns Nu [-] of laminar flow with a developing temperature profile
// and constant wall temperature, at x = Re·Pr·D/L [-]:
//
//	Nu = developed + 0.0668x/(1 + 0.04x^(2/3))
//
// with developed = 3.66 in a round tube. For another duct give its developed
// value (see [NusseltWall]); the entry term is then an approximation.
//
// Source: Hausen 1943, as in Incropera & DeWitt eq. 8.56.
func Hausen(x, developed float64) float64 {
	r := math.Cbrt(x)
	return developed + 0.0668*x/(1+0.04*r*r)
}

// Petukhov returns the Darcy friction factor [-] of a smooth tube,
// (0.79 ln Re − 1.64)^−2, for 3000 < Re < 5e6.
//
// Source: Petukhov 1970, as in Incropera & DeWitt eq. 8.21.
func Petukhov(re float64) float64 {
	x := 0.79*math.Log(re) - 1.64
	return 1 / (x * x)
}

// Gnielinski returns Nu [-] of turbulent flow at Darcy friction factor f [-]:
//
//	Nu = (f/8)(Re − 1000)Pr/[1 + 12.7√(f/8)(Pr^(2/3) − 1)]
//
// Source: Gnielinski 1976, as in Incropera & DeWitt eq. 8.62. Valid for
// 3000 < Re < 5e6 and 0.5 < Pr < 2000 (from memory); about ±10 %.
func Gnielinski(re, pr, f float64) float64 {
	p := math.Cbrt(pr * pr)
	return f / 8 * (re - 1000) * pr / (1 + 12.7*math.Sqrt(f/8)*(p-1))
}

// Nusselt returns Nu [-] of a tube at re and pr [-], diameter over length ratio
// [-] and developed laminar Nu [-]: Hausen up to Re 2300, Gnielinski with the
// Petukhov friction factor from 4000, and between them the straight line in Re
// from one end value to the other. Continuous; re below 0 counts as 0.
func Nusselt(re, pr, ratio, developed float64) float64 {
	switch {
	case re >= turbulentStart:
		return Gnielinski(re, pr, Petukhov(re))
	case re <= laminarEnd:
		return Hausen(math.Max(0, re)*pr*ratio, developed)
	}
	w := (re - laminarEnd) / (turbulentStart - laminarEnd)
	return (1-w)*Hausen(laminarEnd*pr*ratio, developed) +
		w*Gnielinski(turbulentStart, pr, Petukhov(turbulentStart))
}

// The functions below hold for developed laminar flow in a rectangular duct of
// aspect ratio a = short/long side, 0 ≤ a ≤ 1.
//
// Source: Shah & London, Laminar Flow Forced Convection in Ducts, 1978 (the
// second and third from memory, high confidence); fits within 0.1 %.

// NusseltFlux returns Nu_H [-] at constant heat flux.
func NusseltFlux(a float64) float64 {
	return 8.235 * (1 + a*(-2.0421+a*(3.0853+a*(-2.4765+a*(1.0578-a*0.1861)))))
}

// NusseltWall returns Nu_T [-] at constant wall temperature.
func NusseltWall(a float64) float64 {
	return 7.541 * (1 + a*(-2.610+a*(4.970+a*(-5.119+a*(2.702-a*0.548)))))
}

// FrictionReynolds returns f·Re [-], f Fanning.
func FrictionReynolds(a float64) float64 {
	return 24 * (1 + a*(-1.3553+a*(1.9467+a*(-1.7012+a*(0.9564-a*0.2537)))))
}
