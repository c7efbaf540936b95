package calibrate

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// belief is what is known of numbers: a normal distribution, each number in
// units of its prior deviation. It keeps a root L of the covariance P = L Lᵀ, so
// that no rounding makes a variance negative, and numbers that follow from each
// other (P singular) are as good as any.
type belief struct{ root *mat.Dense }

// newBelief is that of correlations, ones on the diagonal.
func newBelief(correlation *mat.SymDense) (belief, error) {
	var eigen mat.EigenSym
	if !eigen.Factorize(correlation, true) {
		return belief{}, errors.New("the correlations of the doubtful numbers have no eigenvalues")
	}
	root := &mat.Dense{}
	eigen.VectorsTo(root)
	for k, v := range eigen.Values(nil) {
		if v < -almost {
			return belief{}, errors.New("the correlations of the doubtful numbers, those of gauges among them, cannot hold together: change or leave out one")
		}
		s := math.Sqrt(math.Max(v, 0))
		for i := range correlation.SymmetricDim() {
			root.Set(i, k, root.At(i, k)*s)
		}
	}
	return belief{root}, nil
}

// after is the belief after readings with errors of unit variance, independent
// of each other. slopes are those of the readings, a row each, along the numbers.
//
//	P' = (P⁻¹ + HᵀH)⁻¹ = L (I + (HL)ᵀ(HL))⁻¹ Lᵀ = (L R⁻¹)(L R⁻¹)ᵀ
//
// with the QR factor R of HL above I, whose condition is that of the readings
// and not that of P. It does not depend on what is read.
//
// Sources: D. V. Lindley, "On a measure of the information provided by an
// experiment", Annals of Mathematical Statistics 27 (1956) 986-1005 (from
// memory); K. Chaloner and I. Verdinelli, "Bayesian experimental design: a
// review", Statistical Science 10 (1995) 273-304: a gᵀP'g that is least is their
// Bayesian c-optimality.
func (b belief) after(slopes *mat.Dense) belief {
	n, _ := slopes.Dims()
	_, d := b.root.Dims()
	stack := mat.NewDense(n+d, d, nil)
	stack.Slice(0, n, 0, d).(*mat.Dense).Mul(slopes, b.root)
	for k := range d {
		stack.Set(n+k, k, 1)
	}
	var qr mat.QR
	qr.Factorize(stack)
	var whole mat.Dense
	qr.RTo(&whole)
	r := mat.NewTriDense(d, mat.Upper, nil)
	for i := range d {
		for j := i; j < d; j++ {
			r.SetTri(i, j, whole.At(i, j))
		}
	}
	// RᵀR is at least I, so that R is never near singular; what Solve says of its
	// condition is that of the readings.
	var x mat.Dense
	_ = x.Solve(r.T(), b.root.T())
	root := mat.DenseCopyOf(x.T())
	return belief{root}
}

// deviation is √(gᵀPg).
func (b belief) deviation(g []float64) float64 {
	var v mat.VecDense
	v.MulVec(b.root.T(), mat.NewVecDense(len(g), g))
	return mat.Norm(&v, 2)
}

// times is P g.
func (b belief) times(g []float64) []float64 {
	var v, w mat.VecDense
	v.MulVec(b.root.T(), mat.NewVecDense(len(g), g))
	w.MulVec(b.root, &v)
	return w.RawVector().Data
}

// whitened are slopes of readings whose errors are I + N Nᵀ, with nuisances of
// unit variance that move the readings by N, turned so that the errors of the
// readings are independent and of unit variance.
func whitened(slopes, nuisance *mat.Dense) *mat.Dense {
	n, _ := slopes.Dims()
	errs := mat.NewSymDense(n, nil)
	errs.SymOuterK(1, nuisance)
	for i := range n {
		errs.SetSym(i, i, errs.At(i, i)+1)
	}
	var chol mat.Cholesky
	chol.Factorize(errs) // never fails: no eigenvalue is below 1
	var l mat.TriDense
	chol.LTo(&l)
	out := &mat.Dense{}
	_ = out.Solve(&l, slopes) // as above
	return out
}

// passed is the chance that a margin with a doubt is below 0.
func passed(margin, sigma float64) float64 {
	if sigma <= 0 {
		if margin < 0 {
			return 1
		}
		return 0
	}
	return distuv.UnitNormal.CDF(-margin / sigma)
}

// misjudged is the chance that a margin and what is believed of it afterwards
// lie on different sides of the limit, when its deviation falls from σ to σ':
//
//	∫ φ(z) Φ(−|m + z √(σ²−σ'²)|/σ') dz
//
// The chance to pass the limit itself stays, on average over what may be read,
// as it is. By the trapezoidal rule, in steps of 0.01; where σ' is far below σ
// the kink at 0 costs up to 1e-4.
func misjudged(margin, before, after float64) float64 {
	const step, far = 0.01, 8.0
	s := math.Sqrt(math.Max(0, before*before-after*after))
	sum := 0.0
	for i := range int(2*far/step) + 1 {
		z := -far + step*float64(i)
		sum += step * distuv.UnitNormal.Prob(z) * passed(math.Abs(margin+z*s), after)
	}
	return sum
}
