package fluid

import "math"

// WetBulb returns the thermodynamic wet-bulb temperature T* [°C] of air at t [°C]
// with the humidity ratio w [kg/kg dry air] and total pressure p [Pa], the root
// of
//
//	W = [(2501 − 2.326T*)·W_s(T*) − 1.006(t − T*)]/(2501 + 1.86t − 4.186T*)
//
// Source: ASHRAE Handbook – Fundamentals 2017, chapter 1, equation 33. Over
// supercooled water below 0 °C. Saturated and supersaturated air give t itself;
// t is limited to −50…200 °C, w to 0 and above; p ≤ 0 gives t.
func WetBulb(t, w, p float64) float64 {
	t = min(max(t, -50), saturationHigh)
	w = max(w, 0)
	if !(p > 0) || w >= SaturatedHumidityRatio(t, p) {
		return t
	}
	lo, hi := saturationLow, t
	x := hi
	for range 60 {
		f, slope := wetBulbResidual(x, t, w, p)
		if f > 0 {
			hi = x
		} else {
			lo = x
		}
		next := x - f/slope
		if math.Abs(next-x) < 1e-6 {
			return min(next, t)
		}
		if !(next > lo && next < hi) {
			next = (lo + hi) / 2
		}
		x = next
	}
	return x
}

// wetBulbResidual returns the psychrometer equation at the trial wet bulb x, times
// its denominator [kJ/kg], and its derivative with x. It rises with x.
func wetBulbResidual(x, t, w, p float64) (f, slope float64) {
	lnP, slopeP := logSaturation(x + zeroCelsius)
	ps := math.Exp(lnP)
	ws := ratioOfPressure(ps, p)
	dws := 0.0
	if ps < vapourShareLimit*p {
		dws = ws * slopeP * p / (p - ps)
	}
	latent := 2501 - 2.326*x
	f = latent*ws - 1.006*(t-x) - w*(2501+1.86*t-4.186*x)
	slope = latent*dws - 2.326*ws + 1.006 + 4.186*w
	return f, slope
}
