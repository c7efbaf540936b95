package optimum

import (
	"cmp"
	"context"
	"math"
	"slices"

	"golang.org/x/sync/errgroup"
	"gonum.org/v1/gonum/floats"
)

// simplex is that of Nelder and Mead: one corner more than there are variables.
//
// Source of the factors by the number of variables: F. Gao and L. Han,
// "Implementing the Nelder-Mead simplex algorithm with adaptive parameters",
// Computational Optimization and Applications 51 (2012) 259-277.
type simplex struct {
	*walk
	corners []corner // the lowest first
}

// corner is a corner of a simplex. Beyond a bound it stands for the place that
// it is reflected to.
type corner struct {
	u    []float64
	high float64 // the penalty
}

// failed is the penalty of a place where nothing can be computed: large, but
// finite, because one NaN or Inf in the simplex would stay there.
const failed = 1e12

// newSimplex makes a simplex that grows from y by a size to the farther bounds.
func (w *walk) newSimplex(ctx context.Context, y []float64, size float64) (*simplex, error) {
	places := [][]float64{y}
	for i := range y {
		u := slices.Clone(y)
		u[i] += math.Copysign(size, 0.5-y[i])
		places = append(places, u)
	}
	s := &simplex{walk: w}
	var err error
	s.corners, err = w.look(ctx, places...)
	s.sort()
	return s, err
}

// sort puts the lowest corner first.
func (s *simplex) sort() {
	slices.SortStableFunc(s.corners, func(a, b corner) int { return cmp.Compare(a.high, b.high) })
}

// spread is how much higher the highest corner is than the lowest.
func (s *simplex) spread() float64 { return s.corners[len(s.corners)-1].high - s.corners[0].high }

// move makes one step of the method.
func (s *simplex) move(ctx context.Context) error {
	n := len(s.corners) - 1
	lowest, second, worst := s.corners[0], s.corners[n-1], s.corners[n]
	center := make([]float64, n)
	for _, c := range s.corners[:n] {
		floats.AddScaled(center, 1/float64(n), c.u)
	}
	// along is the place so many times as far from the center as the worst corner.
	along := func(by float64) (corner, error) {
		u := make([]float64, n)
		floats.AddScaledTo(u, center, by, diff(worst.u, center))
		c, err := s.look(ctx, u)
		return c[0], err
	}
	further, nearer := 1+2/float64(max(n, 2)), 0.75-0.5/float64(max(n, 2))
	next, err := along(-1)
	if err != nil {
		return err
	}
	switch {
	case next.high < lowest.high:
		farther, err := along(-further)
		if err != nil {
			return err
		}
		if farther.high < next.high {
			next = farther
		}
	case next.high >= second.high:
		by := nearer // inside
		if next.high < worst.high {
			by = -nearer
		}
		closer, err := along(by)
		if err != nil {
			return err
		}
		if closer.high >= min(next.high, worst.high) {
			return s.shrink(ctx)
		}
		next = closer
	}
	s.corners[n] = next
	s.sort()
	return nil
}

// shrink draws all corners nearer to the lowest.
func (s *simplex) shrink(ctx context.Context) error {
	by := 1 - 1/float64(max(len(s.corners)-1, 2))
	lowest := s.corners[0]
	var places [][]float64
	for _, c := range s.corners[1:] {
		u := make([]float64, len(c.u))
		places = append(places, floats.AddScaledTo(u, lowest.u, by, diff(c.u, lowest.u)))
	}
	drawn, err := s.look(ctx, places...)
	copy(s.corners[1:], drawn)
	s.sort()
	return err
}

// look evaluates places, and keeps the best. An error is that of ctx alone.
func (w *walk) look(ctx context.Context, places ...[]float64) ([]corner, error) {
	corners, found := make([]corner, len(places)), make([]*point, len(places))
	var group errgroup.Group
	group.SetLimit(max(1, w.Workers))
	for i, u := range places {
		group.Go(func() error {
			corners[i] = corner{u, failed}
			at, err := w.at(ctx, folded(u))
			if err == nil {
				found[i], corners[i].high = at, math.Min(at.merit(w.weight), failed)
			}
			return ctx.Err()
		})
	}
	err := group.Wait()
	for _, p := range found {
		w.keep(p)
	}
	w.used += len(places)
	return corners, err
}

// folded reflects a place into the bounds.
func folded(u []float64) []float64 {
	y := make([]float64, len(u))
	for i := range u {
		y[i] = fold(u[i])
	}
	return y
}

// fold reflects v at 0 and 1 into the bounds.
func fold(v float64) float64 {
	v = math.Mod(math.Abs(v), 2)
	return math.Min(v, 2-v)
}
