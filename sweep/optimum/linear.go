package optimum

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
)

// linearProgram is the elastic program of one step d from a model:
//
//	least  c·d + weight Σ t_i   subject to  g_i + j_i·d + t_i ≥ 0,  t ≥ 0,  low ≤ d ≤ high
//
// It has a solution whatever the limits are: what is left in t is by how much
// they are missed.
type linearProgram struct {
	*model
	low, high []float64
	weight    float64
}

// program returns the elastic program within a trust radius and the bounds.
func (m *model) program(radius, weight float64) *linearProgram {
	l := &linearProgram{model: m, weight: weight}
	for _, y := range m.y {
		l.low = append(l.low, math.Max(-radius, -y))
		l.high = append(l.high, math.Min(radius, 1-y))
	}
	return l
}

// keen is the same program without the objective: its answer misses the limits
// by as little as any step within the box.
func (l *linearProgram) keen() *linearProgram {
	m := *l.model
	m.c = make([]float64, len(l.c))
	return &linearProgram{model: &m, low: l.low, high: l.high, weight: 1}
}

// rows are the limits that some step within the box would miss.
func (l *linearProgram) rows() []int {
	var rows []int
	for i, j := range l.j {
		worst := l.g[i]
		for k := range j {
			worst += math.Min(j[k]*l.low[k], j[k]*l.high[k])
		}
		if worst < 0 {
			rows = append(rows, i)
		}
	}
	return rows
}

// standardForm is least cost·z subject to a z = b and z ≥ 0, with a vertex to
// start from.
type standardForm struct {
	cost  []float64
	a     *mat.Dense
	b     []float64
	basis []int
}

// standard returns the standard form. With d = low + z, slacks w of the upper
// ends and s of the limits it is
//
//	z + w = high - low,   j·z - s + t = -(g + j·low),   z, w, s, t ≥ 0
//
// and z = 0 with w and the one of s and t that is not negative is a vertex.
func (l *linearProgram) standard() *standardForm {
	rows, n := l.rows(), len(l.c)
	m := len(rows)
	f := &standardForm{make([]float64, 2*n+2*m), mat.NewDense(n+m, 2*n+2*m, nil), make([]float64, n+m), make([]int, n+m)}
	unit := math.Max(1, l.weight)
	for k := range n {
		f.a.Set(k, k, 1)
		f.a.Set(k, n+k, 1)
		f.b[k], f.basis[k] = l.high[k]-l.low[k], n+k
		f.cost[k] = l.c[k] / unit
	}
	for r, i := range rows {
		s, t := 2*n+r, 2*n+m+r
		for k := range n {
			f.a.Set(n+r, k, l.j[i][k])
		}
		f.a.Set(n+r, s, -1)
		f.a.Set(n+r, t, 1)
		f.cost[t] = l.weight / unit
		f.b[n+r], f.basis[n+r] = -(l.g[i] + floats.Dot(l.j[i], l.low)), t
		if f.b[n+r] < 0 {
			f.basis[n+r] = s
		}
	}
	return f
}

// solve returns the step.
func (l *linearProgram) solve() (d []float64, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("linear program: %v", r)
		}
	}()
	f := l.standard()
	_, z, err := lp.Simplex(f.cost, f.a, f.b, 1e-11, f.basis)
	if err != nil {
		return nil, err
	}
	if !solves(f.a, z, f.b) {
		return nil, errors.New("linear program: the answer does not solve it")
	}
	d = make([]float64, len(l.c))
	for k := range d {
		d[k] = clamp(l.low[k]+z[k], l.low[k], l.high[k])
	}
	return d, nil
}

// solves reports whether a z = b and z ≥ 0, but for rounding.
func solves(a *mat.Dense, z, b []float64) bool {
	var az mat.VecDense
	az.MulVec(a, mat.NewVecDense(len(z), z))
	for i := range b {
		if !(math.Abs(az.AtVec(i)-b[i]) <= 1e-8*(1+math.Abs(b[i]))) {
			return false
		}
	}
	return floats.Min(z) >= -1e-9
}

// linearised are the limits that the model foretells after a step.
func (m *model) linearised(d []float64) []float64 {
	g := make([]float64, len(m.g))
	for i := range g {
		g[i] = m.g[i] + floats.Dot(m.j[i], d)
	}
	return g
}
