package uncertainty

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/bits"

	"gonum.org/v1/gonum/mat"
	"hotclimb/sweep"
)

// Study is a formula and what is known of its inputs.
type Study struct {
	Inputs []Input

	// Covariance of the inputs, in their order, as a fit leaves them; nil: they
	// are independent. Its diagonal is the square of their deviations.
	Covariance *mat.SymDense

	// Evaluate puts the results at x into y; both are only lent. It is called by
	// Workers goroutines. An error, a panic, and a result that is no number or
	// beyond ±1e150 make a failed run.
	Evaluate func(ctx context.Context, x, y []float64) error
	Outputs  int       // the length of y; a history counts with each of its values
	Limits   []float64 // a result at its limit or below has passed it; nil: all 0, as of margins

	Design string // sweep.SobolDesign, also when empty, or sweep.LatinDesign
	Points int    // n, a power of two for Sobol; 0 means 1024
	Seed   uint64 // of the points and of the resamples

	Workers   int     // runs at a time; 0 means 1
	Level     float64 // of the intervals; 0 means 0.9
	Resamples int     // for the intervals of indices; 0 means 400
}

// Input is a number that is not known exactly: normal with a mean μ and a
// standard deviation σ > 0, cut off at its bounds and scaled up between them. μ
// and σ are those of the normal before the cut; with bounds several σ away, they
// are those of the input too. The mean lies within the bounds.
type Input struct {
	Name      string
	Mean      float64
	Deviation float64
	Lo, Hi    float64 // both 0: without bounds; one side is left open by an infinity
}

// Estimate is a number with its interval at the level of the study.
type Estimate struct{ Value, Lo, Hi float64 }

// Failure is a run that gave no results.
type Failure struct {
	Run    int       // its number
	Inputs []float64 // what it was called with
	Err    error
}

// ErrCorrelated is that indices are asked of correlated inputs.
var ErrCorrelated = errors.New("inputs are correlated, so that no input has a share of its own in the variance: only Propagate has an answer")

const (
	mostPoints   = 1 << 20
	mostValues   = 1 << 28 // results kept: 2 GiB
	leastResults = 2
)

// prepared returns a copy with its defaults filled in, or all its faults. It
// takes runs for each point.
func (s Study) prepared(runs int) (*Study, error) {
	s.Points = orDefault(s.Points, 1024)
	s.Workers = orDefault(s.Workers, 1)
	s.Level = orDefault(s.Level, 0.9)
	s.Resamples = orDefault(s.Resamples, 400)
	s.Design = orDefault(s.Design, sweep.SobolDesign)
	if s.Limits == nil && s.Outputs > 0 {
		s.Limits = make([]float64, s.Outputs)
	}
	if err := errors.Join(s.faultsOfSettings(), s.faultsOfInputs()); err != nil {
		return nil, err
	}
	if s.Points > mostValues/runs/s.Outputs {
		return nil, fmt.Errorf("%d points of %d runs with %d results are too many to keep: take fewer points or results", s.Points, runs, s.Outputs)
	}
	return &s, nil
}

func orDefault[T comparable](x, otherwise T) T {
	var zero T
	if x == zero {
		return otherwise
	}
	return x
}

func (s *Study) faultsOfSettings() error {
	var faults []error
	bad := func(is bool, format string, args ...any) {
		if is {
			faults = append(faults, fmt.Errorf(format, args...))
		}
	}
	sobol := s.Design == sweep.SobolDesign
	bad(s.Evaluate == nil, "there is no formula to evaluate")
	bad(s.Outputs < 1, "%d results: a formula has one or more", s.Outputs)
	bad(s.Outputs > 0 && len(s.Limits) != s.Outputs, "%d limits for %d results", len(s.Limits), s.Outputs)
	bad(!sobol && s.Design != sweep.LatinDesign, "design %q is not known: take %s or %s", s.Design, sweep.SobolDesign, sweep.LatinDesign)
	bad(s.Points < leastResults || s.Points > mostPoints, "%d points: take %d to %d", s.Points, leastResults, mostPoints)
	bad(sobol && s.Points > 0 && bits.OnesCount(uint(s.Points)) != 1, "%d points: a Sobol sequence needs a power of two", s.Points)
	bad(s.Workers < 0, "%d workers", s.Workers)
	bad(!(s.Level > 0 && s.Level < 1), "level %g: take one between 0 and 1", s.Level)
	bad(s.Resamples < 0 || s.Resamples > mostPoints, "%d resamples: take 1 to %d", s.Resamples, mostPoints)
	for i, limit := range s.Limits {
		bad(math.IsNaN(limit), "limit %d is no number", i)
	}
	return errors.Join(faults...)
}

func (s *Study) faultsOfInputs() error {
	if len(s.Inputs) == 0 {
		return errors.New("there are no inputs with a doubt")
	}
	var faults []error
	for k := range s.Inputs {
		if err := s.Inputs[k].fault(); err != nil {
			faults = append(faults, fmt.Errorf("input %q: %w", s.Inputs[k].Name, err))
		}
	}
	return errors.Join(faults...)
}

func (in *Input) fault() error {
	lo, hi := in.bounds()
	switch {
	case math.IsNaN(in.Mean) || math.IsInf(in.Mean, 0):
		return fmt.Errorf("the mean is %g", in.Mean)
	case !(in.Deviation > 0) || math.IsInf(in.Deviation, 0):
		return fmt.Errorf("the standard deviation is %g: leave out what is known exactly", in.Deviation)
	case !(lo < hi):
		return fmt.Errorf("nothing lies between the bounds %g and %g", lo, hi)
	case in.Mean < lo || in.Mean > hi:
		return fmt.Errorf("the mean %g lies outside of the bounds %g to %g", in.Mean, lo, hi)
	}
	return nil
}

// bounds are those of the input, infinite where there are none.
func (in *Input) bounds() (lo, hi float64) {
	if in.Lo == 0 && in.Hi == 0 {
		return math.Inf(-1), math.Inf(1)
	}
	return in.Lo, in.Hi
}
