package exchanger

import (
	"fmt"
	"math"
)

// mostNTU is the largest NTU [-] that an inversion looks for.
const mostNTU = 1e6

// NTU returns the ntu [-] at which the arrangement reaches effectiveness eps
// [-] at capacity ratio cr [-]: the inverse of [Arrangement.Effectiveness].
// Closed forms where they exist (Incropera & DeWitt, table 11.4), a bracketed
// root for BothUnmixed (relative error below 1e-10).
//
// It is an error when eps is outside [0, 1), cr outside [0, 1], or the
// arrangement cannot reach eps at any size (parallel flow stops at 1/(1+Cr),
// the mixed cases below 1).
func (a Arrangement) NTU(eps, cr float64) (float64, error) {
	if !(eps >= 0 && eps < 1) || !(cr >= 0 && cr <= 1) {
		return 0, fmt.Errorf("effectiveness %g at capacity ratio %g: need 0 ≤ ε < 1 and 0 ≤ Cr ≤ 1", eps, cr)
	}
	n := a.invert(eps, cr)
	if !(n <= mostNTU) {
		return 0, fmt.Errorf("effectiveness %.4g is out of reach of %v at capacity ratio %.4g", eps, a, cr)
	}
	return n, nil
}

// invert returns the ntu of eps, or NaN or +Inf when eps is out of reach.
func (a Arrangement) invert(eps, cr float64) float64 {
	if cr < 1e-12 {
		return -math.Log1p(-eps)
	}
	switch a {
	case AirUnmixed:
		return -math.Log1p(math.Log1p(-eps*cr) / cr)
	case LeastMixed:
		return -math.Log1p(cr*math.Log1p(-eps)) / cr
	case Counterflow:
		return invertCounter(eps, cr)
	case ParallelFlow:
		return -math.Log1p(-eps*(1+cr)) / (1 + cr)
	}
	return invertBothUnmixed(eps, cr)
}

// invertCounter is ln[(1 − Cr·ε)/(1 − ε)]/(1 − Cr), ε/(1 − ε) at Cr = 1.
func invertCounter(eps, cr float64) float64 {
	e := eps / (1 - cr*eps) // the E of Counter
	if d := 1 - cr; d > 0 {
		return -math.Log1p(-e*d) / d
	}
	return e
}

// invertBothUnmixed brackets the root from below by counterflow, which needs
// the least ntu of all arrangements, and from above by doubling.
func invertBothUnmixed(eps, cr float64) float64 {
	lo := invertCounter(eps, cr)
	hi := 2*lo + 1e-300
	for CrossBothUnmixed(hi, cr) < eps {
		lo, hi = hi, 2*hi
		if hi > 2*mostNTU {
			return math.Inf(1)
		}
	}
	return root(func(n float64) float64 {
		return BothUnmixed.Effectiveness(n, cr) - eps
	}, lo, hi)
}
