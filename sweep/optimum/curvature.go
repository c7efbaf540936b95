package optimum

import (
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// curvature is the matrix of second slopes of the Lagrangian f - Σ multiplier·g,
// as far as steps have shown it; nil until they have.
type curvature struct{ *mat.SymDense }

// known reports whether there is a matrix.
func (b curvature) known() bool { return b.SymDense != nil }

// times is B d.
func (b curvature) times(d []float64) []float64 {
	if !b.known() {
		return make([]float64, len(d))
	}
	var v mat.VecDense
	v.MulVec(b.SymDense, mat.NewVecDense(len(d), d))
	return v.RawVector().Data
}

// scaled is the matrix multiplied.
func (b curvature) scaled(by float64) curvature {
	if !b.known() {
		return b
	}
	c := curvature{mat.NewSymDense(b.SymmetricDim(), nil)}
	c.ScaleSym(by, b.SymDense)
	return c
}

// scale multiplies the matrix.
func (b curvature) scale(by float64) { b.ScaleSym(by, b.SymDense) }

// learn takes in that over a step the slope of the Lagrangian changed by turn.
// It keeps the matrix positive definite.
//
// Source: M. J. D. Powell, "A fast algorithm for nonlinearly constrained
// optimization calculations", Lecture Notes in Mathematics 630, Springer 1978,
// 144-157 (damped BFGS, factors 0.2 and 0.8).
func (b *curvature) learn(step, turn []float64) {
	n := len(step)
	along := floats.Dot(step, turn)
	if !b.known() {
		first := along / floats.Dot(step, step)
		if first < 1e-6 {
			return
		}
		b.SymDense = mat.NewSymDense(n, nil)
		for i := range n {
			b.SetSym(i, i, first)
		}
	}
	bs := b.times(step)
	sbs := floats.Dot(step, bs)
	damped := turn
	if along < 0.2*sbs {
		share := 0.8 * sbs / (sbs - along)
		damped = make([]float64, n)
		floats.AddScaledTo(damped, bs, share, diff(turn, bs))
		along = floats.Dot(step, damped)
	}
	b.SymRankOne(b.SymDense, -1/sbs, mat.NewVecDense(n, bs))
	b.SymRankOne(b.SymDense, 1/along, mat.NewVecDense(n, damped))
}

// diff is a - b.
func diff(a, b []float64) []float64 { return floats.SubTo(make([]float64, len(a)), a, b) }
