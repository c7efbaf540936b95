package exchanger

import "math"

// The functions of this file are the plain ε-NTU relations for ntu > 0 and
// 0 < cr ≤ 1; [Arrangement.Effectiveness] adds the guards and the limit cr = 0.

// Counter returns ε [-] of counterflow:
//
//	ε = (1 − e^{−N(1−Cr)})/(1 − Cr·e^{−N(1−Cr)}),  N/(1+N) at Cr = 1
//
// written as E/(1 + Cr·E) with E = (1 − e^{−N(1−Cr)})/(1 − Cr), which has no
// cancellation near Cr = 1.
//
// Source: Incropera & DeWitt, table 11.3.
func Counter(ntu, cr float64) float64 {
	e := ntu
	if d := 1 - cr; d > 0 {
		e = -math.Expm1(-ntu*d) / d
	}
	return e / (1 + cr*e)
}

// Parallel returns ε [-] of parallel flow, (1 − e^{−N(1+Cr)})/(1 + Cr); it
// cannot exceed 1/(1 + Cr).
//
// Source: Incropera & DeWitt, table 11.3.
func Parallel(ntu, cr float64) float64 {
	return -math.Expm1(-ntu*(1+cr)) / (1 + cr)
}

// CrossLargerMixed returns ε [-] of crossflow with Cmax mixed and Cmin unmixed:
//
//	ε = (1/Cr)(1 − exp{−Cr(1 − e^{−N})})
//
// It cannot exceed (1 − e^{−Cr})/Cr.
//
// Source: Incropera & DeWitt, table 11.3.
func CrossLargerMixed(ntu, cr float64) float64 {
	return -math.Expm1(cr*math.Expm1(-ntu)) / cr
}

// CrossSmallerMixed returns ε [-] of crossflow with Cmin mixed and Cmax unmixed:
//
//	ε = 1 − exp{−(1/Cr)(1 − e^{−Cr·N})}
//
// It cannot exceed 1 − e^{−1/Cr}.
//
// Source: Incropera & DeWitt, table 11.3.
func CrossSmallerMixed(ntu, cr float64) float64 {
	return -math.Expm1(math.Expm1(-cr*ntu) / cr)
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
