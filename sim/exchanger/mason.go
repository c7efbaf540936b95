package exchanger

import "math"

// seriesReach is the NTU [-] up to which the series is summed; beyond it
// e^{−N} nears the smallest float64 and the normal limit takes over.
const seriesReach = 700

// CrossBothUnmixed returns ε [-] of crossflow with both streams unmixed, by
// the exact series
//
//	ε = (1/(Cr·N))·Σ_{n≥0} g_n(N)·g_n(Cr·N),  g_n(x) = 1 − e^{−x}Σ_{m=0}^{n} x^m/m!
//
// with g_{n+1} = g_n − e^{−x}x^{n+1}/(n+1)!. Terms below 1e-15 of the sum are
// dropped: 9 terms at N 1, Cr 0.25, about 21 at N 5, Cr 1.
//
// Source: Mason, Heat transfer in crossflow, Proc. 2nd US National Congress of
// Applied Mechanics, 1954 (series from memory; it agrees with the integral of
// Triboix 2009 to 1e-13, see the tests).
// Valid for ntu > 0 and 0 < cr ≤ 1.
func CrossBothUnmixed(ntu, cr float64) float64 { return crossBothUnmixed(ntu, cr).eps }

// crossBothUnmixed sums the slopes of the series S(N, Cr·N) as well, from
// g_n'(x) = e^{−x}x^n/n!.
func crossBothUnmixed(ntu, cr float64) effect {
	y := cr * ntu
	if ntu > seriesReach {
		least, byX, byY := leastOfTwo(ntu, y)
		return unmixed(ntu, cr, least, byX, byY)
	}
	gx, px := tail(ntu)
	gy, py := tail(y)
	sum, byX, byY := gx*gy, px*gy, gx*py
	for n := 1.0; ; n++ {
		r := 1 / n
		px *= ntu * r
		py *= y * r
		gx -= px
		gy -= py
		t := gx * gy
		if t < 1e-15*sum || gx <= 0 || gy <= 0 {
			return unmixed(ntu, cr, sum, byX, byY)
		}
		sum += t
		byX += px * gy
		byY += gx * py
	}
}

// unmixed returns ε = S/(Cr·N) from the sum S and its slopes with N and Cr·N.
func unmixed(ntu, cr, sum, byX, byY float64) effect {
	y := cr * ntu
	eps := min(1, sum/y)
	return effect{eps, (byX+cr*byY)/y - eps/ntu, (byY - eps) / cr}
}

// tail returns g_0 = 1 − e^{−x} and e^{−x} without cancellation at small x.
func tail(x float64) (g, p float64) {
	if x < 0.1 {
		g = -math.Expm1(-x)
		return g, 1 - g
	}
	p = math.Exp(-x)
	return 1 - p, p
}

// leastOfTwo returns the limit of the series sum at large x ≥ y. g_n(x) is the
// chance that a Poisson count of mean x exceeds n, so the sum is the expected
// smaller of two independent counts. For two normal variates of the same means
// and variances that is (Clark, Operations Research 9, 1961, 145–162)
//
//	x·Φ(−d) + y·Φ(d) − θ·φ(d),  θ² = x + y, d = (x − y)/θ
//
// The factor 1 − (1 + d²)/(8θ²) on the last term is the next order: skewness,
// kurtosis and whole numbers of counts (Edgeworth and Euler–Maclaurin, derived
// here). It leaves 2e-8 of ε at N 700. The slopes, without that next order, are
// Φ(−d) − φ(d)/(2θ) with x and Φ(d) − φ(d)/(2θ) with y.
func leastOfTwo(x, y float64) (least, byX, byY float64) {
	theta := math.Sqrt(x + y)
	d := (x - y) / theta
	upper := math.Erfc(d/math.Sqrt2) / 2 // Φ(−d)
	density := math.Exp(-d*d/2) / math.Sqrt(2*math.Pi)
	least = x*upper + y*(1-upper) - theta*density*(1-(1+d*d)/(8*theta*theta))
	return least, upper - density/(2*theta), 1 - upper - density/(2*theta)
}
