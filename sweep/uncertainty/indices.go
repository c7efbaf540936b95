package uncertainty

import (
	"context"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// Sources is where the variance of the results of a study comes from.
type Sources struct {
	Results  []Origin // in the order of the results
	Points   int      // drawn, each of two sets of inputs
	Runs     int      // Points·(d+2) for d inputs
	Dropped  int      // points of which a run failed, and which count nothing
	Failures []Failure
}

// Origin is what makes one result spread.
type Origin struct {
	Mean, Deviation float64 // of both sets of the points
	Shares          []Share // by Total, the largest first; equals in the order of the inputs
}

// Share is the part of one input in the variance V of a result y.
type Share struct {
	Name  string
	Input int // its place among the inputs

	// First is S_k = V[E(y|x_k)]/V, what would go from the variance on average if
	// this input were known, and Total is T_k = E[V(y|all others)]/V, what would
	// stay if all but it were known. Without interactions both are equal and add
	// up to 1 over the inputs.
	First, Total Estimate
}

// Indices divides the variance of each result among the inputs, which must be
// independent: with correlated ones it returns ErrCorrelated.
//
// Each point holds two sets of d inputs, A and B, drawn together in 2d
// dimensions, and takes d+2 runs: A, B, and A with input k from B, called A_k.
//
//	S_k V = mean of f(B) (f(A_k) - f(A))
//	T_k V = mean of (f(A) - f(A_k))²/2
//
// S_k is after A. Saltelli, P. Annoni, I. Azzini, F. Campolongo, M. Ratto and
// S. Tarantola, "Variance based sensitivity analysis of model output. Design and
// estimator for the total sensitivity index", Computer Physics Communications
// 181, 259-270 (2010), table 2(b); T_k after M. J. W. Jansen, "Analysis of variance
// designs for model output", Computer Physics Communications 117, 35-43 (1999).
// The mean of A and B is taken off first, which changes nothing in the long run
// and keeps its error out of S_k. V is the variance over A and B.
//
// They are estimates: S_k may come out slightly below 0 or above T_k. Their
// intervals hold the Level in the middle of resamples of the points (the
// percentile bootstrap of B. Efron and R. J. Tibshirani, "An introduction to the
// bootstrap", 1993, chapter 13), which treats the points as independent: those of
// a Sobol sequence err less, so that its intervals are wider than they need be.
// A result that never changes has shares of 0.
//
// A point of which any run failed is dropped whole and counted. What is left is
// no longer quite independent in the inputs: with many failures shares are
// those of the part where the formula works. Results are kept in
// 8·Runs·Outputs bytes, so ask for moments of a history rather than for all of it.
func Indices(ctx context.Context, study Study) (*Sources, error) {
	if study.Covariance != nil && correlated(study.Covariance) {
		return nil, ErrCorrelated
	}
	s, err := study.prepared(len(study.Inputs) + 2)
	if err != nil {
		return nil, err
	}
	d, err := newDraws(s)
	if err != nil {
		return nil, err
	}
	points, err := s.cube(2 * len(s.Inputs))
	if err != nil {
		return nil, err
	}
	return s.indices(ctx, d, points)
}

// correlated says whether any two inputs are.
func correlated(covariance *mat.SymDense) bool {
	for j := range covariance.SymmetricDim() {
		for k := range j {
			if covariance.At(j, k) != 0 {
				return true
			}
		}
	}
	return false
}

// The runs of a point: A, B, and A with each input from B.
const (
	runA = iota
	runB
	runSwapped
)

func (s *Study) indices(ctx context.Context, d *draws, points cube) (*Sources, error) {
	width := len(s.Inputs)
	perPoint := width + runSwapped
	r, err := s.evaluate(ctx, s.Points*perPoint, func(run int, x []float64) bool {
		point, kind := run/perPoint, run%perPoint
		if kind == runB {
			return d.at(points, point, width, x)
		}
		d.at(points, point, 0, x)
		if k := kind - runSwapped; k >= 0 {
			x[k] = d.inputs[k].quantile(inside(points.Coordinate(point, width+k)))
		}
		return true
	})
	if err != nil {
		return nil, err
	}
	sources := &Sources{Points: s.Points, Runs: s.Points * perPoint, Failures: r.failures()}
	var good []int
	for point := range s.Points {
		if slices.ContainsFunc(r.errs[point*perPoint:(point+1)*perPoint], func(err error) bool { return err != nil }) {
			sources.Dropped++
			continue
		}
		good = append(good, point)
	}
	if len(good) < leastResults {
		return nil, tooFew(len(good), s.Points, sources.Failures)
	}
	sources.Results = make([]Origin, s.Outputs)
	for i := range sources.Results {
		if sources.Results[i], err = s.origin(ctx, newColumns(r, good, i)); err != nil {
			return nil, err
		}
	}
	return sources, nil
}

// origin is that of one result, ranked.
func (s *Study) origin(ctx context.Context, c *columns) (Origin, error) {
	all := make([]int, len(c.a))
	for row := range all {
		all[row] = row
	}
	at := newIndexSet(len(s.Inputs))
	o := Origin{Shares: make([]Share, len(s.Inputs))}
	o.Mean, o.Deviation = c.indices(all, at)
	lo, hi, err := s.bootstrap(ctx, c)
	if err != nil {
		return Origin{}, err
	}
	for k := range o.Shares {
		o.Shares[k] = Share{
			Name: s.Inputs[k].Name, Input: k,
			First: Estimate{at.first[k], lo.first[k], hi.first[k]},
			Total: Estimate{at.total[k], lo.total[k], hi.total[k]},
		}
	}
	slices.SortStableFunc(o.Shares, func(a, b Share) int {
		switch {
		case a.Total.Value > b.Total.Value:
			return -1
		case a.Total.Value < b.Total.Value:
			return 1
		}
		return 0
	})
	return o, nil
}
