package calibrate

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Prior is what is known of a parameter beforehand: a normal distribution.
type Prior struct {
	Mean  float64
	Sigma float64 // standard deviation; 0 or +Inf means that nothing is known
}

// known reports whether anything is known.
func (p Prior) known() bool { return p.Sigma > 0 && !math.IsInf(p.Sigma, 1) }

// priors are the rows that what is known beforehand adds to a problem of least
// squares: W with WᵀW = S⁻¹, S the covariance of the priors, so that
// ‖W(x - mean)‖² is what they cost. With S = D R D, D the standard deviations
// and R = L Lᵀ their correlations, W = L⁻¹ D⁻¹.
type priors struct {
	rows *mat.Dense // a row for each known prior; nil without any
	mean []float64  // of all parameters; 0 where nothing is known
}

// almost is by what share correlations are taken smaller where they do not hold
// together as given: written with three digits, they need not (engineering
// judgement).
const almost = 1e-3

// newPriors makes the rows of a problem with n parameters.
func (p *Problem) newPriors(n int) (*priors, error) {
	q := &priors{mean: make([]float64, n)}
	var known []int
	for k := range n {
		if p.prior(k).known() {
			known = append(known, k)
			q.mean[k] = p.prior(k).Mean
		}
	}
	if len(known) == 0 {
		return q, nil
	}
	q.rows = mat.NewDense(len(known), n, nil)
	for i, k := range known {
		q.rows.Set(i, k, 1/p.prior(k).Sigma)
	}
	if p.Correlation == nil {
		return q, nil
	}
	l, err := p.correlationFactor(known)
	if err != nil {
		return nil, err
	}
	return q, l.SolveTo(q.rows, false, mat.DenseCopyOf(q.rows))
}

// correlationFactor is the Cholesky factor of the correlations of some
// parameters.
func (p *Problem) correlationFactor(known []int) (*mat.TriDense, error) {
	r := mat.NewSymDense(len(known), nil)
	for _, share := range []float64{1, 1 - almost} {
		for i, k := range known {
			r.SetSym(i, i, 1)
			for j, m := range known[:i] {
				r.SetSym(i, j, share*p.Correlation.At(k, m))
			}
		}
		var chol mat.Cholesky
		if chol.Factorize(r) && chol.Cond() < 1/dependent {
			var l mat.TriDense
			chol.LTo(&l)
			return &l, nil
		}
	}
	return nil, fmt.Errorf("the correlations of the priors cannot hold together")
}

// pulls is how far x is from what was known, in standard deviations: W(x - mean).
func (q *priors) pulls(x []float64) []float64 {
	if q.rows == nil {
		return nil
	}
	rows, n := q.rows.Dims()
	off := mat.NewVecDense(n, nil)
	for k, v := range x {
		off.SetVec(k, v-q.mean[k])
	}
	pulls := mat.NewVecDense(rows, nil)
	pulls.MulVec(q.rows, off)
	return pulls.RawVector().Data
}

// squares is what the priors cost at x.
func (q *priors) squares(x []float64) float64 {
	sum := 0.0
	for _, pull := range q.pulls(x) {
		sum += pull * pull
	}
	return sum
}
