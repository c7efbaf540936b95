package optimum

import (
	"context"
	"fmt"
	"math"
	"slices"

	"golang.org/x/sync/errgroup"
)

// model is a point with its slopes over the whole range of each variable.
type model struct {
	*point
	c []float64   // of f, by variable
	j [][]float64 // of g, by limit and variable
}

// differences evaluates beside p, once for each variable, and returns the slopes.
func (s *scaled) differences(ctx context.Context, p *point) (*model, error) {
	n := len(p.y)
	beside := make([]*point, n)
	group, groupCtx := errgroup.WithContext(ctx)
	group.SetLimit(max(1, s.Workers))
	for k := range n {
		group.Go(func() (err error) {
			beside[k], err = s.beside(groupCtx, p, k)
			return err
		})
	}
	if err := group.Wait(); err != nil {
		return nil, err
	}
	m := &model{point: p, c: make([]float64, n), j: make([][]float64, s.Limits)}
	for i := range m.j {
		m.j[i] = make([]float64, n)
	}
	for k, b := range beside {
		h := b.y[k] - p.y[k]
		m.c[k] = (b.f - p.f) / h
		for i := range m.j {
			if !math.IsInf(b.g[i], 1) && !math.IsInf(p.g[i], 1) {
				m.j[i][k] = (b.g[i] - p.g[i]) / h
			}
		}
	}
	return m, nil
}

// beside evaluates one step from p along variable k, forwards where there is
// room, and the other way where that cannot be computed.
func (s *scaled) beside(ctx context.Context, p *point, k int) (*point, error) {
	h := orDefault(s.Step, 1e-3)
	if p.y[k]+h > 1 {
		h = -h
	}
	y := slices.Clone(p.y)
	y[k] += h
	b, err := s.at(ctx, y)
	if err == nil {
		return b, nil
	}
	y[k] = p.y[k] - h
	if ctx.Err() == nil && y[k] >= 0 && y[k] <= 1 {
		if b, err2 := s.at(ctx, y); err2 == nil {
			return b, nil
		}
	}
	return nil, fmt.Errorf("nothing can be computed beside %v along variable %d: %w", s.x(p.y), k, err)
}
