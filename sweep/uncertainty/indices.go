package uncertainty

import (
	"context"
	"slices"

	"hotclimb/sweep"
)

// Sources is where the variance of the results of a study comes from.
type Sources struct {
	Results  []Origin // in the order of the results
	Points   int      // drawn, each of two sets of inputs
	Runs     int      // Points·(d+2) for d groups
	Dropped  int      // points of which a run failed, and which count nothing
	Failures []Failure
}

// Origin is what makes one result spread.
type Origin struct {
	Mean, Deviation float64 // of both sets of the points
	Shares          []Share // by Total, the largest first; equals in the order of the groups
}

// Share is the part of a group of inputs in the variance V of a result y.
type Share struct {
	Name   string
	Inputs []int // their places

	// First is S_k = V[E(y|x_k)]/V, what would go from the variance on average if
	// this group were known, and Total is T_k = E[V(y|all others)]/V, what would
	// stay if all but it were known. Without interactions both are equal and add
	// up to 1 over the groups.
	First, Total Estimate
}

// Indices divides the variance of each result among the groups of inputs.
//
// Each point holds two sets of inputs, A and B, drawn together in twice their
// dimensions, and takes d+2 runs for d groups: A, B, and A with group k from B,
// called A_k.
//
//	S_k V = mean of f(B) (f(A_k) - f(A))
//	T_k V = mean of (f(A) - f(A_k))²/2
//
// Groups are independent of each other, so that A_k is a draw like A and B, and
// both hold for whole groups as for single inputs (I. M. Sobol, "Global
// sensitivity indices for nonlinear mathematical models and their Monte Carlo
// estimates", Mathematics and Computers in Simulation 55, 271-280 (2001)), with
// correlated inputs inside of them too (J. Jacques, C. Lavergne and N. Devictor,
// "Sensitivity analysis in presence of model uncertainty and correlated inputs",
// Reliability Engineering and System Safety 91, 1126-1134 (2006); both from
// memory). An input of a group with others has no share of its own.
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
	s, err := study.prepared()
	if err != nil {
		return nil, err
	}
	d, points, err := s.draws(2)
	if err != nil {
		return nil, err
	}
	if s.Groups, err = s.grouped(d.Groups()); err != nil {
		return nil, err
	}
	return s.indices(ctx, d, points)
}

// The runs of a point: A, B, and A with each group from B.
const (
	runA = iota
	runB
	runSwapped
)

func (s *Study) indices(ctx context.Context, d *sweep.Draws, points sweep.Points) (*Sources, error) {
	width, perPoint := len(s.Inputs), len(s.Groups)+runSwapped
	if err := s.room(perPoint); err != nil {
		return nil, err
	}
	r, err := s.evaluate(ctx, s.Points*perPoint, func(run int, x []float64) {
		point, kind := run/perPoint, run%perPoint
		if kind == runB {
			d.At(points, point, width, x)
			return
		}
		d.At(points, point, 0, x)
		if kind >= runSwapped {
			b := make([]float64, width)
			d.At(points, point, width, b)
			for _, k := range s.Groups[kind-runSwapped].Inputs {
				x[k] = b[k]
			}
		}
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
		if sources.Results[i], err = s.origin(ctx, newColumns(r, len(s.Groups), good, i)); err != nil {
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
	at := newIndexSet(len(s.Groups))
	o := Origin{Shares: make([]Share, len(s.Groups))}
	o.Mean, o.Deviation = c.indices(all, at)
	lo, hi, err := s.bootstrap(ctx, c)
	if err != nil {
		return Origin{}, err
	}
	for k := range o.Shares {
		o.Shares[k] = Share{
			Name: s.Groups[k].Name, Inputs: s.Groups[k].Inputs,
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
