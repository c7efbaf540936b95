package optimum

import (
	"context"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// reaches are the moves, as shares of the bounds and in every variable, that
// would bring a limit or bound to 0 for it to count as active. The wider one
// is for searches that end beside their limits, as on noisy functions.
var reaches = [2]float64{1e-6, 1e-3}

// judgeAt evaluates beside a point and judges it.
func (s *scaled) judgeAt(ctx context.Context, at *point, set Settings) (*Solution, error) {
	m, err := s.slopes(ctx, at, true)
	if err != nil {
		return nil, err
	}
	return s.judge(m, set), nil
}

// judge returns the solution at a model: multipliers, feasibility, remainder.
func (s *scaled) judge(m *model, set Settings) *Solution {
	sol := &Solution{
		X: s.x(m.y), F: m.f * s.unit, G: make([]float64, s.Limits),
		Multipliers: make([]float64, s.Limits), BoundMultipliers: make([]float64, len(m.y)),
		Violation: shortfall(m.g), Feasible: kept(m.g, set), Evaluations: int(s.evaluations.Load()),
	}
	for i, g := range m.g {
		sol.G[i] = g * s.scale(i)
	}
	e := m.explain(reaches[0])
	if wide := m.explain(reaches[1]); wide.rest < e.rest {
		e = wide
	}
	sol.KKT = e.rest
	for r, i := range e.limits {
		sol.Multipliers[i] = e.weights[r] * s.unit / s.scale(i)
	}
	for r, k := range e.bounds {
		sol.BoundMultipliers[k] = e.weights[len(e.limits)+r] * s.unit / (s.Hi[k] - s.Lo[k])
	}
	return sol
}

// explanation is the slope of f made up of the slopes of what a point stands at.
type explanation struct {
	*face
	weights []float64
	rest    float64 // of the conditions, see Solution.KKT
}

// explain returns the best explanation with all within reach.
func (m *model) explain(reach float64) explanation {
	f := m.face(reach)
	weights, left := f.multipliers(m.c)
	rest := floats.Norm(left, math.Inf(1))
	for r, i := range f.limits {
		rest = math.Max(rest, weights[r]*math.Abs(m.g[i]))
	}
	for r, k := range f.bounds {
		rest = math.Max(rest, weights[len(f.limits)+r]*math.Min(m.y[k], 1-m.y[k]))
	}
	return explanation{f, weights, rest / math.Max(1, floats.Norm(m.c, math.Inf(1)))}
}

// face is the set of limits and bounds that a point stands at, with the slopes
// of each away from it.
type face struct {
	limits []int
	bounds []int
	rows   [][]float64 // of limits, then of bounds
}

// face returns what m stands at, and what a move of reach would bring it to.
func (m *model) face(reach float64) *face {
	f := &face{}
	for i, g := range m.g {
		if g <= reach*floats.Norm(m.j[i], 1) {
			f.limits = append(f.limits, i)
			f.rows = append(f.rows, m.j[i])
		}
	}
	for k, y := range m.y {
		row := make([]float64, len(m.y))
		switch {
		case y <= reach:
			row[k] = 1
		case y >= 1-reach:
			row[k] = -1
		default:
			continue
		}
		f.bounds = append(f.bounds, k)
		f.rows = append(f.rows, row)
	}
	return f
}

// multipliers returns the weights, none negative, with which the rows of the
// face come nearest to c, and what is left of c.
//
// Source: C. L. Lawson and R. J. Hanson, Solving Least Squares Problems,
// Prentice-Hall 1974, chapter 23 (algorithm NNLS).
func (f *face) multipliers(c []float64) (weights, rest []float64) {
	weights = make([]float64, len(f.rows))
	used := make([]bool, len(f.rows))
	rest = append([]float64(nil), c...)
	for range 3 * len(f.rows) {
		enter := f.mostUseful(rest, used)
		if enter < 0 {
			break
		}
		used[enter] = true
		if !f.descend(weights, used, c) {
			used[enter] = false
			break
		}
		copy(rest, c)
		for i, w := range weights {
			floats.AddScaled(rest, -w, f.rows[i])
		}
	}
	return weights, rest
}

// mostUseful is the unused row that points most along the rest, or -1.
func (f *face) mostUseful(rest []float64, used []bool) int {
	best, most := -1, 1e-10
	for i, row := range f.rows {
		if used[i] {
			continue
		}
		if along := floats.Dot(row, rest) / math.Max(floats.Norm(row, 2), 1e-300); along > most*math.Max(1, floats.Norm(rest, 2)) {
			best, most = i, along
		}
	}
	return best
}

// descend moves the weights of the used rows to their least squares, giving up
// rows whose weight would turn negative. It reports false if the rows depend on
// each other.
func (f *face) descend(weights []float64, used []bool, c []float64) bool {
	for {
		target, ok := f.leastSquares(used, c)
		if !ok {
			return false
		}
		share, leave := 1.0, -1
		for i := range weights {
			if used[i] && target[i] <= 0 {
				if a := weights[i] / (weights[i] - target[i]); a < share || leave < 0 {
					share, leave = a, i
				}
			}
		}
		for i := range weights {
			if used[i] {
				weights[i] += share * (target[i] - weights[i])
			}
		}
		if leave < 0 {
			return true
		}
		weights[leave], used[leave] = 0, false
	}
}

// leastSquares returns the weights of the used rows nearest to c, by QR.
func (f *face) leastSquares(used []bool, c []float64) ([]float64, bool) {
	var index []int
	for i, u := range used {
		if u {
			index = append(index, i)
		}
	}
	weights := make([]float64, len(used))
	if len(index) == 0 {
		return weights, true
	}
	if len(index) > len(c) {
		return nil, false
	}
	a := mat.NewDense(len(c), len(index), nil)
	for r, i := range index {
		a.SetCol(r, f.rows[i])
	}
	var qr mat.QR
	qr.Factorize(a)
	var w mat.VecDense
	if qr.Cond() > 1e10 || qr.SolveVecTo(&w, false, mat.NewVecDense(len(c), append([]float64(nil), c...))) != nil {
		return nil, false
	}
	for r, i := range index {
		weights[i] = w.AtVec(r)
	}
	return weights, true
}
