package sweep

import (
	"context"
	"fmt"
	"math"

	"golang.org/x/sync/errgroup"
	"hotclimb/scenarios"
)

// Doubt asks how far the margins of one scenario spread because some of its
// numbers are only known within their doubts.
type Doubt struct {
	Scenario *scenarios.Scenario // effective, of one case
	Doubts   *Doubts             // of it, from DoubtsOf

	// Known are slopes by path that are taken as they are, each with no flight;
	// nil: none. Slopes.Small has some.
	Known map[string]Margins

	// Fly gives the outcome of a scenario; it is called by Workers goroutines.
	Fly     func(context.Context, *scenarios.Scenario) (Outcome, error)
	Workers int // flights at a time; 0 means 1
}

// Spread is one standard deviation of each margin of a flight [K].
type Spread struct {
	Circuits [2]float64 // Coolant and Oil
	Boil     float64    // 0 for a liquid without boiling point
}

// Boiling is the number of the margin to boiling in Margins, after Coolant and
// Oil.
const Boiling = 2

// Margins are the least margins of a flight, Coolant, Oil and Boiling [K]; the
// last is 0 for a liquid without boiling point.
type Margins [3]float64

// MarginsOf are those of an outcome.
func MarginsOf(o *Outcome) Margins {
	m := Margins{o.Circuits[Coolant].Margin, o.Circuits[Oil].Margin, o.BoilMargin}
	if math.IsInf(m[Boiling], 0) {
		m[Boiling] = 0
	}
	return m
}

// Slopes are how margins follow the numbers, to first order.
type Slopes struct {
	At Margins   // as the scenario stands
	By []Margins // by number: ∂m/∂x · σ [K], with the deviation that the bounds leave of σ

	doubts *Doubts
}

// Slopes takes one flight of the scenario as it stands, and one for each number
// moved by its standard deviation: up, down where its range ends or where it
// cannot be flown so, and to the farther end of a range that is shorter on both
// sides.
func (d *Doubt) Slopes(ctx context.Context) (*Slopes, error) {
	s := &Slopes{By: make([]Margins, len(d.Doubts.Params)), doubts: d.Doubts}
	o, err := d.Fly(ctx, d.Scenario)
	if err != nil {
		return nil, err
	}
	s.At = MarginsOf(&o)
	err = d.each(ctx, len(s.By), func(ctx context.Context, k int) (err error) {
		if by, known := d.Known[d.Doubts.Params[k].Path]; known {
			s.By[k] = by
			return nil
		}
		s.By[k], err = d.slope(ctx, s.At, k)
		return err
	})
	return s, err
}

// slope is that of the margins along number k, times its deviation.
func (d *Doubt) slope(ctx context.Context, at Margins, k int) (by Margins, err error) {
	p, mean, sigma := d.Doubts.Params[k], d.Doubts.Mean[k], d.Doubts.draws.numbers[k].spread()
	for _, x := range steps(&p, mean, sigma) {
		var sc *scenarios.Scenario
		sc, err = d.Doubts.edit(d.Scenario, func(j int) float64 {
			if j == k {
				return x
			}
			return d.Doubts.Mean[j]
		})
		if err != nil {
			continue
		}
		var o Outcome
		if o, err = d.Fly(ctx, sc); err != nil {
			continue
		}
		for c, m := range MarginsOf(&o) {
			by[c] = (m - at[c]) / (x - mean) * sigma
		}
		return by, nil
	}
	return by, fmt.Errorf("%s moved by its doubt: %w", p.Path, err)
}

// steps are where a number is moved to, the second for when the first cannot be
// flown.
func steps(p *scenarios.Param, mean, sigma float64) []float64 {
	if p.Whole {
		sigma = math.Max(1, math.Round(sigma))
	}
	first, second := math.Min(sigma, p.Hi-mean), -math.Min(sigma, mean-p.Lo)
	if first < -second {
		first, second = second, first
	}
	if second == 0 {
		return []float64{mean + first}
	}
	return []float64{mean + first, mean + second}
}

// Variance is what some of the numbers together put into the variance of each
// margin [K²],
//
//	gᵀ C g = Σ_jk ∂m/∂x_j ∂m/∂x_k ρ_jk σ_j σ_k
//
// (Joint Committee for Guides in Metrology, "Evaluation of measurement data -
// Guide to the expression of uncertainty in measurement", JCGM 100:2008,
// equation 13).
func (s *Slopes) Variance(numbers []int) Margins {
	var sum Margins
	for _, j := range numbers {
		for _, k := range numbers {
			if rho := s.doubts.correlation(j, k); rho != 0 {
				for c := range sum {
					sum[c] += rho * s.By[j][c] * s.By[k][c]
				}
			}
		}
	}
	for c := range sum {
		sum[c] = math.Max(0, sum[c]) // rounding may pass it
	}
	return sum
}

// Spread is the standard deviation of each margin.
func (s *Slopes) Spread() Spread { return s.total().roots() }

// total is the variance of each margin.
func (s *Slopes) total() Margins {
	all := make([]int, len(s.By))
	for k := range all {
		all[k] = k
	}
	return s.Variance(all)
}

// Small are the slopes, by path, of numbers that alone do less than a share of
// the variance of every margin. At a flight that is not far from this one they are
// small as well, and what little they change does not count.
func (s *Slopes) Small(share float64) map[string]Margins {
	small, total := map[string]Margins{}, s.total()
	for k, by := range s.By {
		counts := func(c int) bool { return by[c] != 0 && by[c]*by[c] >= share*total[c] }
		if !counts(Coolant) && !counts(Oil) && !counts(Boiling) {
			small[s.doubts.Params[k].Path] = by
		}
	}
	return small
}

// BySlopes is the spread to first order, for which see Slopes and its Variance.
func (d *Doubt) BySlopes(ctx context.Context) (Spread, error) {
	s, err := d.Slopes(ctx)
	if err != nil {
		return Spread{}, err
	}
	return s.Spread(), nil
}

// BySamples is the standard deviation of the margins of n flights, the numbers of
// which are drawn as Draws does, in a Latin hypercube. What a number takes in
// flight i follows from the seed and its place.
func (d *Doubt) BySamples(ctx context.Context, n int, seed uint64) (Spread, error) {
	if n < 2 {
		return Spread{}, fmt.Errorf("%d samples have no spread: take 2 or more", n)
	}
	points := NewLatin(n, len(d.Doubts.Params), seed)
	margins := make([]Margins, n)
	err := d.each(ctx, n, func(ctx context.Context, i int) error {
		x := make([]float64, len(d.Doubts.Params))
		d.Doubts.Draws().At(points, i, 0, x)
		sc, _, err := d.Doubts.Set(d.Scenario, x)
		if err != nil {
			return err
		}
		o, err := d.Fly(ctx, sc)
		margins[i] = MarginsOf(&o)
		return err
	})
	if err != nil {
		return Spread{}, err
	}
	return variance(margins).roots(), nil
}

// variance is that of draws.
func variance(draws []Margins) (sum Margins) {
	var mean Margins
	n := float64(len(draws))
	for _, m := range draws {
		for c := range mean {
			mean[c] += m[c] / n
		}
	}
	for _, m := range draws {
		for c := range sum {
			sum[c] += (m[c] - mean[c]) * (m[c] - mean[c]) / (n - 1)
		}
	}
	return sum
}

// roots are the deviations of variances.
func (m Margins) roots() Spread {
	return Spread{[2]float64{math.Sqrt(m[Coolant]), math.Sqrt(m[Oil])}, math.Sqrt(m[Boiling])}
}

// each does 0 … n-1, Workers at a time, until one fails.
func (d *Doubt) each(ctx context.Context, n int, do func(ctx context.Context, i int) error) error {
	g, ctx := errgroup.WithContext(ctx)
	g.SetLimit(max(d.Workers, 1))
	for i := range n {
		g.Go(func() error {
			if err := ctx.Err(); err != nil {
				return err
			}
			return do(ctx, i)
		})
	}
	return g.Wait()
}
