package optimum

import (
	"context"
	"slices"
)

// forWholePieces rounds counts of pieces up and searches for the least of the
// other factors again. Where nothing is to be gained by that it returns x.
func (p *sizer) forWholePieces(ctx context.Context, steps []rounding, x []float64) ([]float64, error) {
	whole, free := slices.Clone(x), []int(nil)
	for i := range p.Factors {
		if p.Factors[i].Param.Whole {
			whole[i] = steps[i].near(x[i], 1)
		} else {
			free = append(free, i)
		}
	}
	if len(free) == 0 || slices.Equal(whole, x) {
		return x, nil
	}
	q, start := partOf(p.problem(), free, p.shares(whole))
	sol, err := Minimise(ctx, q, start, settings())
	if err != nil || !sol.Feasible {
		return x, ctx.Err()
	}
	y := p.shares(whole)
	for i, k := range free {
		y[k] = sol.X[i]
	}
	for i, v := range p.values(y) {
		if !p.Factors[i].Param.Whole { // these are whole to the last digit
			whole[i] = v
		}
	}
	return whole, nil
}

// partOf is a problem in which only some factors are free, the others as in x,
// and where these are in x.
func partOf(q Problem, free []int, x []float64) (part Problem, start []float64) {
	all := q.Evaluate
	part = q
	part.Lo, part.Hi = nil, nil
	for _, k := range free {
		part.Lo, part.Hi, start = append(part.Lo, q.Lo[k]), append(part.Hi, q.Hi[k]), append(start, x[k])
	}
	part.Evaluate = func(ctx context.Context, y, g []float64) (float64, error) {
		at := slices.Clone(x)
		for i, k := range free {
			at[k] = y[i]
		}
		return all(ctx, at, g)
	}
	return part, start
}
