package calibrate

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// randomField is a field with columns that have much in common, within bounds.
func randomField(t *rapid.T) *field {
	n := rapid.IntRange(1, 6).Draw(t, "variables")
	rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 6))
	a, rest := mat.NewDense(2*n, n, nil), make([]float64, 2*n)
	for i := range rest {
		rest[i] = 3 * rng.NormFloat64()
		common := rng.NormFloat64()
		for k := range n {
			a.Set(i, k, common+0.2*rng.NormFloat64())
		}
	}
	f := &field{triangle: newTriangle(a, rest), size: norms(a), all: n}
	for k := range n {
		f.free = append(f.free, k)
		f.d = append(f.d, math.Exp(rng.NormFloat64()))
		f.lo, f.hi = append(f.lo, -rng.ExpFloat64()), append(f.hi, rng.ExpFloat64())
	}
	return f
}

// A step within bounds meets the conditions of Karush, Kuhn and Tucker.
func TestStepWithinBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := randomField(t)
		st := f.within(math.Inf(1))
		size := mat.Norm(mat.NewVecDense(len(f.q), f.q), 2)
		for k, g := range f.slope(st.p) {
			g /= f.size[k] * size
			if p := st.p[k]; p < f.lo[k] || p > f.hi[k] || g > 1e-9 && p != f.lo[k] || g < -1e-9 && p != f.hi[k] {
				t.Fatalf("step %v with slope %v in %v to %v", p, g, f.lo[k], f.hi[k])
			}
		}
		if st.gain < 0 || !st.full {
			t.Fatalf("%+v", st)
		}
	})
}

// A step within a trust radius is as long as the radius but for a tenth, and no
// step of that length gains more.
func TestStepWithinRadius(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := randomField(t)
		for k := range f.lo {
			f.lo[k], f.hi[k] = math.Inf(-1), math.Inf(1)
		}
		whole := f.within(math.Inf(1))
		radius := whole.length * rapid.Float64Range(1e-6, 0.9).Draw(t, "share")
		st := f.within(radius)
		if st.full || math.Abs(st.length/radius-1) > 0.1+1e-9 || st.gain <= 0 || st.gain >= whole.gain {
			t.Fatalf("radius %v: %+v, whole %+v", radius, st, whole)
		}
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "other"), 7))
		for range 20 {
			other := make([]float64, len(st.p))
			for k := range other {
				other[k] = st.p[k] + 0.3*rng.NormFloat64()*st.length/f.d[k]
			}
			by := st.length / f.length(other)
			for k := range other {
				other[k] *= by
			}
			if f.gain(other) > st.gain*(1+1e-9) {
				t.Fatalf("%v gains %v, %v of the same length %v", st.p, st.gain, other, f.gain(other))
			}
		}
	})
}
