package optimum

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"golang.org/x/sync/errgroup"
)

// model is a point with its slopes over the whole range of each variable.
type model struct {
	*point
	c      []float64   // of f, by variable
	j      [][]float64 // of g, by limit and variable
	beside []pair      // what the slopes are made of, by variable
}

// pair are the points one step ahead of a point and one behind it in one
// variable; nil where that is not evaluated or cannot be.
type pair struct{ ahead, behind *point }

// pace is the step of differences as a share of the bounds.
func (s *scaled) pace() float64 { return orDefault(s.Step, 1e-3) }

// slopes returns p with its slopes: to one side, by one evaluation for each
// variable and with an error of the first order in the step, or to both sides,
// by two and of the second order.
func (s *scaled) slopes(ctx context.Context, p *point, bothSides bool) (*model, error) {
	return s.evaluateBeside(ctx, &model{point: p, beside: make([]pair, len(p.y))}, bothSides)
}

// central returns m with slopes to both sides, by what is missing for them.
func (s *scaled) central(ctx context.Context, m *model) (*model, error) {
	return s.evaluateBeside(ctx, &model{point: m.point, beside: slices.Clone(m.beside)}, true)
}

// evaluateBeside evaluates what is missing beside m and puts the slopes in.
func (s *scaled) evaluateBeside(ctx context.Context, m *model, bothSides bool) (*model, error) {
	var group errgroup.Group // one that fails does not break off the others, so that their number does not depend on time
	group.SetLimit(max(1, s.Workers))
	for k := range m.y {
		group.Go(func() error { return s.evaluatePair(ctx, m, k, bothSides) })
	}
	if err := group.Wait(); err != nil {
		return nil, err
	}
	m.difference(s.Limits)
	return m, nil
}

// difference puts the slopes in from what is evaluated beside. A limit that is
// nowhere near at one end has no slope.
func (m *model) difference(limits int) {
	m.c, m.j = make([]float64, len(m.y)), make([][]float64, limits)
	for i := range m.j {
		m.j[i] = make([]float64, len(m.y))
	}
	for k, b := range m.beside {
		from, to := cmp.Or(b.behind, m.point), cmp.Or(b.ahead, m.point)
		h := to.y[k] - from.y[k]
		m.c[k] = (to.f - from.f) / h
		for i := range m.j {
			if !math.IsInf(from.g[i], 1) && !math.IsInf(to.g[i], 1) {
				m.j[i][k] = (to.g[i] - from.g[i]) / h
			}
		}
	}
}

// evaluatePair evaluates what is missing ahead of m in variable k, and behind
// it where both sides are asked for or there is nothing ahead.
func (s *scaled) evaluatePair(ctx context.Context, m *model, k int, bothSides bool) (err error) {
	b := &m.beside[k]
	if b.ahead == nil {
		if b.ahead, err = s.moved(ctx, m.point, k, s.pace()); err != nil {
			return err
		}
	}
	if b.behind == nil && (bothSides || b.ahead == nil) {
		if b.behind, err = s.moved(ctx, m.point, k, -s.pace()); err != nil {
			return err
		}
	}
	if b.ahead == nil && b.behind == nil {
		return fmt.Errorf("nothing can be computed beside %v along variable %d", s.x(m.y), k)
	}
	return nil
}

// moved evaluates a step from p along variable k. It returns nil where there is
// no room or nothing can be computed, and an error only when ctx has ended.
func (s *scaled) moved(ctx context.Context, p *point, k int, h float64) (*point, error) {
	y := slices.Clone(p.y)
	y[k] += h
	if y[k] < 0 || y[k] > 1 {
		return nil, ctx.Err()
	}
	q, err := s.at(ctx, y)
	if err != nil {
		return nil, ctx.Err()
	}
	return q, nil
}
