package uncertainty

import (
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/mathext"
	"hotclimb/sweep"
)

// Spread is how far the results of a study spread.
type Spread struct {
	Results  []Distribution // in the order of the results; for a history its bands
	Points   int            // drawn
	Failures []Failure      // of these, by number; Results are those of the others
}

// Distribution is that of one result, over the points with results.
type Distribution struct {
	Mean, Deviation   float64 // the standard deviation, for n-1
	Low, Median, High float64 // 5, 50 and 95 % lie below

	// Passed is the probability that the result is at its limit or below. The
	// interval is that of independent draws after E. B. Wilson, "Probable
	// inference, the law of succession, and statistical inference", Journal of the
	// American Statistical Association 22, 209-212 (1927); a Sobol sequence and a
	// Latin hypercube mostly err less. Failed runs widen it: its lower end counts
	// them as not past the limit, its upper end as past it.
	Passed Estimate
}

// Propagate draws Points points of the inputs and evaluates each once.
//
// Failed runs are listed. The distributions are those of the others: should the
// formula fail in one corner of the inputs, that corner is missing.
//
// All results are kept until the end, in 8·Points·Outputs bytes: 8 MB for 1024
// histories of 1000 values. Double precision costs twice the room of single and
// spares a bound on what a result may be.
func Propagate(ctx context.Context, study Study) (*Spread, error) {
	s, err := study.prepared()
	if err != nil {
		return nil, err
	}
	d, points, err := s.draws(1)
	if err != nil {
		return nil, err
	}
	return s.propagate(ctx, d, points)
}

func (s *Study) propagate(ctx context.Context, d *sweep.Draws, points sweep.Points) (*Spread, error) {
	if err := s.room(1); err != nil {
		return nil, err
	}
	r, err := s.evaluate(ctx, s.Points, func(run int, x []float64) { d.At(points, run, 0, x) })
	if err != nil {
		return nil, err
	}
	spread := &Spread{Results: make([]Distribution, s.Outputs), Points: s.Points, Failures: r.failures()}
	good := r.good()
	if len(good) < leastResults {
		return nil, tooFew(len(good), s.Points, spread.Failures)
	}
	err = each(ctx, s.Workers, s.Outputs, func() func(int) {
		y := make([]float64, len(good))
		return func(i int) {
			for row, run := range good {
				y[row] = r.y[run*s.Outputs+i]
			}
			spread.Results[i] = s.distribution(y, s.Limits[i], len(spread.Failures))
		}
	})
	return spread, err
}

// distribution is that of values, which it sorts, beside some runs that failed.
func (s *Study) distribution(y []float64, limit float64, failed int) Distribution {
	slices.Sort(y)
	n := float64(len(y))
	var d Distribution
	for _, v := range y {
		d.Mean += v / n
	}
	d.Mean = min(max(d.Mean, y[0]), y[len(y)-1]) // rounding may pass them
	for _, v := range y {
		d.Deviation += (v - d.Mean) * (v - d.Mean) / (n - 1)
	}
	d.Deviation = math.Sqrt(d.Deviation)
	d.Low, d.Median, d.High = quantile(y, 0.05), quantile(y, 0.5), quantile(y, 0.95)

	passed := 0
	for passed < len(y) && y[passed] <= limit {
		passed++
	}
	d.Passed.Value = float64(passed) / n
	d.Passed.Lo, _ = wilson(passed, len(y)+failed, s.Level)
	_, d.Passed.Hi = wilson(passed+failed, len(y)+failed, s.Level)
	return d
}

// wilson is the interval of a probability of which k of n independent draws are
// seen: with p = k/n and z the quantile of the level,
//
//	(p + z²/2n ± z √(p (1-p)/n + z²/4n²)) / (1 + z²/n)
func wilson(k, n int, level float64) (lo, hi float64) {
	p, z := float64(k)/float64(n), mathext.NormalQuantile((1+level)/2)
	w := z * z / float64(n)
	half := math.Sqrt(w*p*(1-p) + w*w/4)
	lo, hi = (p+w/2-half)/(1+w), (p+w/2+half)/(1+w)
	return min(max(lo, 0), p), max(min(hi, 1), p)
}

// quantile is the value below which a share p of sorted values lies: of n, value
// k, from 1, stands at (k - 1/2)/n, and between two the line holds (R. J. Hyndman
// and Y. Fan, "Sample quantiles in statistical packages", American Statistician
// 50, 361-365 (1996), definition 5).
func quantile(sorted []float64, p float64) float64 {
	place := min(max(p*float64(len(sorted))-0.5, 0), float64(len(sorted)-1))
	k := int(place)
	if k+1 == len(sorted) {
		return sorted[k]
	}
	return sorted[k] + (place-float64(k))*(sorted[k+1]-sorted[k])
}
