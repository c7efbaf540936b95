package uncertainty

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
)

// columns are one result of all points, less a number near its mean.
type columns struct {
	origin float64
	a, b   []float64   // f(A), f(B)
	change [][]float64 // by group: f(A_k) - f(A)
}

// newColumns takes result i of the points that are good.
func newColumns(r *results, groups int, good []int, i int) *columns {
	n, perPoint := len(good), groups+runSwapped
	at := func(point, kind int) float64 { return r.y[(point*perPoint+kind)*r.outputs+i] }
	c := &columns{a: make([]float64, n), b: make([]float64, n), change: make([][]float64, groups)}
	for _, point := range good {
		c.origin += (at(point, runA) + at(point, runB)) / float64(2*n)
	}
	for row, point := range good {
		c.a[row], c.b[row] = at(point, runA)-c.origin, at(point, runB)-c.origin
	}
	for k := range c.change {
		c.change[k] = make([]float64, n)
		for row, point := range good {
			c.change[k][row] = at(point, runSwapped+k) - at(point, runA)
		}
	}
	return c
}

// indexSet are the indices of all groups.
type indexSet struct{ first, total []float64 }

func newIndexSet(groups int) indexSet {
	return indexSet{make([]float64, groups), make([]float64, groups)}
}

// indices puts those over some rows, of which one may come twice, into at, and
// returns mean and standard deviation of the result.
func (c *columns) indices(rows []int, at indexSet) (mean, deviation float64) {
	n := float64(len(rows))
	var sum, square float64
	for _, row := range rows {
		a, b := c.a[row], c.b[row]
		sum += a + b
		square += a*a + b*b
	}
	m := sum / (2 * n)
	variance := square/(2*n) - m*m // both small beside c.origin, which is off already
	if !c.varies(rows) || variance <= 0 {
		clear(at.first)
		clear(at.total)
		return c.origin + m, 0
	}
	for k, change := range c.change {
		var first, total float64
		for _, row := range rows {
			g := change[row]
			first += (c.b[row] - m) * g
			total += g * g
		}
		at.first[k], at.total[k] = first/n/variance, total/(2*n)/variance
	}
	return c.origin + m, math.Sqrt(variance * 2 * n / (2*n - 1))
}

// varies says whether the result is not the same in all rows.
func (c *columns) varies(rows []int) bool {
	return slices.ContainsFunc(rows, func(row int) bool { return c.a[row] != c.a[rows[0]] || c.b[row] != c.a[rows[0]] })
}

// bootstrap gives the ends of the intervals. Resample j follows from the seed and
// j alone.
func (s *Study) bootstrap(ctx context.Context, c *columns) (lo, hi indexSet, err error) {
	n, groups := len(c.a), len(c.change)
	replicas := make([]indexSet, s.Resamples)
	err = each(ctx, s.Workers, s.Resamples, func() func(int) {
		rows := make([]int, n)
		return func(j int) {
			r := rand.New(rand.NewPCG(^s.Seed, uint64(j)))
			for i := range rows {
				rows[i] = r.IntN(n)
			}
			replicas[j] = newIndexSet(groups)
			c.indices(rows, replicas[j])
		}
	})
	if err != nil {
		return lo, hi, err
	}
	lo, hi = newIndexSet(groups), newIndexSet(groups)
	values := make([]float64, s.Resamples)
	middle := func(of func(indexSet) float64) (float64, float64) {
		for j, replica := range replicas {
			values[j] = of(replica)
		}
		slices.Sort(values)
		return quantile(values, (1-s.Level)/2), quantile(values, (1+s.Level)/2)
	}
	for k := range groups {
		lo.first[k], hi.first[k] = middle(func(x indexSet) float64 { return x.first[k] })
		lo.total[k], hi.total[k] = middle(func(x indexSet) float64 { return x.total[k] })
	}
	return lo, hi, nil
}
