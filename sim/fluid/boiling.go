package fluid

import "math"

const waterMolarMass = 18.015 // g/mol

// clausiusClapeyron is the vapour pressure of a pure glycol:
//
//	p = p0·exp[−B·(1/T − 1/T0)]
type clausiusClapeyron struct {
	p0 float64 // Pa
	b  float64 // K
	t0 float64 // K
}

// BoilingPoint returns the temperature t [°C] at which the liquid boils under the
// absolute pressure pAbs [Pa]: the root of
//
//	x_w·p_ws(t) + (1 − x_w)·p_g(t) = pAbs
//
// with x_w the mole fraction of water, p_ws of [SaturationPressure] and p_g the
// vapour pressure of the glycol, a Clausius–Clapeyron line. Source: Raoult's law
// for an ideal mixture. For ethylene glycol and water it is within 1 K of
// published values (107.2 °C at 50 % by mass, 111 °C at 60 %, 1 atm; supplier
// data). Nucleate boiling at hot spots starts earlier.
//
// ok is false for a liquid without a boiling point (oils, constant properties)
// and when pAbs is not a number. pAbs is limited to 500…2e6 Pa and the answer to
// 0…200 °C.
func (l *Liquid) BoilingPoint(pAbs float64) (t float64, ok bool) {
	if !l.boils || math.IsNaN(pAbs) {
		return 0, false
	}
	T := l.boilingRoot(math.Log(min(max(pAbs, 500), 2e6)))
	return min(max(T-zeroCelsius, 0), saturationHigh), true
}

// boilingRoot returns the boiling temperature [K] at ln p [ln Pa] by Newton's
// method on ln p against 1/T, so nearly a straight line that three or four steps
// do: after a step of 1e-4 K the error is below 1e-8 K.
func (l *Liquid) boilingRoot(lnP float64) float64 {
	T := 380.0
	for range 20 {
		y, slope := l.logVapour(T)
		next := 1 / (1/T + (y-lnP)/(slope*T*T))
		if math.Abs(next-T) < 1e-4 {
			return next
		}
		T = next
	}
	return T
}

// logVapour returns ln p [ln Pa] of the vapour over the mixture at T [K] and its
// derivative with T [1/K].
func (l *Liquid) logVapour(T float64) (lnP, slope float64) {
	lnW, slopeW := logSaturation(T)
	if l.glycolShare == 0 {
		return lnW, slopeW
	}
	v := l.vapour
	water := (1 - l.glycolShare) * math.Exp(lnW)
	glycol := l.glycolShare * v.p0 * math.Exp(-v.b*(1/T-1/v.t0))
	p := water + glycol
	return math.Log(p), (water*slopeW + glycol*v.b/(T*T)) / p
}
