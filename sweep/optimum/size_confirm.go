package optimum

import (
	"context"

	"golang.org/x/sync/errgroup"
)

// Confirmation is the answer of Nelder-Mead, which shares nothing with the
// linear programs but the flights.
type Confirmation struct {
	Starts     int // it started from, none of them the answer
	X          []float64
	Fits       bool    // it keeps every limit
	Difference float64 // of it from the answer, as a share of the answer; negative when less
	Improved   bool    // it had found less at first, and the search started again from there
}

const (
	confirmStarts      = 3    // of Nelder-Mead
	confirmSize        = 0.1  // of its first simplex, as a share of the bounds
	confirmGain        = 1e-4 // of the objective of the best start, that is not worth another step of it
	betterConfirmed    = 1e-3 // share of the objective from which the search starts again
	confirmEvaluations = 45   // for each variable and start
)

// confirmed tells of an answer that fits, while the other method searches. Where
// that finds less, the linear programs start again from there.
func (p *sizer) confirmed(ctx context.Context, end found, out *Sized) error {
	var other *Solution
	var starts int
	both, bothCtx := errgroup.WithContext(ctx)
	both.Go(func() error { return p.apart().tell(bothCtx, end, out) })
	both.Go(func() (err error) {
		other, starts, err = p.apart().byWalks(bothCtx)
		return err
	})
	if err := both.Wait(); err != nil {
		return err
	}
	c := &Confirmation{Starts: starts, X: p.values(other.X), Fits: other.Feasible}
	out.Confirmation = c
	if other.Feasible && other.F < end.F*(1-betterConfirmed) {
		c.Improved = true
		again, err := p.minimise(ctx, found{Solution: other}, settings())
		if err != nil {
			return err
		}
		if again.Feasible && again.F < end.F {
			end = again
			if err := p.tell(ctx, end, out); err != nil {
				return err
			}
		}
	}
	c.Difference = other.F/end.F - 1
	return nil
}

// byWalks searches with the other method from the best starts, and looks at every
// case that sleeps in the end; X is in shares of the bounds.
func (p *sizer) byWalks(ctx context.Context) (*Solution, int, error) {
	starts, err := p.starts(ctx) // again, as margins for doubt change their order
	if err != nil {
		return nil, 0, err
	}
	var from [][]float64
	for _, s := range starts[:min(confirmStarts, len(starts))] {
		from = append(from, p.shares(s.x))
	}
	set := settings()
	set.Radius, set.Gain, set.Evaluations = confirmSize, confirmGain, confirmEvaluations*len(p.Factors)
	for {
		q := p.problem()
		end, err := unjudged(ctx, &q, from, set)
		if err != nil {
			return nil, 0, err
		}
		if woken, _, err := p.wake(ctx, p.values(end.X)); err != nil || woken == 0 {
			return end, len(from), err
		}
	}
}
