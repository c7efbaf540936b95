package calibrate

import (
	"math"
	"slices"
)

// leastDamping stands in for no damping where columns, taken as of length 1, are
// dependent.
const leastDamping = 1e-20

// step is a move from a model.
type step struct {
	p      []float64
	length float64 // ‖D p‖
	gain   float64 // of the linearised sum of squares
	full   bool    // the trust radius did not shorten it
}

// field is the linearised problem in the parameters that may move: those that
// do not press against a bound.
type field struct {
	*triangle
	free   []int     // parameter by variable
	d      []float64 // measure of the trust region by variable
	size   []float64 // length of the column by variable
	lo, hi []float64 // bounds of the step by variable
	all    int       // parameters
}

// newField returns the field of a model, with d the measure of its parameters.
// It is nil where no parameter may move.
func (c *counted) newField(m *model, d []float64) *field {
	var free []int
	held := c.held(m)
	for k := range m.x {
		if !slices.Contains(held, k) {
			free = append(free, k)
		}
	}
	if len(free) == 0 {
		return nil
	}
	rows := columns(m.rows, free)
	f := &field{free: free, all: len(m.x), triangle: newTriangle(rows, m.rest), size: norms(rows)}
	for j, k := range free {
		if f.size[j] == 0 { // nothing depends on it here
			f.size[j] = 1
		}
		f.d = append(f.d, d[k])
		f.lo, f.hi = append(f.lo, c.lo(k)-m.x[k]), append(f.hi, c.hi(k)-m.x[k])
	}
	return f
}

// within is the step that makes the linearised sum of squares least within a
// trust radius: ‖D p‖ ≤ radius but for a tenth.
//
// Source: J. J. Moré, "The Levenberg-Marquardt algorithm: implementation and
// theory", Lecture Notes in Mathematics 630, Springer 1978, 105-116, section 5
// (Newton's method for λ, safeguarded).
func (f *field) within(radius float64) step {
	t, p := f.undamped()
	over := f.length(p) - radius
	if over <= 0.1*radius {
		return f.bounded(t, p, true)
	}
	lower, upper := 0.0, 0.0
	if !f.singular(f.size) {
		lower = f.newton(t, p, radius)
	}
	for k, g := range f.slope(make([]float64, len(p))) {
		upper = math.Hypot(upper, g/f.d[k]/radius)
	}
	lambda := lower
	for range 10 {
		if !(lambda > lower && lambda < upper) {
			lambda = math.Max(upper/1000, math.Sqrt(lower*upper))
		}
		t = f.damped(lambda, f.d)
		p = t.least()
		over = f.length(p) - radius
		if math.Abs(over) <= 0.1*radius {
			break
		}
		if over < 0 {
			upper = lambda
		}
		more := f.newton(t, p, radius)
		lower = math.Max(lower, lambda+more)
		lambda += (over + radius) / radius * more
	}
	return f.bounded(t, p, false)
}

// undamped is the step of Gauss and Newton.
func (f *field) undamped() (*triangle, []float64) {
	t := f.triangle
	if f.singular(f.size) {
		t = f.damped(leastDamping, f.size)
	}
	return t, t.least()
}

// newton is the change of λ by which ‖D p‖ would fall to the radius if it went
// on falling as it does.
func (f *field) newton(t *triangle, p []float64, radius float64) float64 {
	length := f.length(p)
	v := make([]float64, len(p))
	for k := range v {
		v[k] = f.d[k] * f.d[k] * p[k] / length
	}
	fall := 0.0
	for _, w := range t.transposedLeast(v) {
		fall += w * w
	}
	return (length - radius) / (fall * length)
}

// length is ‖D p‖.
func (f *field) length(p []float64) float64 {
	sum := 0.0
	for k := range p {
		sum = math.Hypot(sum, f.d[k]*p[k])
	}
	return sum
}
