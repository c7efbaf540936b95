package uncertainty

import (
	"context"
	"fmt"
	"math"
	"sync/atomic"

	"golang.org/x/sync/errgroup"
	"hotclimb/sweep"
)

// results are those of all runs.
type results struct {
	outputs int
	y       []float64 // run by run
	errs    []error   // by run
	inputs  func(run int, x []float64)
	width   int // of x
}

// evaluate makes all runs. inputs puts those of a run into x; it is called by
// several goroutines.
func (s *Study) evaluate(ctx context.Context, runs int, inputs func(run int, x []float64)) (*results, error) {
	r := &results{s.Outputs, make([]float64, runs*s.Outputs), make([]error, runs), inputs, len(s.Inputs)}
	err := each(ctx, s.Workers, runs, func() func(int) {
		x := make([]float64, r.width)
		return func(run int) {
			inputs(run, x)
			r.errs[run] = s.try(ctx, x, r.of(run))
		}
	})
	if err == nil {
		err = ctx.Err() // the last runs may have been broken off
	}
	return r, err
}

// of are the results of a run.
func (r *results) of(run int) []float64 {
	from, to := run*r.outputs, (run+1)*r.outputs
	return r.y[from:to:to]
}

// mostResult is the greatest result, the square of which is a number still.
const mostResult = 1e150

// try makes one run. A panic and a result that is no number, or too great a one,
// become errors.
func (s *Study) try(ctx context.Context, x, y []float64) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("internal fault, please report it: %v", r)
		}
	}()
	if err := s.Evaluate(ctx, x, y); err != nil {
		return err
	}
	for i, v := range y {
		if !(math.Abs(v) <= mostResult) {
			return fmt.Errorf("result %d is %g", i, v)
		}
	}
	return nil
}

// good are the runs with results.
func (r *results) good() []int {
	var list []int
	for run, err := range r.errs {
		if err == nil {
			list = append(list, run)
		}
	}
	return list
}

// failures lists the runs that failed, by number.
func (r *results) failures() []Failure {
	var list []Failure
	for run, err := range r.errs {
		if err == nil {
			continue
		}
		x := make([]float64, r.width)
		r.inputs(run, x)
		list = append(list, Failure{run, x, err})
	}
	return list
}

// draws are how points of so many sets of inputs become these.
func (s *Study) draws(sets int) (*sweep.Draws, sweep.Points, error) {
	d, err := sweep.NewDraws(s.Inputs, s.Correlation)
	if err != nil {
		return nil, nil, err
	}
	points, err := sweep.NewPoints(s.Design, s.Points, sets*len(s.Inputs), s.Seed)
	return d, points, err
}

// tooFew is the error of a study that has not left enough to tell anything.
func tooFew(left, of int, failures []Failure) error {
	return fmt.Errorf("%d of %d points are left; run %d: %w", left, of, failures[0].Run, failures[0].Err)
}

// each does 0 … n-1, each once, by some workers. prepare is called once by each
// of them and returns what it does.
func each(ctx context.Context, workers, n int, prepare func() func(i int)) error {
	var g errgroup.Group // runs see the same context, so that none begins after it has ended
	var next atomic.Int64
	for range min(workers, n) {
		g.Go(func() error {
			do := prepare()
			for {
				i := int(next.Add(1)) - 1
				if i >= n {
					return nil
				}
				if err := ctx.Err(); err != nil {
					return err
				}
				do(i)
			}
		})
	}
	return g.Wait()
}
