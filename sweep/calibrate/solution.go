package calibrate

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Status says how a search ended.
type Status int

const (
	// Converged: no step promises a gain that is worth it, or none is found where
	// slopes say that there is none (Angle below 1e-6).
	Converged Status = iota
	// Stalled: no step that is short enough to keep its promise promises a gain
	// that is worth it. The residuals are noisy or have a kink here.
	Stalled
	// OutOfIterations: Settings.Iterations are used up.
	OutOfIterations
)

func (s Status) String() string {
	return [...]string{"converged", "stalled", "out of iterations"}[s]
}

// Solution is where a search ended.
type Solution struct {
	X         []float64
	Residuals []float64 // weighted, as Evaluate gave them
	Weights   []float64 // what each residual's square counts under the loss; 1 under squares

	SumOfSquares float64 // of Residuals
	PriorSquares float64 // (x - mean)ᵀ S⁻¹ (x - mean), what the priors cost
	// Cost is what was made least: SumOfSquares, or what the loss makes of it,
	// and PriorSquares.
	Cost float64
	// Freedom are the readings and priors less the parameters that are not held.
	Freedom int
	// Held are the parameters that rest at a bound beyond which Cost would fall.
	Held []int

	// Covariance is (JᵀJ + P)⁻¹ with J the slopes of the weighted residuals at X
	// (rows weighted by the loss) and P the inverse of the covariance of the
	// priors, 1/σ² on its diagonal where they are independent: the covariance after the readings, if σ of readings and priors are true. It is
	// nil where readings and priors together leave a direction open; Blind says
	// which. Bounds are not counted.
	Covariance *mat.SymDense
	// Sigma are the roots of its diagonal, Correlation is it in units of Sigma.
	Sigma       []float64
	Correlation *mat.SymDense

	Iterations  int // steps tried
	Evaluations int

	// Angle is the largest cosine of the angles between the residuals and what a
	// parameter that may move does to them; 0 at a least, 1 at most. It means
	// nothing where nothing but rounding is left of the residuals.
	Angle  float64
	Status Status

	prior  func(k int) Prior
	units  []float64  // fair changes of the parameters
	slopes *mat.Dense // of the weighted residuals
}

// solution is what the search found.
func (s *search) solution(status Status) *Solution {
	m := s.here
	sol := &Solution{
		X: m.x, Residuals: m.r, Weights: make([]float64, len(m.r)),
		PriorSquares: s.priors.squares(m.x), Cost: m.cost, Held: s.held(m), Freedom: len(m.rest) - len(m.x),
		Iterations: s.iterations, Evaluations: int(s.evaluations.Load()),
		Angle: s.angle(m), Status: status, prior: s.prior, slopes: m.slopes,
	}
	sol.Freedom += len(sol.Held)
	for k, x := range m.x {
		sol.units = append(sol.units, s.unit(k, x))
	}
	for i, r := range m.r {
		sol.SumOfSquares += r * r
		sol.Weights[i] = s.Loss.weight(r)
	}
	if sol.Covariance = covariance(m.rows); sol.Covariance != nil {
		sol.Sigma, sol.Correlation = spread(sol.Covariance)
	}
	return sol
}

// ReducedChiSquare is (SumOfSquares + PriorSquares)/Freedom: about 1 where the
// σ of readings and priors are true, give or take √(2/Freedom). It is 0 without
// a degree of freedom.
func (s *Solution) ReducedChiSquare() float64 {
	if s.Freedom <= 0 {
		return 0
	}
	return (s.SumOfSquares + s.PriorSquares) / float64(s.Freedom)
}

// ScaledCovariance is Covariance times ReducedChiSquare: what it is when only
// the ratios of the σ are known and their size is taken from how the readings
// scatter, as in a common regression with σ = 1. Priors are scaled with the
// readings; where theirs are true and those of the readings are not, correct
// those of the readings and fit again. It is nil where Covariance is, and
// without a degree of freedom.
func (s *Solution) ScaledCovariance() *mat.SymDense {
	if s.Covariance == nil || s.Freedom <= 0 {
		return nil
	}
	var c mat.SymDense
	c.ScaleSym(s.ReducedChiSquare(), s.Covariance)
	return &c
}

// ScaledSigma are the roots of the diagonal of ScaledCovariance.
func (s *Solution) ScaledSigma() []float64 {
	c := s.ScaledCovariance()
	if c == nil {
		return nil
	}
	sigma, _ := spread(c)
	return sigma
}

// Sharpened is the standard deviation of each parameter after the readings over
// that of its prior: 1 where they taught nothing, 0 where nothing was known
// before. It is nil where Covariance is.
func (s *Solution) Sharpened() []float64 {
	if s.Covariance == nil {
		return nil
	}
	ratio := make([]float64, len(s.X))
	for k := range ratio {
		if prior := s.prior(k); prior.known() {
			ratio[k] = s.Sigma[k] / prior.Sigma
		}
	}
	return ratio
}

// covariance is (AᵀA)⁻¹ by the Cholesky factor of AᵀA, with columns of length 1.
// The factor is the triangle of the QR decomposition of A: squaring A first would
// lose half the digits. It is nil where AᵀA is as good as singular.
func covariance(a *mat.Dense) *mat.SymDense {
	_, n := a.Dims()
	size := norms(a)
	t := newTriangle(a, nil)
	factor := mat.NewTriDense(n, mat.Upper, nil)
	for i := range n {
		if t.r.At(i, i) == 0 {
			return nil
		}
		for k := i; k < n; k++ {
			factor.SetTri(i, k, t.r.At(i, k)/size[k])
		}
	}
	var chol mat.Cholesky
	chol.SetFromU(factor)
	var c mat.SymDense
	if err := chol.InverseTo(&c); err != nil {
		return nil
	}
	for i := range n {
		for k := i; k < n; k++ {
			c.SetSym(i, k, c.At(i, k)/size[i]/size[k])
		}
	}
	return &c
}

// spread is the roots of the diagonal of a covariance, and what is left in their
// units.
func spread(c *mat.SymDense) ([]float64, *mat.SymDense) {
	n := c.SymmetricDim()
	sigma, correlation := make([]float64, n), mat.NewSymDense(n, nil)
	for i := range sigma {
		sigma[i] = math.Sqrt(c.At(i, i))
		correlation.SetSym(i, i, 1)
		for k := range i {
			correlation.SetSym(i, k, clamp(c.At(i, k)/sigma[i]/sigma[k], -1, 1))
		}
	}
	return sigma, correlation
}
