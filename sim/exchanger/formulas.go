package exchanger

import "math"

// The functions of this file are the plain ε-NTU relations for ntu > 0 and
// 0 < cr ≤ 1; [Arrangement.Effectiveness] adds the guards and the limit cr = 0.

// effect is an effectiveness ε [-] and its derivatives ∂ε/∂N and ∂ε/∂Cr.
type effect struct{ eps, byNTU, byCr float64 }

// Counter returns ε [-] of counterflow:
//
//	ε = (1 − e^{−N(1−Cr)})/(1 − Cr·e^{−N(1−Cr)}),  N/(1+N) at Cr = 1
//
// written as E/(1 + Cr·E) with E = (1 − e^{−N(1−Cr)})/(1 − Cr), which has no
// cancellation near Cr = 1.
//
// Source: Incropera & DeWitt, table 11.3.
func Counter(ntu, cr float64) float64 { return counter(ntu, cr).eps }

func counter(ntu, cr float64) effect {
	d := 1 - cr
	e, byCr := ntu, ntu*ntu/2 // E and dE/dCr at Cr = 1
	if d > 0 {
		e = -math.Expm1(-ntu*d) / d
	}
	if ntu*d > 1e-6 {
		byCr = (e - ntu*(1-d*e)) / d
	}
	eps, s := e/(1+cr*e), 1+cr*e
	return effect{eps, (1 - eps) * (1 - cr*eps), (byCr - e*e) / (s * s)}
}

// Parallel returns ε [-] of parallel flow, (1 − e^{−N(1+Cr)})/(1 + Cr); it
// cannot exceed 1/(1 + Cr).
//
// Source: Incropera & DeWitt, table 11.3.
func Parallel(ntu, cr float64) float64 { return parallel(ntu, cr).eps }

func parallel(ntu, cr float64) effect {
	gone := -math.Expm1(-ntu * (1 + cr))
	eps := gone / (1 + cr)
	return effect{eps, 1 - gone, (ntu*(1-gone) - eps) / (1 + cr)}
}

// CrossLargerMixed returns ε [-] of crossflow with Cmax mixed and Cmin unmixed:
//
//	ε = (1/Cr)(1 − exp{−Cr(1 − e^{−N})})
//
// It cannot exceed (1 − e^{−Cr})/Cr.
//
// Source: Incropera & DeWitt, table 11.3.
func CrossLargerMixed(ntu, cr float64) float64 { return crossLargerMixed(ntu, cr).eps }

func crossLargerMixed(ntu, cr float64) effect {
	g := -math.Expm1(-ntu)
	gone := -math.Expm1(-cr * g)
	eps := gone / cr
	return effect{eps, (1 - gone) * (1 - g), (g*(1-gone) - eps) / cr}
}

// CrossSmallerMixed returns ε [-] of crossflow with Cmin mixed and Cmax unmixed:
//
//	ε = 1 − exp{−(1/Cr)(1 − e^{−Cr·N})}
//
// It cannot exceed 1 − e^{−1/Cr}.
//
// Source: Incropera & DeWitt, table 11.3.
func CrossSmallerMixed(ntu, cr float64) float64 { return crossSmallerMixed(ntu, cr).eps }

func crossSmallerMixed(ntu, cr float64) effect {
	g := -math.Expm1(-cr * ntu)
	eps := -math.Expm1(-g / cr)
	return effect{eps, (1 - eps) * (1 - g), (1 - eps) * (ntu*(1-g) - g/cr) / cr}
}

// CrossApproximate returns the usual closed approximation for crossflow with
// both streams unmixed:
//
//	ε ≈ 1 − exp{(N^0.22/Cr)[exp(−Cr·N^0.78) − 1]}
//
// Source: Incropera & DeWitt, table 11.3.
// Error: −3.8 % (N ≈ 0.3, Cr = 1) to +1.1 % (N ≈ 3, Cr ≈ 0.5) over N 0.1–7. It
// serves as a cross-check; ratings use [CrossBothUnmixed].
func CrossApproximate(ntu, cr float64) float64 {
	return -math.Expm1(math.Pow(ntu, 0.22) / cr * math.Expm1(-cr*math.Pow(ntu, 0.78)))
}
