package calibrate

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sync/atomic"

	"gonum.org/v1/gonum/mat"
)

// counted is a problem whose evaluations are counted.
type counted struct {
	*Problem
	priors      *priors
	evaluations atomic.Int64
	largest     []float64 // size that each parameter had
}

// see takes note of how large parameters are; those that start from 0 count as 1.
func (c *counted) see(x []float64) {
	first := c.largest == nil
	if first {
		c.largest = make([]float64, len(x))
	}
	for k, v := range x {
		c.largest[k] = math.Max(c.largest[k], math.Abs(v))
		if first && v == 0 {
			c.largest[k] = 1
		}
	}
}

// unit is a fair change of parameter k that stands at x.
func (c *counted) unit(k int, x float64) float64 {
	switch {
	case c.Scale != nil && c.Scale[k] > 0:
		return c.Scale[k]
	case c.prior(k).known():
		return c.prior(k).Sigma
	}
	return math.Max(math.Abs(x), 1e-4*c.largest[k])
}

// place is a set of parameters and what was found there.
type place struct {
	x    []float64
	r    []float64 // residuals as they were evaluated
	cost float64   // Σ ρ(r), and what the priors cost
}

// at evaluates x.
func (c *counted) at(ctx context.Context, x []float64) (*place, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	c.evaluations.Add(1)
	p := &place{x: slices.Clone(x), r: make([]float64, c.Residuals)}
	if err := c.Evaluate(ctx, slices.Clone(x), p.r); err != nil {
		return nil, err
	}
	for i, r := range p.r {
		if !finite(r) {
			return nil, fmt.Errorf("residual %d is %v at %v", i, r, x)
		}
		p.cost += c.Loss.cost(r)
	}
	p.cost += c.priors.squares(x)
	if !finite(p.cost) {
		return nil, fmt.Errorf("the sum of squares is %v at %v", p.cost, x)
	}
	return p, nil
}

// model is a place with the residuals taken as linear there.
type model struct {
	*place
	slopes *mat.Dense // of the weighted residuals, row by residual
	rows   *mat.Dense // slopes, and a row for each prior
	rest   []float64  // the weighted residuals, and a pull for each prior
}

// newModel joins the columns of slopes at a place with weights and priors.
func (c *counted) newModel(p *place, columns [][]float64) (*model, error) {
	n, m := len(p.x), len(p.r)
	pulls := c.priors.pulls(p.x)
	all := &model{place: p, rows: mat.NewDense(m+len(pulls), n, nil), rest: make([]float64, m, m+len(pulls))}
	for i, r := range p.r {
		w := math.Sqrt(c.Loss.weight(r))
		all.rest[i] = w * r
		for k := range n {
			all.rows.Set(i, k, w*columns[k][i])
		}
	}
	all.rest = append(all.rest, pulls...)
	if c.priors.rows != nil {
		all.rows.Slice(m, m+len(pulls), 0, n).(*mat.Dense).Copy(c.priors.rows)
	}
	all.slopes = all.rows.Slice(0, m, 0, n).(*mat.Dense)
	for k, norm := range norms(all.rows) {
		if !finite(norm) {
			return nil, fmt.Errorf("the slopes of the residuals with parameter %d are not finite at %v", k, p.x)
		}
	}
	return all, nil
}

// norms are the lengths of the columns of a.
func norms(a *mat.Dense) []float64 {
	_, n := a.Dims()
	l := make([]float64, n)
	for k := range l {
		l[k] = mat.Norm(a.ColView(k), 2)
	}
	return l
}
