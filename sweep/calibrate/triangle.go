package calibrate

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// triangle is a problem of linear least squares ‖A p + b‖² by its QR
// decomposition: ‖R p + q‖² and a remainder that p does not change.
type triangle struct {
	r *mat.Dense // upper triangular
	q []float64
}

// newTriangle decomposes [A b]; b rides along, so Q itself is never formed.
// Missing rows are filled with zeros.
func newTriangle(a mat.Matrix, b []float64) *triangle {
	m, n := a.Dims()
	joint := mat.NewDense(max(m, n+1), n+1, nil)
	joint.Slice(0, m, 0, n).(*mat.Dense).Copy(a)
	for i, v := range b {
		joint.Set(i, n, v)
	}
	var qr mat.QR
	var r mat.Dense
	qr.Factorize(joint)
	qr.RTo(&r)
	t := &triangle{r: mat.DenseCopyOf(r.Slice(0, n, 0, n)), q: make([]float64, n)}
	for i := range t.q {
		t.q[i] = r.At(i, n)
	}
	return t
}

// damped is the triangle of ‖R p + q‖² + λ‖D p‖².
func (t *triangle) damped(lambda float64, d []float64) *triangle {
	n := len(t.q)
	a := mat.NewDense(2*n, n, nil)
	a.Slice(0, n, 0, n).(*mat.Dense).Copy(t.r)
	for k := range n {
		a.Set(n+k, k, math.Sqrt(lambda)*d[k])
	}
	return newTriangle(a, t.q)
}

// least is the p where ‖R p + q‖ is least.
func (t *triangle) least() []float64 {
	n := len(t.q)
	p := make([]float64, n)
	for i := n - 1; i >= 0; i-- {
		sum := -t.q[i]
		for k := i + 1; k < n; k++ {
			sum -= t.r.At(i, k) * p[k]
		}
		p[i] = sum / t.r.At(i, i)
	}
	return p
}

// transposedLeast is the w with Rᵀ w = v.
func (t *triangle) transposedLeast(v []float64) []float64 {
	n := len(v)
	w := make([]float64, n)
	for i := range n {
		sum := v[i]
		for k := range i {
			sum -= t.r.At(k, i) * w[k]
		}
		w[i] = sum / t.r.At(i, i)
	}
	return w
}

// gain is by how much p makes ‖R p + q‖² less.
func (t *triangle) gain(p []float64) float64 {
	sum := 0.0
	for i, q := range t.q {
		v := 0.0
		for k := i; k < len(p); k++ {
			v += t.r.At(i, k) * p[k]
		}
		sum -= v * (2*q + v)
	}
	return sum
}

// slope is the half of the gradient at p: Rᵀ(R p + q).
func (t *triangle) slope(p []float64) []float64 {
	v, g := mat.NewVecDense(len(p), nil), mat.NewVecDense(len(p), nil)
	v.MulVec(t.r, mat.NewVecDense(len(p), p))
	v.AddVec(v, mat.NewVecDense(len(p), t.q))
	g.MulVec(t.r.T(), v)
	return g.RawVector().Data
}

// leastOf is p with the variables that are free moved to where ‖R p + q‖ is least.
func (t *triangle) leastOf(free []int, p []float64) []float64 {
	z, rest := slices.Clone(p), slices.Clone(p)
	for _, k := range free {
		rest[k] = 0
	}
	v := mat.NewVecDense(len(p), nil)
	v.MulVec(t.r, mat.NewVecDense(len(p), rest))
	v.AddVec(v, mat.NewVecDense(len(p), t.q))
	for j, move := range newTriangle(columns(t.r, free), v.RawVector().Data).least() {
		z[free[j]] = move
	}
	return z
}

// singular reports whether the columns, each taken as of length d, are as good
// as dependent.
func (t *triangle) singular(d []float64) bool {
	for k := range t.q {
		if math.Abs(t.r.At(k, k)) <= dependent*d[k] {
			return true
		}
	}
	return false
}

// dependent is the share of its length by which a column must stick out of those
// before it.
const dependent = 1e-13

// columns are the columns of a with the numbers which.
func columns(a *mat.Dense, which []int) *mat.Dense {
	m, _ := a.Dims()
	c := mat.NewDense(m, len(which), nil)
	for j, k := range which {
		c.ColView(j).(*mat.VecDense).CopyVec(a.ColView(k))
	}
	return c
}
