package calibrate

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"golang.org/x/sync/errgroup"
	"gonum.org/v1/gonum/stat/distuv"
	"hotclimb/scenarios"
	"hotclimb/sweep"
)

// hotDraws are flights with everything drawn that is doubtful about the step from
// the air of a record to that of the hot day: the numbers of the aircraft, the
// outside air and the start on the hot day.
type hotDraws struct {
	steps   [][]float64 // of each spot, by draw [K]
	outside [][]float64 // error of the outside air in the same draws [K]
	failed  int         // draws that could not be flown
}

// drawn is a flight of one draw.
type drawn struct {
	steps   []float64
	outside float64
	err     error // it cannot be flown
}

// draw flies the record with all numbers drawn, in both airs.
func (c *correcting) draw(ctx context.Context, done func()) error {
	doubts, err := sweep.DoubtsOf(c.record.Scenario)
	if err != nil {
		return fmt.Errorf("test %s: %w", c.record.Name, err)
	}
	points := sweep.NewLatin(c.Draws, len(doubts.Params)+2, c.Seed)
	flights := make([]drawn, c.Draws)
	g, inner := errgroup.WithContext(ctx)
	g.SetLimit(max(1, c.Workers))
	for i := range flights {
		g.Go(func() error {
			defer done()
			flights[i] = c.drawn(inner, doubts, points, i)
			return inner.Err()
		})
	}
	if err := g.Wait(); err != nil {
		return err
	}
	return c.gather(flights)
}

// drawn flies draw i. One that cannot be flown has no steps.
func (c *correcting) drawn(ctx context.Context, doubts *sweep.Doubts, points sweep.Points, i int) (d drawn) {
	n := len(doubts.Params)
	x := make([]float64, n)
	doubts.Draws().At(points, i, 0, x)
	sc, _, err := doubts.Set(c.record.Scenario, x)
	if err != nil {
		return drawn{err: err}
	}
	start := c.start
	for k := range start {
		start[k] += c.hotter * (points.Coordinate(i, n+1) - 0.5)
	}
	d.outside = c.Outside * distuv.UnitNormal.Quantile(points.Coordinate(i, n))
	d.steps, d.err = c.steps(ctx, nil, c.record.warmer(d.outside), sc, start)
	return d
}

// mostFailed is the share of draws that may fail.
const mostFailed = 0.25

// gather takes the draws that were flown.
func (c *correcting) gather(flights []drawn) error {
	h := &c.draws
	h.steps, h.outside = make([][]float64, len(c.spots)), make([][]float64, len(c.spots))
	h.failed = 0
	var first error
	for _, d := range flights {
		if d.err != nil {
			h.failed, first = h.failed+1, cmp.Or(first, d.err)
			continue
		}
		for k, v := range d.steps {
			h.steps[k], h.outside[k] = append(h.steps[k], v), append(h.outside[k], d.outside)
		}
	}
	if float64(h.failed) > mostFailed*float64(len(flights)) {
		return fmt.Errorf("test %s: %d of %d draws of the doubtful numbers cannot be flown on the hot day; give them smaller doubts (%w)", c.record.Name, h.failed, len(flights), first)
	}
	return nil
}

// doubt is the standard deviation of the step of a spot and that of what the rule
// corrects more than the model: outside air that is read too warm takes as much off
// the rule's correction.
func (h *hotDraws) doubt(spot int) (step, over float64) {
	more := make([]float64, len(h.steps[spot]))
	for i, v := range h.steps[spot] {
		more[i] = -h.outside[spot][i] - v
	}
	return deviation(h.steps[spot]), deviation(more)
}

// deviation is half the interval in the middle that holds as many draws as one
// standard deviation to both sides does of a normal distribution:
//
//	(q(Φ(1)) − q(Φ(−1)))/2,  q(p) at place p·(n+1) of the sorted draws
//
// One draw of 64 in which the air of a core turns round in one air and not in the
// other would make the root of the mean square four times as large. Source: coverage
// intervals from draws, JCGM 101:2008, 7.7; the place from memory (Weibull).
func deviation(draws []float64) float64 {
	if len(draws) < 2 {
		return 0
	}
	sorted := slices.Sorted(slices.Values(draws))
	return (quantile(sorted, oneAbove) - quantile(sorted, 1-oneAbove)) / 2
}

// oneAbove is Φ(1), the share of a normal distribution below one standard deviation
// above its mean: Abramowitz and Stegun, table 26.1.
const oneAbove = 0.8413447

// quantile is that of sorted draws below which a share p of all lies.
func quantile(sorted []float64, p float64) float64 {
	last := len(sorted) - 1
	place := math.Min(math.Max(p*float64(len(sorted)+1)-1, 0), float64(last))
	low := int(place)
	high := min(low+1, last)
	return sorted[low] + (place-float64(low))*(sorted[high]-sorted[low])
}

// steps are what the model moves each spot by between the air of a record and that
// of the hot day [K]. own is the flight in the air of the record, flown here when
// it is nil.
func (c *correcting) steps(ctx context.Context, own *Trace, r *Record, sc *scenarios.Scenario, start [2]float64) ([]float64, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	var err error
	if own == nil {
		if own, err = r.Fly(ctx, sc, Conditions{}); err != nil {
			return nil, err
		}
	}
	hot, err := r.Fly(ctx, sc, Conditions{Day: &c.day, Start: &start})
	if err != nil {
		return nil, err
	}
	steps := make([]float64, len(c.spots))
	for i := range c.spots {
		there, _ := c.spots[i].of(hot.Of)
		here, _ := c.spots[i].of(own.Of)
		if steps[i] = there - here; math.IsNaN(steps[i]) {
			return nil, fmt.Errorf("test %s: the model has no temperature", r.Name)
		}
	}
	return steps, nil
}

// warmer is the record with warmer outside air.
func (r *Record) warmer(by float64) *Record {
	c := *r
	c.warmth = series{}
	for i, t := range r.warmth.t {
		c.warmth.add(t, r.warmth.v[i]+by)
	}
	return &c
}
