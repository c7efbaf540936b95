package ode

import (
	"math"
	"testing"
)

// standard returns α, Γ, b and b̂ of a formula, the inverse of transformed:
// Γ = (I/γ − c)⁻¹, α = a·Γ, b = m·Γ.
func standard(r rosenbrock) (α, Γ [][]float64, b, bHat []float64) {
	s := len(r.m)
	inv := make([][]float64, s)
	for i := range inv {
		inv[i] = make([]float64, s)
		inv[i][i] = 1 / r.γ
		for j, c := range r.c[i] {
			inv[i][j] = -c
		}
	}
	Γ = lowerInverse(inv)
	mHat := make([]float64, s)
	for i := range s {
		row := make([]float64, s)
		copy(row, r.a[i])
		α = append(α, timesLower(row, Γ))
		mHat[i] = r.m[i] - r.e[i]
	}
	return α, Γ, timesLower(r.m, Γ), timesLower(mHat, Γ)
}

func apply(m [][]float64, v []float64) []float64 {
	out := make([]float64, len(v))
	for i := range m {
		out[i] = dot(m[i], v)
	}
	return out
}

func dot(a, b []float64) float64 {
	s := 0.0
	for i := range a {
		s += a[i] * b[i]
	}
	return s
}

func times(a, b []float64) []float64 {
	out := make([]float64, len(a))
	for i := range a {
		out[i] = a[i] * b[i]
	}
	return out
}

func plus(a, b [][]float64) [][]float64 {
	out := make([][]float64, len(a))
	for i := range a {
		for j := range a[i] {
			out[i] = append(out[i], a[i][j]+b[i][j])
		}
	}
	return out
}

type condition struct {
	name      string
	got, want float64
}

func verify(t *testing.T, conditions []condition) {
	t.Helper()
	for _, c := range conditions {
		if math.Abs(c.got-c.want) > 1e-14 {
			t.Errorf("%s = %.17g, want %.17g", c.name, c.got, c.want)
		}
	}
}

// Order conditions of Rosenbrock methods with β = α + Γ: HW II, section IV.7,
// eqs. (7.11) and (7.15).
func TestRosenbrockConditions(t *testing.T) {
	for _, r := range []rosenbrock{grk4t(), rodas4()} {
		α, Γ, b, bHat := standard(r)
		β := plus(α, Γ)
		e := filled(len(b), 1)
		a, be := apply(α, e), apply(β, e)
		a2 := times(a, a)
		verify(t, []condition{
			{"Σb", dot(b, e), 1},
			{"b·β", dot(b, be), 1. / 2},
			{"b·α²", dot(b, a2), 1. / 3},
			{"b·ββ", dot(b, apply(β, be)), 1. / 6},
			{"b·α³", dot(b, times(a, a2)), 1. / 4},
			{"b·(α·αβ)", dot(b, times(a, apply(α, be))), 1. / 8},
			{"b·βα²", dot(b, apply(β, a2)), 1. / 12},
			{"b·βββ", dot(b, apply(β, apply(β, be))), 1. / 24},
			{"Σb̂", dot(bHat, e), 1},
			{"b̂·β", dot(bHat, be), 1. / 2},
			{"b̂·α²", dot(bHat, a2), 1. / 3},
			{"b̂·ββ", dot(bHat, apply(β, be)), 1. / 6},
		})
		g := apply(Γ, e)
		for i := range r.α {
			verify(t, []condition{{"α_i", r.α[i], a[i]}, {"γ_i", r.γsum[i], g[i]}})
		}
		if last := len(b) - 1; r.shared && r.α[last] != r.α[last-1] {
			t.Errorf("α of the last two stages is %g and %g", r.α[last-1], r.α[last])
		}
		if off := dot(bHat, times(a, a2)) - 1./4; math.Abs(off) < 0.01 {
			t.Errorf("b̂ fulfils a condition of order 4: no error estimate")
		}
	}
}

// The dense output of Rodas4 is of order 3.
func TestRodas4Dense(t *testing.T) {
	r := rodas4()
	α, Γ, _, _ := standard(r)
	β := plus(α, Γ)
	e := filled(6, 1)
	be := apply(β, e)
	a := apply(α, e)
	a2 := times(a, a)
	for _, θ := range []float64{0.2, 0.5, 0.9} {
		m := make([]float64, 6)
		for i := range m {
			m[i] = θ * (r.m[i] + (1-θ)*(r.d2[i]+θ*r.d3[i]))
		}
		bθ := timesLower(m, Γ)
		for _, c := range []condition{
			{"b(θ)", dot(bθ, e), θ},
			{"b(θ)·β", dot(bθ, be), θ * θ / 2},
			{"b(θ)·α²", dot(bθ, a2), θ * θ * θ / 3},
			{"b(θ)·ββ", dot(bθ, apply(β, be)), θ * θ * θ / 6},
		} {
			if math.Abs(c.got-c.want) > 5e-14 { // 16 digits in coefficients up to 35
				t.Errorf("θ %v: %s = %.17g, want %.17g", θ, c.name, c.got, c.want)
			}
		}
	}
}

// The stability function at infinity is R(∞) = 1 − b·β⁻¹·1: zero for an L-stable
// formula, 0.454 for GRK4T (HW II, table IV.7.2). The comparison solution of GRK4T
// does not damp: it makes too much of the error where a problem is very stiff.
func TestStabilityAtInfinity(t *testing.T) {
	for _, c := range []struct {
		formula     rosenbrock
		want        float64
		compareMost float64
	}{{grk4t(), 0.454, 2.7}, {rodas4(), 0, 0.5}} {
		α, Γ, b, bHat := standard(c.formula)
		inv := lowerInverse(plus(α, Γ))
		e := filled(len(b), 1)
		if R := math.Abs(1 - dot(b, apply(inv, e))); math.Abs(R-c.want) > 5e-4 {
			t.Errorf("%d stages: R(∞) = %g, want %g", len(b), R, c.want)
		}
		if R := math.Abs(1 - dot(bHat, apply(inv, e))); R > c.compareMost {
			t.Errorf("%d stages: comparison R̂(∞) = %g", len(b), R)
		}
	}
}

// Row sums and quadrature conditions of DOPRI5: HNW I, table II.5.2.
func TestDormandPrinceSums(t *testing.T) {
	for i, row := range dopriA {
		verify(t, []condition{{"Σa_ij", dot(row[:], filled(6, 1)), dopriC[i]}})
	}
	for q := range 5 { // order 5 and 4: Σ b·c^q = 1/(q+1); error weights: 0 up to q = 3
		sum, err := 0.0, 0.0
		for i := range 7 {
			p := math.Pow(dopriC[i], float64(q))
			err += dopriE[i] * p
			if i < 6 {
				sum += dopriA[6][i] * p
			}
		}
		verify(t, []condition{{"Σb·c^q", sum, 1 / float64(q+1)}})
		if q < 4 {
			verify(t, []condition{{"Σe·c^q", err, 0}})
		} else if math.Abs(err) < 1e-6 {
			t.Error("no error estimate")
		}
	}
	verify(t, []condition{{"Σd", dot(dopriD[:], filled(7, 1)), 0}})
}
