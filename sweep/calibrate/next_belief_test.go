package calibrate

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

// normals are rows and columns of standard normal numbers.
func normals(rng *rand.Rand, rows, columns int) *mat.Dense {
	m := mat.NewDense(rows, columns, nil)
	for i := range rows {
		for j := range columns {
			m.Set(i, j, rng.NormFloat64())
		}
	}
	return m
}

// correlated are correlations of d numbers that follow from as many causes as
// columns; with fewer than d they are singular.
func correlated(rng *rand.Rand, d, causes int) *mat.SymDense {
	a := normals(rng, d, causes)
	r := mat.NewSymDense(d, nil)
	r.SymOuterK(1, a)
	for i := range d {
		for j := range i {
			r.SetSym(i, j, r.At(i, j)/math.Sqrt(r.At(i, i)*r.At(j, j)))
		}
	}
	for i := range d {
		r.SetSym(i, i, 1)
	}
	return r
}

// covariance is P of a belief.
func (b belief) covariance() *mat.Dense {
	p := &mat.Dense{}
	p.Mul(b.root, b.root.T())
	return p
}

// updated is P - PHᵀ(I + HPHᵀ)⁻¹HP: the same covariance in the other common form,
// which needs no inverse of P (R. E. Kalman 1960, from memory).
func updated(p mat.Matrix, h *mat.Dense) *mat.Dense {
	n, _ := h.Dims()
	var hp, s, gain, out mat.Dense
	hp.Mul(h, p)
	s.Mul(&hp, h.T())
	for i := range n {
		s.Set(i, i, s.At(i, i)+1)
	}
	if err := gain.Solve(&s, &hp); err != nil {
		panic(err)
	}
	out.Mul(hp.T(), &gain)
	out.Sub(p, &out)
	return &out
}

func mustBelieve(t interface{ Fatal(...any) }, r *mat.SymDense) belief {
	b, err := newBelief(r)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// TestBeliefAfter: against the other form, also with singular covariances; doubt
// never grows, along any direction; the same readings again teach less than the
// first time.
func TestBeliefAfter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 3))
		d, n := rapid.IntRange(1, 7).Draw(t, "numbers"), rapid.IntRange(1, 12).Draw(t, "readings")
		before := mustBelieve(t, correlated(rng, d, rapid.IntRange(1, d+2).Draw(t, "causes")))
		h := normals(rng, n, d)
		after := before.after(h)
		want := updated(before.covariance(), h)
		if !mat.EqualApprox(after.covariance(), want, 1e-9) {
			t.Fatalf("%v, by the other form %v", mat.Formatted(after.covariance()), mat.Formatted(want))
		}
		g := mat.Col(nil, 0, normals(rng, d, 1))
		v0, v1, v2 := math.Pow(before.deviation(g), 2), math.Pow(after.deviation(g), 2), math.Pow(after.after(h).deviation(g), 2)
		if v1 > v0*(1+1e-12) || v2 > v1*(1+1e-12) {
			t.Fatalf("doubt grows: %g, %g, %g", v0, v1, v2)
		}
		if v0-v2 > 2*(v0-v1)+1e-9 {
			t.Fatalf("once takes %g off, twice %g", v0-v1, v0-v2)
		}
		if p := before.times(g); math.Abs(mat.Dot(mat.NewVecDense(d, p), mat.NewVecDense(d, g))-v0) > 1e-9 {
			t.Fatalf("gᵀPg by two ways: %v and %g", p, v0)
		}
	})
}

// TestKnownNumber: a number that is known exactly counts like one that is not
// there.
func TestKnownNumber(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 4))
	h, r := normals(rng, 5, 4), correlated(rng, 4, 4)
	b := mustBelieve(t, r)
	known := belief{mat.DenseCopyOf(mustBelieve(t, r.SliceSym(0, 3).(*mat.SymDense)).root.Grow(1, 1))}
	g := []float64{1, -2, 0.5, 7}
	fewer := mustBelieve(t, r.SliceSym(0, 3).(*mat.SymDense)).after(h.Slice(0, 5, 0, 3).(*mat.Dense)).deviation(g[:3])
	if got := known.after(h).deviation(g); math.Abs(got-fewer) > 1e-12 {
		t.Errorf("%g with a number that is known, %g without it", got, fewer)
	}
	if all := b.after(h).deviation(g); math.Abs(all-fewer) < 0.1 {
		t.Errorf("the number that is known would not matter: %g", all)
	}
}

// TestWhitened: nuisances taken out beforehand are the same as numbers of which
// nobody asks.
func TestWhitened(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 4))
	const n, d, q = 9, 4, 3
	h, nuisance := normals(rng, n, d), normals(rng, n, q)
	nuisance.Scale(30, nuisance)
	r := correlated(rng, d, d)
	all := mat.NewSymDense(d+q, nil)
	for i := range d + q {
		all.SetSym(i, i, 1)
		for j := range i {
			if i < d {
				all.SetSym(i, j, r.At(i, j))
			}
		}
	}
	var joined mat.Dense
	joined.Augment(h, nuisance)
	want := mustBelieve(t, all).after(&joined).covariance().Slice(0, d, 0, d)
	got := mustBelieve(t, r).after(whitened(h, nuisance)).covariance()
	if !mat.EqualApprox(got, want, 1e-10) {
		t.Errorf("%v, jointly %v", mat.Formatted(got), mat.Formatted(want))
	}
}

// TestNoBelief: correlations that cannot hold together, and ones that do but for
// their digits.
func TestNoBelief(t *testing.T) {
	r := mat.NewSymDense(3, []float64{1, 0.9, -0.9, 0.9, 1, 0.9, -0.9, 0.9, 1})
	if _, err := newBelief(r); err == nil {
		t.Error("they hold together")
	}
	r = mat.NewSymDense(3, []float64{1, 0.707, 0.707, 0.707, 1, -0.0005, 0.707, -0.0005, 1})
	mustBelieve(t, r)
}

// TestMisjudged: limit cases, and 400 000 draws of what is believed and what is.
func TestMisjudged(t *testing.T) {
	const m, before = 1.5, 2.0
	now := distuv.UnitNormal.CDF(-m / before)
	for _, c := range []struct{ after, want, tol float64 }{
		{before, now, 1e-9}, {1e-9, 0, 2e-3}, {0, 0, 1e-12},
	} {
		if got := misjudged(m, before, c.after); math.Abs(got-c.want) > c.tol {
			t.Errorf("left %g: %g, not %g", c.after, got, c.want)
		}
	}
	rng := rand.New(rand.NewPCG(3, 4))
	const after, draws = 0.7, 400000
	wrong := 0
	for range draws {
		believed := m + math.Sqrt(before*before-after*after)*rng.NormFloat64()
		if truth := believed + after*rng.NormFloat64(); truth*believed < 0 {
			wrong++
		}
	}
	share := float64(wrong) / draws
	if got := misjudged(m, before, after); math.Abs(got-share) > 4*math.Sqrt(share/draws) || math.Abs(misjudged(-m, before, after)-got) > 1e-12 {
		t.Errorf("%g, drawn %g", got, share)
	}
	if passed(-1, 0) != 1 || passed(1, 0) != 0 {
		t.Error("without doubt it is not clear")
	}
}

// TestBruteForce: truths drawn from what is believed, readings with noise, and
// the margin that follows from them: its errors spread as is said before anything
// is read, and the flights come in the same order. The last flight is one that
// reads nothing of what matters.
func TestBruteForce(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	const d, n, draws = 5, 8, 20000
	prior := mustBelieve(t, correlated(rng, d, d))
	g := []float64{3, -2, 1, 0.5, 1}
	last := 0.0
	for _, scale := range []float64{3, 1, 0.3, 0.1, 0} {
		h := normals(rng, n, d)
		h.Scale(scale, h)
		after := prior.after(h)
		said := after.deviation(g)
		sum := 0.0
		for range draws {
			sum += math.Pow(missed(rng, prior, after, h, g), 2)
		}
		spread := math.Sqrt(sum / draws)
		t.Logf("said %.4f, drawn %.4f", said, spread)
		if math.Abs(spread/said-1) > 4/math.Sqrt(2*draws) {
			t.Errorf("said %g, drawn %g", said, spread)
		}
		if spread < last {
			t.Errorf("%g after %g: another order", spread, last)
		}
		last = spread
	}
}

// missed is by how much the margin is missed by one draw.
func missed(rng *rand.Rand, prior, after belief, h *mat.Dense, g []float64) float64 {
	n, d := h.Dims()
	var truth, read mat.VecDense
	truth.MulVec(prior.root, normals(rng, d, 1).ColView(0))
	read.MulVec(h, &truth)
	read.AddVec(&read, normals(rng, n, 1).ColView(0))
	return mat.Dot(mat.NewVecDense(d, g), &truth) - mat.Dot(mat.NewVecDense(d, g), learned(after, h, &read))
}

// learned is what is believed of the numbers after readings: P' Hᵀ y.
func learned(after belief, h *mat.Dense, read *mat.VecDense) *mat.VecDense {
	_, d := h.Dims()
	var x mat.VecDense
	x.MulVec(h.T(), read)
	return mat.NewVecDense(d, after.times(x.RawVector().Data))
}
