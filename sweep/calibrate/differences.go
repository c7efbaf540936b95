package calibrate

import (
	"context"
	"fmt"

	"golang.org/x/sync/errgroup"
)

// Steps of differences for residuals that are exact to rounding: the root and
// the cube root of 2⁻⁵², where the errors of rounding and of cutting the series
// off are about equal.
const (
	stepOneSided = 1.490116e-8
	stepTwoSided = 6.055454e-6
)

// linearise returns the model at p, with slopes to one side (one evaluation for
// each parameter, an error of the first order in the step) or to both (two, and
// of the second order, but next to a bound).
func (c *counted) linearise(ctx context.Context, p *place, bothSides bool) (*model, error) {
	columns := make([][]float64, len(p.x))
	group, groupCtx := errgroup.WithContext(ctx)
	group.SetLimit(max(1, c.Workers))
	for k := range columns {
		group.Go(func() (err error) {
			columns[k], err = c.column(groupCtx, p, k, bothSides)
			return err
		})
	}
	if err := group.Wait(); err != nil {
		return nil, err
	}
	return c.newModel(p, columns)
}

// column is the slopes of the residuals with parameter k. Where one side has no
// room or cannot be computed, the other is taken.
func (c *counted) column(ctx context.Context, p *place, k int, bothSides bool) ([]float64, error) {
	h := c.pace(k, p.x[k], bothSides)
	var ahead, behind *place
	var err error
	if ahead, err = c.moved(ctx, p, k, h); err != nil {
		return nil, err
	}
	if bothSides || ahead == nil {
		if behind, err = c.moved(ctx, p, k, -h); err != nil {
			return nil, err
		}
	}
	switch {
	case ahead != nil && behind != nil:
		return slope(behind, ahead, k), nil
	case ahead != nil:
		return slope(p, ahead, k), nil
	case behind != nil:
		return slope(behind, p, k), nil
	}
	return nil, fmt.Errorf("nothing can be computed beside %v along parameter %d", p.x, k)
}

// pace is the step of differences of parameter k at x. Between bounds that are
// closer than two steps it is half their distance, so that one side has room.
func (c *counted) pace(k int, x float64, bothSides bool) float64 {
	step := c.Step
	switch {
	case step == 0 && bothSides:
		step = stepTwoSided
	case step == 0:
		step = stepOneSided
	}
	return min(step*c.unit(k, x), (c.hi(k)-c.lo(k))/2)
}

// moved evaluates a step from p along parameter k. It returns nil where there is
// no room or nothing can be computed, and an error only when ctx has ended.
func (c *counted) moved(ctx context.Context, p *place, k int, h float64) (*place, error) {
	x := append([]float64(nil), p.x...)
	x[k] += h
	if x[k] == p.x[k] || x[k] < c.lo(k) || x[k] > c.hi(k) {
		return nil, ctx.Err()
	}
	q, err := c.at(ctx, x)
	if err != nil {
		return nil, ctx.Err()
	}
	return q, nil
}

// slope is how the residuals change with parameter k between two places.
func slope(from, to *place, k int) []float64 {
	h := to.x[k] - from.x[k]
	s := make([]float64, len(from.r))
	for i := range s {
		s[i] = (to.r[i] - from.r[i]) / h
	}
	return s
}
