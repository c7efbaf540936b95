package uncertainty

import (
	"context"
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"hotclimb/sweep"
)

// Study is a formula and what is known of its inputs.
type Study struct {
	Inputs []sweep.Normal

	// Correlation of the inputs, in their order, with ones on the diagonal; nil:
	// they are independent. sweep.Draws says what it means at bounds.
	Correlation *mat.SymDense

	// Groups get a share of the variance each, in Indices; inputs of no group
	// stand together in one more, AllOthers. Correlated inputs are of the same
	// group. nil: those connected by correlations are one, the others alone.
	Groups []Group

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

// Group is a set of inputs that count together.
type Group struct {
	Name   string // "" for that of its inputs
	Inputs []int  // by their places
}

// AllOthers is the name of the group of what is in no other.
const AllOthers = "all others"

// Estimate is a number with its interval at the level of the study.
type Estimate struct{ Value, Lo, Hi float64 }

// Failure is a run that gave no results.
type Failure struct {
	Run    int       // its number
	Inputs []float64 // what it was called with
	Err    error
}

const (
	mostPoints   = 1 << 20
	mostValues   = 1 << 28 // results kept: 2 GiB
	leastResults = 2
)

// prepared returns a copy with its defaults filled in, or all its faults.
func (s Study) prepared() (*Study, error) {
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
	return &s, nil
}

// room is the error of more results than can be kept, with so many runs for each
// point.
func (s *Study) room(runs int) error {
	if s.Points > mostValues/runs/s.Outputs {
		return fmt.Errorf("%d points of %d runs with %d results are too many to keep: take fewer points or results", s.Points, runs, s.Outputs)
	}
	return nil
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
	bad(s.Evaluate == nil, "there is no formula to evaluate")
	bad(s.Outputs < 1, "%d results: a formula has one or more", s.Outputs)
	bad(s.Outputs > 0 && len(s.Limits) != s.Outputs, "%d limits for %d results", len(s.Limits), s.Outputs)
	bad(s.Points < leastResults || s.Points > mostPoints, "%d points: take %d to %d", s.Points, leastResults, mostPoints)
	if err := sweep.PointFault(s.Design, s.Points); err != nil {
		faults = append(faults, err)
	}
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
		if err := s.Inputs[k].Fault(); err != nil {
			faults = append(faults, fmt.Errorf("input %q: %w", s.Inputs[k].Name, err))
		}
	}
	return errors.Join(faults...)
}
