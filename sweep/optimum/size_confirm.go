package optimum

import "context"

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
	betterConfirmed    = 1e-3 // share of the objective from which the search starts again
	confirmEvaluations = 30   // for each variable and start
)

// confirm searches with the other method from the best starts. Where that finds
// less, the linear programs start again from there.
func (p *sizer) confirm(ctx context.Context, sol *Solution, out *Sized) (*Solution, error) {
	starts, err := p.starts(ctx) // again, as margins for doubt change their order
	if err != nil {
		return nil, err
	}
	set := settings()
	set.Radius, set.Evaluations = confirmSize, confirmEvaluations*len(p.Factors)
	var from [][]float64
	for _, s := range starts[:min(confirmStarts, len(starts))] {
		from = append(from, s.x)
	}
	other, err := Confirm(ctx, p.problem(), from, set)
	if err != nil {
		return nil, err
	}
	c := &Confirmation{Starts: len(from), X: other.X, Fits: other.Feasible}
	if other.Feasible && other.F < sol.F*(1-betterConfirmed) {
		c.Improved = true
		again, err := p.minimise(ctx, other.X, out)
		if err != nil {
			return nil, err
		}
		if again.Feasible && again.F < sol.F {
			sol = again
		}
	}
	c.Difference = other.F/sol.F - 1
	out.Confirmation = c
	return sol, nil
}
