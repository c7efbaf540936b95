package ode

import (
	"errors"
	"math"
)

// ErrBracket says that a function has the same sign at both ends of an interval.
var ErrBracket = errors.New("ode: no change of sign between the ends")

// ErrNotFinite says that a function gave NaN or an infinite value.
var ErrNotFinite = errors.New("ode: value is not finite")

const epsilon = 0x1p-52 // spacing of float64 at 1

// Root returns x between a and b where f changes sign, by Brent's method:
// inverse quadratic interpolation guarded by bisection. The result is within
// tol + 4ε·|x| of a change of sign, ε = 2^-52. Ends that are roots are returned
// at once. It fails when f(a) and f(b) have the same sign or f is not finite.
//
// Source: R. P. Brent, Algorithms for Minimization without Derivatives, 1973,
// chapter 4, procedure zero.
func Root(f func(float64) float64, a, b, tol float64) (float64, error) {
	fa, fb := f(a), f(b)
	switch {
	case math.IsNaN(fa) || math.IsNaN(fb):
		return a, ErrNotFinite
	case fa == 0:
		return a, nil
	case fb == 0:
		return b, nil
	case (fa > 0) == (fb > 0):
		return a, ErrBracket
	}
	c, fc := a, fa // b and c bracket the root, b is the better end
	d, e := b-a, b-a
	for {
		if math.Abs(fc) < math.Abs(fb) {
			a, b, c = b, c, b
			fa, fb, fc = fb, fc, fb
		}
		δ := 2*epsilon*math.Abs(b) + tol/2
		m := (c - b) / 2
		if math.Abs(m) <= δ || fb == 0 {
			return b, nil
		}
		d, e = brentStep(a, b, c, fa, fb, fc, d, e, δ)
		a, fa = b, fb
		if math.Abs(d) > δ {
			b += d
		} else {
			b += math.Copysign(δ, m)
		}
		if fb = f(b); math.IsNaN(fb) {
			return b, ErrNotFinite
		}
		if (fb > 0) == (fc > 0) {
			c, fc = a, fa
			d, e = b-a, b-a
		}
	}
}

// brentStep returns the next change of b and the one before it: interpolated
// where that shrinks the bracket fast enough, else half the bracket.
func brentStep(a, b, c, fa, fb, fc, d, e, δ float64) (float64, float64) {
	m := (c - b) / 2
	if math.Abs(e) < δ || math.Abs(fa) <= math.Abs(fb) {
		return m, m
	}
	s := fb / fa
	p, q := 2*m*s, 1-s // secant
	if a != c {        // inverse quadratic
		q = fa / fc
		r := fb / fc
		p = s * (2*m*q*(q-r) - (b-a)*(r-1))
		q = (q - 1) * (r - 1) * (s - 1)
	}
	if p > 0 {
		q = -q
	} else {
		p = -p
	}
	if 2*p < math.Min(3*m*q-math.Abs(δ*q), math.Abs(e*q)) {
		return p / q, d
	}
	return m, m
}
