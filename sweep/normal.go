package sweep

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mathext"
)

// Normal is a number that is not known exactly: normal with a mean μ and a
// standard deviation σ > 0, cut off at its bounds and scaled up between them. μ
// and σ are those of the normal before the cut; with bounds several σ away, they
// are those of the number too. The mean lies within the bounds.
type Normal struct {
	Name      string
	Mean      float64
	Deviation float64
	Lo, Hi    float64 // both 0: without bounds; one side is left open by an infinity
}

// Fault is what is wrong with a normal; nil when nothing is.
func (n *Normal) Fault() error {
	lo, hi := n.bounds()
	switch {
	case math.IsNaN(n.Mean) || math.IsInf(n.Mean, 0):
		return fmt.Errorf("the mean is %g", n.Mean)
	case !(n.Deviation > 0) || math.IsInf(n.Deviation, 0):
		return fmt.Errorf("the standard deviation is %g: leave out what is known exactly", n.Deviation)
	case !(lo < hi):
		return fmt.Errorf("nothing lies between the bounds %g and %g", lo, hi)
	case n.Mean < lo || n.Mean > hi:
		return fmt.Errorf("the mean %g lies outside of the bounds %g to %g", n.Mean, lo, hi)
	}
	return nil
}

// bounds are those of the number, infinite where there are none.
func (n *Normal) bounds() (lo, hi float64) {
	if n.Lo == 0 && n.Hi == 0 {
		return math.Inf(-1), math.Inf(1)
	}
	return n.Lo, n.Hi
}

// truncated is a normal cut off at its bounds.
type truncated struct {
	mean, deviation, lo, hi float64
	below, above            float64 // what is cut off on either side
}

func newTruncated(n *Normal) truncated {
	lo, hi := n.bounds()
	return truncated{n.Mean, n.Deviation, lo, hi, phi((lo - n.Mean) / n.Deviation), phi((n.Mean - hi) / n.Deviation)}
}

// at is the number that stands where a standard normal has z: below both lies the
// same probability u = Φ(z),
//
//	x = μ + σ Φ⁻¹(Φ(α) + u (Φ(β) - Φ(α)))
//
// with α, β the bounds in deviations from the mean (N. L. Johnson, S. Kotz and
// N. Balakrishnan, "Continuous univariate distributions", volume 1, 1994,
// chapter 13). The upper half is taken from above, to keep its digits.
func (t *truncated) at(z float64) float64 {
	if t.below > 0 || t.above > 0 {
		kept := 1 - t.below - t.above
		p, q := t.below+phi(z)*kept, t.above+phi(-z)*kept
		if p < q {
			z = mathext.NormalQuantile(p)
		} else {
			z = -mathext.NormalQuantile(q)
		}
	}
	return min(max(t.mean+t.deviation*z, t.lo), t.hi)
}

// spread is the standard deviation of the number, which cuts make smaller than σ,
//
//	σ² (1 + (α φ(α) - β φ(β))/P - ((φ(α) - φ(β))/P)²)
//
// with P = Φ(β) - Φ(α) and φ the density of a standard normal (the same chapter).
// Bounds so near to each other that digits are lost leave all between them about
// as likely.
func (t *truncated) spread() float64 {
	const near = 1e-3 // deviations
	a, b := (t.lo-t.mean)/t.deviation, (t.hi-t.mean)/t.deviation
	if b-a < near {
		return (t.hi - t.lo) / math.Sqrt(12)
	}
	density := func(z float64) float64 { return math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) }
	moment := func(z float64) float64 {
		if math.IsInf(z, 0) {
			return 0
		}
		return z * density(z)
	}
	kept := 1 - t.below - t.above
	shift := (density(a) - density(b)) / kept
	return t.deviation * math.Sqrt(1+(moment(a)-moment(b))/kept-shift*shift)
}

// phi is Φ, the probability that a standard normal variable stays below z.
func phi(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }

// standardNormal is the value that a standard normal variable stays below with
// the probability u. It keeps u off 0 and 1, where that is infinite: by 2^-33,
// which is 6.3 standard deviations from the mean.
func standardNormal(u float64) float64 {
	const end = 1.0 / (1 << 33)
	return mathext.NormalQuantile(min(max(u, end), 1-end))
}
