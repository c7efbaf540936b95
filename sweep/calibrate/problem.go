package calibrate

import (
	"context"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Problem is to make Σ r_i(x)² + (x - mean)ᵀ S⁻¹ (x - mean) least, within
// lo ≤ x ≤ hi, with S the covariance of what is known beforehand. Where the
// priors are independent, the second sum is Σ ((x_k - mean_k)/σ_k)².
type Problem struct {
	Residuals int // number of r

	// Evaluate puts the weighted residuals at x into r: model less reading, over
	// the standard deviation of the reading. It is never asked outside the
	// bounds, and by several goroutines at once. An error, or a number that is not
	// finite, makes x a place to avoid, but for the error of ctx, which ends the
	// search.
	Evaluate func(ctx context.Context, x, r []float64) error

	Prior []Prior // what is known of each parameter beforehand; nil means nothing
	// Correlation is that of the priors, of all parameters with ones on the
	// diagonal; nil means none. It counts between priors that are known.
	Correlation *mat.SymDense
	Lo, Hi      []float64 // bounds of each parameter; nil, or infinite, means none

	// Scale is what counts as a fair change of each parameter; nil or 0 means the
	// standard deviation of its prior. Where it has none it means its own size, but
	// no less than 1e-4 of the largest that it had, or of 1 if it started from 0.
	Scale []float64
	// Step is the step of differences as a share of Scale; 0 means 1.5e-8 to one
	// side and 6e-6 to both, which is for residuals that are exact to rounding.
	// Where a change by Scale moves the residuals by about 1 and they carry noise
	// e, it should be √e or more.
	Step float64

	Workers int  // evaluations at a time; 0 means 1; answers do not depend on it
	Loss    Loss // of residuals; the zero value means squares
}

// Settings says how hard to search. The zero value works.
type Settings struct {
	// Gain is the part of the sum of squares that is not worth another step;
	// 0 means 1e-16. Where a step promises no more, the parameters are about
	// √(Gain · Solution.Freedom) of their standard deviations from their end. With
	// noise e in residuals it should be about e², or steps are tried in vain.
	Gain float64
	// Radius is the first trust radius as a share of the size of the start, both
	// measured by what parameters do to residuals; 0 means 1.
	Radius float64
	// Iterations is the most steps that are tried; 0 means 1000.
	Iterations int
}

// orDefaults returns the settings with their defaults put in.
func (s Settings) orDefaults() Settings {
	s.Gain = orDefault(s.Gain, 1e-16)
	s.Radius = orDefault(s.Radius, 1)
	s.Iterations = orDefault(s.Iterations, 1000)
	return s
}

func orDefault[T int | float64](v, otherwise T) T {
	if v <= 0 {
		return otherwise
	}
	return v
}

// check returns what is wrong with a problem or a start.
func (p *Problem) check(start []float64) error {
	n := len(start)
	switch {
	case n == 0:
		return fmt.Errorf("a problem needs a parameter")
	case p.Residuals <= 0:
		return fmt.Errorf("there are no residuals")
	case p.Evaluate == nil:
		return fmt.Errorf("there is nothing to evaluate")
	case !(p.Step >= 0 && p.Step <= 1):
		return fmt.Errorf("the difference step %v is not between 0 and 1", p.Step)
	}
	for _, l := range []struct {
		of    string
		count int
	}{{"priors", len(p.Prior)}, {"lower bounds", len(p.Lo)}, {"upper bounds", len(p.Hi)}, {"scales", len(p.Scale)}} {
		if l.count != 0 && l.count != n {
			return fmt.Errorf("there are %d parameters and %d %s", n, l.count, l.of)
		}
	}
	if p.Correlation != nil && p.Correlation.SymmetricDim() != n {
		return fmt.Errorf("there are %d parameters and correlations of %d", n, p.Correlation.SymmetricDim())
	}
	for k := range n {
		if err := p.checkParameter(k, start[k]); err != nil {
			return fmt.Errorf("parameter %d: %w", k, err)
		}
	}
	return p.Loss.check()
}

// checkParameter returns what is wrong with what is said of parameter k.
func (p *Problem) checkParameter(k int, start float64) error {
	lo, hi, prior := p.lo(k), p.hi(k), p.prior(k)
	switch {
	case !finite(start):
		return fmt.Errorf("starts from %v", start)
	case !(lo < hi):
		return fmt.Errorf("the lower bound %v is not less than the upper bound %v", lo, hi)
	case !(prior.Sigma >= 0):
		return fmt.Errorf("the standard deviation %v of its prior is negative", prior.Sigma)
	case prior.known() && !finite(prior.Mean):
		return fmt.Errorf("the mean %v of its prior is not finite", prior.Mean)
	case p.Scale != nil && !(p.Scale[k] >= 0 && finite(p.Scale[k])):
		return fmt.Errorf("its scale is %v", p.Scale[k])
	}
	return nil
}

// lo is the lower bound of parameter k.
func (p *Problem) lo(k int) float64 {
	if p.Lo == nil {
		return math.Inf(-1)
	}
	return p.Lo[k]
}

// hi is the upper bound of parameter k.
func (p *Problem) hi(k int) float64 {
	if p.Hi == nil {
		return math.Inf(1)
	}
	return p.Hi[k]
}

// prior is what is known of parameter k.
func (p *Problem) prior(k int) Prior {
	if p.Prior == nil {
		return Prior{}
	}
	return p.Prior[k]
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

func clamp(v, lo, hi float64) float64 { return math.Min(math.Max(v, lo), hi) }
