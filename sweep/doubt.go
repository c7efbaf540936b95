package sweep

import (
	"context"
	"fmt"
	"math"

	"golang.org/x/sync/errgroup"
	"hotclimb/scenarios"
)

// Doubtful lists the numbers of an effective scenario that carry a doubt, in
// the order of the file.
func Doubtful(sc *scenarios.Scenario) []scenarios.Param {
	var list []scenarios.Param
	for _, path := range sc.Paths() {
		p, err := sc.Compile(path)
		if err != nil {
			continue
		}
		if n, ok := p.Get(sc); ok && n.Doubt > 0 {
			list = append(list, p)
		}
	}
	return list
}

// Doubt asks how far the margins of one scenario spread because some of its
// numbers are only known within their doubts. The doubts count as independent
// of each other.
type Doubt struct {
	Scenario *scenarios.Scenario // effective, of one case
	Params   []scenarios.Param   // the doubtful numbers, as of Doubtful

	// Fly gives the outcome of a scenario; it is called by Workers goroutines.
	Fly     func(context.Context, *scenarios.Scenario) (Outcome, error)
	Workers int // flights at a time; 0 means 1
}

// Spread is one standard deviation of each margin of a flight [K].
type Spread struct {
	Circuits [2]float64 // Coolant and Oil
	Boil     float64    // 0 for a liquid without boiling point
}

// BySlopes is the spread to first order, σ² = Σ (∂m/∂x_i · σ_i)² (Joint
// Committee for Guides in Metrology, "Evaluation of measurement data - Guide to
// the expression of uncertainty in measurement", JCGM 100:2008, equation 10).
// Each slope is the difference of two flights: the scenario as it stands, and
// one with one number moved by its standard deviation.
func (d *Doubt) BySlopes(ctx context.Context) (Spread, error) {
	outcomes, err := d.fly(ctx, 1+len(d.Params), func(i, k int) float64 {
		if i == 1+k {
			return 1
		}
		return 0
	})
	if err != nil {
		return Spread{}, err
	}
	at := marginsOf(&outcomes[0])
	var sum margins
	for i := range outcomes {
		m := marginsOf(&outcomes[i])
		for c := range sum {
			sum[c] += (m[c] - at[c]) * (m[c] - at[c])
		}
	}
	return sum.spread(), nil
}

// BySamples is the standard deviation of the margins of n flights, the doubtful
// numbers of which are drawn from normal distributions, reflected where their
// ranges end, in a Latin hypercube. What a number takes in flight i follows from
// the seed and the place of the number in Params.
func (d *Doubt) BySamples(ctx context.Context, n int, seed uint64) (Spread, error) {
	if n < 2 {
		return Spread{}, fmt.Errorf("%d samples have no spread: take 2 or more", n)
	}
	return d.sampled(ctx, n, NewLatin(n, len(d.Params), seed), 1)
}

// sampled is the standard deviation of margins at points that stand for draws,
// each a share of its deviation from the scenario as it stands.
func (d *Doubt) sampled(ctx context.Context, n int, points Latin, share float64) (Spread, error) {
	outcomes, err := d.fly(ctx, n, func(i, k int) float64 { return share * normal(points.Coordinate(i, k)) })
	if err != nil {
		return Spread{}, err
	}
	var mean, sum margins
	for i := range outcomes {
		m := marginsOf(&outcomes[i])
		for c := range mean {
			mean[c] += m[c] / float64(n)
		}
	}
	for i := range outcomes {
		m := marginsOf(&outcomes[i])
		for c := range sum {
			sum[c] += (m[c] - mean[c]) * (m[c] - mean[c]) / float64(n-1)
		}
	}
	return sum.spread(), nil
}

// fly flies n copies of the scenario. In copy i number k is moved by so many of
// its standard deviations.
func (d *Doubt) fly(ctx context.Context, n int, deviations func(i, k int) float64) ([]Outcome, error) {
	outcomes := make([]Outcome, n)
	g, ctx := errgroup.WithContext(ctx)
	g.SetLimit(max(d.Workers, 1))
	for i := range n {
		g.Go(func() error {
			if err := ctx.Err(); err != nil {
				return err
			}
			sc, err := d.moved(func(k int) float64 { return deviations(i, k) })
			if err == nil {
				outcomes[i], err = d.Fly(ctx, sc)
			}
			return err
		})
	}
	return outcomes, g.Wait()
}

// moved is the scenario with its doubtful numbers moved; the other way when the
// scenario could not be flown so.
func (d *Doubt) moved(deviations func(k int) float64) (*scenarios.Scenario, error) {
	by := func(sign float64) (*scenarios.Scenario, error) {
		return d.Scenario.Edit(func(c *scenarios.Scenario) error {
			for k, p := range d.Params {
				if z := deviations(k); z != 0 {
					if err := move(c, p, sign*z); err != nil {
						return err
					}
				}
			}
			return nil
		})
	}
	sc, err := by(1)
	if err != nil {
		sc, err = by(-1)
	}
	return sc, err
}

// move changes a number by so many of its standard deviations, the other way
// where that would leave its range, and at most to its end.
func move(sc *scenarios.Scenario, p scenarios.Param, deviations float64) error {
	n, _ := p.Get(sc)
	x := n.Value + deviations*n.Doubt
	if x < p.Lo || x > p.Hi {
		x = n.Value - deviations*n.Doubt
	}
	return p.Set(sc, min(max(x, p.Lo), p.Hi))
}

// normal is the value that a standard normal variable stays below with the
// probability u; the ends, which it never reaches, are moved in.
func normal(u float64) float64 {
	const end = 1e-9
	return math.Sqrt2 * math.Erfinv(2*min(max(u, end), 1-end)-1)
}

// margins are those of both circuits and that to boiling.
type margins [3]float64

func marginsOf(o *Outcome) margins {
	m := margins{o.Circuits[Coolant].Margin, o.Circuits[Oil].Margin, o.BoilMargin}
	if math.IsInf(m[2], 0) {
		m[2] = 0
	}
	return m
}

// spread takes the roots of variances.
func (v margins) spread() Spread {
	return Spread{[2]float64{math.Sqrt(v[Coolant]), math.Sqrt(v[Oil])}, math.Sqrt(v[2])}
}
