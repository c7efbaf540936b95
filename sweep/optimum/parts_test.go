package optimum

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// number draws a number of a few digits, so that rounding is not what is tested.
func number(t *rapid.T, lo, hi int, label string) float64 {
	return float64(rapid.IntRange(100*lo, 100*hi).Draw(t, label)) / 100
}

// vector draws n numbers.
func vector(t *rapid.T, n, lo, hi int, label string) []float64 {
	v := make([]float64, n)
	for i := range v {
		v[i] = number(t, lo, hi, label)
	}
	return v
}

// drawProgram draws an elastic program of n variables.
func drawProgram(t *rapid.T, n int) *linearProgram {
	m := &model{point: &point{y: every(n, 0.5)}, c: vector(t, n, -3, 3, "c")}
	for range rapid.IntRange(0, 5).Draw(t, "limits") {
		m.g = append(m.g, number(t, -2, 2, "g"))
		m.j = append(m.j, vector(t, n, -4, 4, "j"))
	}
	return m.program(float64(rapid.IntRange(1, 50).Draw(t, "radius"))/100, float64(rapid.IntRange(1, 500).Draw(t, "weight"))/10)
}

// penalty is what an elastic program makes least.
func (l *linearProgram) penalty(d []float64) float64 {
	return floats.Dot(l.c, d) + l.weight*shortfall(l.linearised(d))
}

// The penalty is linear between lines in the plane of two variables, so that it
// is least where two of them meet; no such place is better than the answer.
func TestLinearProgramAgainstEveryCorner(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawProgram(t, 2)
		d, err := l.solve()
		if err != nil {
			t.Fatal(err)
		}
		type line struct{ a, b, c float64 } // a d₀ + b d₁ = c
		lines := []line{{1, 0, l.low[0]}, {1, 0, l.high[0]}, {0, 1, l.low[1]}, {0, 1, l.high[1]}}
		for i, j := range l.j {
			lines = append(lines, line{j[0], j[1], -l.g[i]})
		}
		least := math.Inf(1)
		for i, p := range lines {
			for _, q := range lines[:i] {
				det := p.a*q.b - p.b*q.a
				corner := []float64{(p.c*q.b - p.b*q.c) / det, (p.a*q.c - p.c*q.a) / det}
				inside := true
				for k, v := range corner {
					inside = inside && v >= l.low[k]-1e-12 && v <= l.high[k]+1e-12
				}
				if inside {
					least = math.Min(least, l.penalty(corner))
				}
			}
		}
		for k := range d {
			if d[k] < l.low[k] || d[k] > l.high[k] {
				t.Fatalf("step %v leaves %v to %v", d, l.low, l.high)
			}
		}
		if got := l.penalty(d); math.Abs(got-least) > 1e-8*(1+math.Abs(least)) {
			t.Fatalf("penalty %v at %v, least at a corner %v", got, d, least)
		}
	})
}

// A program that cannot be solved is an error, not a panic and not an answer.
func TestLinearProgramOfBadNumbers(t *testing.T) {
	m := &model{point: &point{y: every(2, 0.5), g: []float64{-1}}, c: []float64{1, 1}, j: [][]float64{{math.NaN(), 1}}}
	m.j[0][0] = math.Inf(-1)
	if d, err := m.program(0.1, 1).solve(); err == nil {
		t.Errorf("no error, step %v", d)
	}
}

func TestSolvesRefuses(t *testing.T) {
	a, b := mat.NewDense(1, 2, []float64{1, 1}), []float64{1}
	for _, c := range []struct {
		z    []float64
		want bool
	}{
		{[]float64{0.25, 0.75}, true},
		{[]float64{0.25, 0.8}, false},
		{[]float64{-0.5, 1.5}, false},
		{[]float64{math.NaN(), 1}, false},
	} {
		if got := solves(a, c.z, b); got != c.want {
			t.Errorf("solves(%v) is %v", c.z, got)
		}
	}
}

// The answer of a quadratic program keeps what the linear one kept, and the
// slope there is held by what it touches: for a convex program that is the least.
func TestQuadraticProgram(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 4).Draw(t, "variables")
		l := drawProgram(t, n)
		d, err := l.solve()
		if err != nil {
			t.Fatal(err)
		}
		curve := curvature{mat.NewSymDense(n, nil)}
		for i := range n {
			curve.SetSym(i, i, 0.5)
		}
		for range n {
			curve.SymRankOne(curve.SymDense, 1, mat.NewVecDense(n, vector(t, n, -2, 2, "B")))
		}
		q := l.quadratic(curve, d)
		best := q.solve(d)
		value := func(d []float64) float64 { return floats.Dot(q.slope, d) + floats.Dot(d, curve.times(d))/2 }
		if value(best) > value(d)+1e-9 {
			t.Fatalf("worse than the linear step: %v after %v", value(best), value(d))
		}
		f := &face{}
		for _, h := range q.all {
			if floats.Dot(h.row, best) < h.from-1e-7 {
				t.Fatalf("%v leaves a half-space that %v keeps", best, d)
			}
		}
		for _, i := range q.touched(best) {
			f.rows = append(f.rows, q.all[i].row)
		}
		if _, rest := f.multipliers(q.at(best)); floats.Norm(rest, 2) > 1e-6*(1+l.weight) {
			t.Fatalf("slope left at %v: %v", best, rest)
		}
	})
}

// After a step that is not damped the matrix does what it was shown, and
// whatever it is shown it stays positive definite.
func TestCurvatureLearns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 4).Draw(t, "variables")
		var b curvature
		for range rapid.IntRange(1, 8).Draw(t, "steps") {
			step, turn := vector(t, n, -1, 1, "step"), vector(t, n, -1, 1, "turn")
			if floats.Norm(step, 2) < 0.1 {
				continue
			}
			damped := b.known() && floats.Dot(step, turn) < 0.2*floats.Dot(step, b.times(step))
			b.learn(step, turn)
			if !b.known() {
				continue
			}
			if shown := b.times(step); !damped && !floats.EqualApprox(shown, turn, 1e-6) {
				t.Fatalf("B·%v is %v, shown %v", step, shown, turn)
			}
			var c mat.Cholesky
			if !c.Factorize(b.SymDense) {
				t.Fatalf("not positive definite: %v", mat.Formatted(b.SymDense))
			}
		}
	})
}

// None of the multipliers is negative, what is left leans on no row, and on the
// rows in use it does not lean at all: those are the conditions of the least
// squares with signs.
func TestMultipliersAreLeastSquares(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 5).Draw(t, "variables")
		f := &face{}
		for range rapid.IntRange(0, 7).Draw(t, "rows") {
			f.rows = append(f.rows, vector(t, n, -3, 3, "row"))
		}
		weights, rest := f.multipliers(vector(t, n, -3, 3, "c"))
		for i, row := range f.rows {
			lean := floats.Dot(row, rest)
			if weights[i] < 0 || lean > 1e-6 || weights[i] > 0 && lean < -1e-6 {
				t.Fatalf("row %d: weight %v, lean %v", i, weights[i], lean)
			}
		}
	})
}
