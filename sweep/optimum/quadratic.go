package optimum

import (
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// halfSpace is row·d ≥ from.
type halfSpace struct {
	row   []float64
	from  float64
	limit int // number of the limit, or -1 for an end of the box
}

// quadraticProgram is the elastic program of a step with the curvature known.
// The limits that the linear program had to give up keep their price as a
// slope; the others hold.
type quadraticProgram struct {
	slope []float64 // at no step
	curve curvature
	all   []halfSpace
}

// quadratic returns the quadratic program beside a linear program and its answer.
func (l *linearProgram) quadratic(curve curvature, d []float64) *quadraticProgram {
	q := &quadraticProgram{slope: append([]float64(nil), l.c...), curve: curve}
	for _, i := range l.rows() {
		if l.g[i]+floats.Dot(l.j[i], d) < -1e-8 {
			floats.AddScaled(q.slope, -l.weight, l.j[i])
			continue
		}
		q.all = append(q.all, halfSpace{l.j[i], -l.g[i], i})
	}
	for k := range d {
		up, down := make([]float64, len(d)), make([]float64, len(d))
		up[k], down[k] = 1, -1
		q.all = append(q.all, halfSpace{up, l.low[k], -1}, halfSpace{down, -l.high[k], -1})
	}
	return q
}

// at is the slope after a step.
func (q *quadraticProgram) at(d []float64) []float64 {
	s := q.curve.times(d)
	floats.Add(s, q.slope)
	return s
}

// touched are the half-spaces that d lies on the edge of.
func (q *quadraticProgram) touched(d []float64) []int {
	var on []int
	for i, h := range q.all {
		if floats.Dot(h.row, d)-h.from <= 1e-9*(1+floats.Norm(h.row, 1)) {
			on = append(on, i)
		}
	}
	return on
}

// multipliers are the prices of the limits at d.
func (q *quadraticProgram) multipliers(d []float64, limits int) []float64 {
	on := q.touched(d)
	f := &face{}
	for _, i := range on {
		f.rows = append(f.rows, q.all[i].row)
	}
	weights, _ := f.multipliers(q.at(d))
	prices := make([]float64, limits)
	for r, i := range on {
		if k := q.all[i].limit; k >= 0 {
			prices[k] = weights[r]
		}
	}
	return prices
}

// solve improves the step d until the edges that it lies on hold it: it goes to
// the least on those edges, or to the first new edge on the way, and leaves an
// edge that pushes it away.
//
// Source: J. Nocedal and S. J. Wright, Numerical Optimization, 2nd edition,
// Springer 2006, algorithm 16.3 (active set for convex quadratic programs).
func (q *quadraticProgram) solve(d []float64) []float64 {
	d = append([]float64(nil), d...)
	edges := q.independent(q.touched(d))
	for range 4 * len(q.all) {
		move, prices, ok := q.onEdges(d, edges)
		if !ok {
			return d
		}
		if floats.Norm(move, math.Inf(1)) < 1e-11 {
			if len(prices) == 0 {
				return d
			}
			leave := floats.MinIdx(prices)
			if prices[leave] >= -1e-11 {
				return d
			}
			edges = append(edges[:leave], edges[leave+1:]...)
			continue
		}
		share, meets := q.until(d, move, edges)
		floats.AddScaled(d, share, move)
		if meets >= 0 {
			edges = append(edges, meets)
		}
	}
	return d
}

// independent returns those of the half-spaces whose rows do not depend on
// those before.
func (q *quadraticProgram) independent(on []int) []int {
	var kept []int
	var basis [][]float64
	for _, i := range on {
		row := append([]float64(nil), q.all[i].row...)
		whole := floats.Norm(row, 2)
		for _, b := range basis {
			floats.AddScaled(row, -floats.Dot(row, b), b)
		}
		left := floats.Norm(row, 2)
		if left <= 1e-7*whole {
			continue
		}
		floats.Scale(1/left, row)
		basis, kept = append(basis, row), append(kept, i)
	}
	return kept
}

// onEdges returns the move from d to the least on the edges and what each edge
// costs there.
func (q *quadraticProgram) onEdges(d []float64, edges []int) (move, prices []float64, ok bool) {
	n, m := len(d), len(edges)
	k := mat.NewDense(n+m, n+m, nil)
	right := mat.NewVecDense(n+m, nil)
	for i, s := range q.at(d) {
		right.SetVec(i, -s)
		for j := range n {
			k.Set(i, j, q.curve.At(i, j))
		}
	}
	for r, e := range edges {
		for i, v := range q.all[e].row {
			k.Set(i, n+r, -v)
			k.Set(n+r, i, v)
		}
	}
	var answer mat.VecDense
	if answer.SolveVec(k, right) != nil {
		return nil, nil, false
	}
	v := answer.RawVector().Data
	return v[:n], v[n:], true
}

// until returns the share of a move up to the first half-space that it leaves,
// and which that is, or 1 and -1.
func (q *quadraticProgram) until(d, move []float64, edges []int) (share float64, meets int) {
	share, meets = 1, -1
	held := make([]bool, len(q.all))
	for _, e := range edges {
		held[e] = true
	}
	for i, h := range q.all {
		along := floats.Dot(h.row, move)
		if held[i] || along >= -1e-12*floats.Norm(h.row, 1) {
			continue
		}
		if s := math.Max(0, (h.from-floats.Dot(h.row, d))/along); s < share {
			share, meets = s, i
		}
	}
	return share, meets
}
