package exchanger

import "math"

// root returns the zero of the rising function f between lo and hi to about
// 1e-12 of the larger bound. When f has one sign in the bracket it returns the
// end nearer to zero: lo if f(lo) ≥ 0, hi if f(hi) ≤ 0.
//
// Method: Chandrupatla, A new hybrid quadratic/bisection algorithm for finding
// the zero of a nonlinear function without using derivatives, Advances in
// Engineering Software 28 (1997) 145–149.
func root(f func(float64) float64, lo, hi float64) float64 {
	a, b := hi, lo
	fa, fb := f(a), f(b)
	if fb >= 0 {
		return lo
	}
	if fa <= 0 {
		return hi
	}
	tol := 1e-12 * math.Max(math.Abs(lo), math.Abs(hi))
	c, fc, t := a, fa, 0.5
	for range 200 {
		x := a + t*(b-a)
		fx := f(x)
		if (fx < 0) == (fa < 0) {
			c, fc = a, fa
		} else {
			c, fc, b, fb = b, fb, a, fa
		}
		a, fa = x, fx
		best, fbest := a, fa
		if math.Abs(fb) < math.Abs(fa) {
			best, fbest = b, fb
		}
		share := 0.5 * tol / math.Abs(b-a)
		if fbest == 0 || share > 0.5 {
			return best
		}
		t = math.Max(share, math.Min(1-share, step(a, b, c, fa, fb, fc)))
	}
	return a
}

// step returns the next point of root as a share of the bracket from a to b:
// inverse quadratic interpolation where it is safe, else the middle.
func step(a, b, c, fa, fb, fc float64) float64 {
	xi := (a - b) / (c - b)
	phi := (fa - fb) / (fc - fb)
	if !(phi*phi < xi && (1-phi)*(1-phi) < 1-xi) {
		return 0.5
	}
	return fa/(fb-fa)*fc/(fb-fc) + (c-a)/(b-a)*fa/(fc-fa)*fb/(fc-fb)
}
