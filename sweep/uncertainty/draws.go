package uncertainty

import (
	"fmt"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/mathext"
	"hotclimb/sweep"
)

// cube is a set of points in the unit cube, by number.
type cube interface {
	// Coordinate is one coordinate of point i, from 0 and less than 1.
	Coordinate(i, dimension int) float64
}

// cube returns the points of the study in some dimensions.
func (s *Study) cube(dimensions int) (cube, error) {
	if s.Design == sweep.LatinDesign {
		return sweep.NewLatin(s.Points, dimensions, s.Seed), nil
	}
	sobol, err := sweep.NewSobol(dimensions)
	if err != nil {
		return nil, fmt.Errorf("%w; a Latin hypercube has no such bound", err)
	}
	return net{sobol.Shifted(s.Seed), float64(s.Points), s.Seed}, nil
}

// net is the start of a Sobol sequence, n = 2^m points, each at a random place
// within its stratum of every dimension.
//
// These points have m binary digits. The others all come from the shift, the same
// for each of them, so that the last stratum may hold its point far too near to 1,
// where a normal goes off to infinity, or far too near to its other end. Places of
// their own leave the net as it is, which lives in the first m digits, and take
// the error of one dimension from n^-1 to n^-3/2 as strata do.
type net struct {
	shifted sweep.Sobol
	n       float64
	seed    uint64
}

func (p net) Coordinate(i, dimension int) float64 {
	var r rand.PCG
	r.Seed(p.seed, uint64(dimension)<<32|uint64(i))
	const places = 1 << 31 // with 2^20 points the sum is exact, and below 1
	return (math.Floor(p.shifted.Coordinate(i, dimension)*p.n) + float64(r.Uint64()>>33)/places) / p.n
}

// draws turn points of the unit cube into inputs.
type draws struct {
	inputs []truncated
	tied   []bool        // correlated with another input
	factor *mat.TriDense // L of the correlations R = L Lᵀ; nil: none are tied
}

func newDraws(s *Study) (*draws, error) {
	d := &draws{inputs: make([]truncated, len(s.Inputs)), tied: make([]bool, len(s.Inputs))}
	for k := range s.Inputs {
		d.inputs[k] = newTruncated(&s.Inputs[k])
	}
	if s.Covariance == nil {
		return d, nil
	}
	return d, d.tie(s)
}

// tie factors the correlations, ρ_jk = C_jk/(σ_j σ_k), rather than the
// covariances, the sizes of which follow from the units of the inputs.
func (d *draws) tie(s *Study) error {
	n := len(s.Inputs)
	if rows := s.Covariance.SymmetricDim(); rows != n {
		return fmt.Errorf("the covariance has %d rows for %d inputs", rows, n)
	}
	correlation := mat.NewSymDense(n, nil)
	for j := range n {
		for k := range j + 1 {
			rho := s.Covariance.At(j, k) / s.Inputs[j].Deviation / s.Inputs[k].Deviation
			if math.IsNaN(rho) || math.IsInf(rho, 0) {
				return fmt.Errorf("the covariance of %q and %q is %g", s.Inputs[j].Name, s.Inputs[k].Name, s.Covariance.At(j, k))
			}
			if j == k && math.Abs(rho-1) > 1e-6 {
				return fmt.Errorf("input %q: the variance is %g, but its standard deviation is %g", s.Inputs[j].Name, s.Covariance.At(j, j), s.Inputs[j].Deviation)
			}
			correlation.SetSym(j, k, rho)
			if j != k && rho != 0 {
				d.tied[j], d.tied[k] = true, true
			}
		}
	}
	var c mat.Cholesky
	if !c.Factorize(correlation) {
		return fmt.Errorf("the covariance is not positive definite: some of the inputs follow from others")
	}
	d.factor = mat.NewTriDense(n, mat.Lower, nil)
	c.LTo(d.factor)
	return nil
}

// at puts input k, made from the coordinates of point i from the dimension from
// on, into x[k], and says whether all lie within their bounds. Those of
// independent inputs always do: they are cut off there. Of correlated ones only
// points within all bounds stand for a normal that is cut off, so others are to
// be left out.
func (d *draws) at(points cube, i, from int, x []float64) (within bool) {
	within = true
	for k := range d.inputs {
		in := &d.inputs[k]
		if !d.tied[k] {
			x[k] = in.quantile(inside(points.Coordinate(i, from+k)))
			continue
		}
		z := 0.0
		for j := range k + 1 {
			if l := d.factor.At(k, j); l != 0 {
				z += l * mathext.NormalQuantile(inside(points.Coordinate(i, from+j)))
			}
		}
		x[k] = in.mean + in.deviation*z
		within = within && x[k] >= in.lo && x[k] <= in.hi
	}
	return within
}

// inside keeps a coordinate off 0 and 1, where a normal is infinite: by 2^-33,
// which is 6.3 standard deviations from the mean.
func inside(u float64) float64 {
	const end = 1.0 / (1 << 33)
	return min(max(u, end), 1-end)
}

// truncated is a normal cut off at its bounds.
type truncated struct {
	mean, deviation, lo, hi float64
	below, above            float64 // what is cut off on either side
}

func newTruncated(in *Input) truncated {
	lo, hi := in.bounds()
	return truncated{in.Mean, in.Deviation, lo, hi, phi((lo - in.Mean) / in.Deviation), phi((in.Mean - hi) / in.Deviation)}
}

// quantile is what the input stays below with the probability u,
//
//	x = μ + σ Φ⁻¹(Φ(α) + u (Φ(β) - Φ(α)))
//
// with α, β the bounds in deviations from the mean (N. L. Johnson, S. Kotz and
// N. Balakrishnan, "Continuous univariate distributions", volume 1, 1994,
// chapter 13). The upper half is taken from above, to keep its digits.
func (t *truncated) quantile(u float64) float64 {
	kept := 1 - t.below - t.above
	p, q := t.below+u*kept, t.above+(1-u)*kept
	z := 0.0
	if p < q {
		z = mathext.NormalQuantile(p)
	} else {
		z = -mathext.NormalQuantile(q)
	}
	return min(max(t.mean+t.deviation*z, t.lo), t.hi)
}

// phi is Φ, the probability that a standard normal variable stays below z.
func phi(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }
