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

// Order conditions of W-methods with any matrix for J: HW II, section IV.7,
// for order 3, written with α and Γ apart.
func TestROS34PW2Conditions(t *testing.T) {
	α, Γ, b, bHat := standard(ros34pw2())
	e := filled(4, 1)
	a, g := apply(α, e), apply(Γ, e)
	verify(t, []condition{
		{"Σb", dot(b, e), 1},
		{"b·α", dot(b, a), 1. / 2},
		{"b·Γ", dot(b, g), 0},
		{"b·α²", dot(b, times(a, a)), 1. / 3},
		{"b·αα", dot(b, apply(α, a)), 1. / 6},
		{"b·αΓ", dot(b, apply(α, g)), 0},
		{"b·Γα", dot(b, apply(Γ, a)), 0},
		{"b·ΓΓ", dot(b, apply(Γ, g)), 0},
		{"Σb̂", dot(bHat, e), 1},
		{"b̂·α", dot(bHat, a), 1. / 2},
		{"b̂·Γ", dot(bHat, g), 0},
	})
	if got := dot(bHat, times(a, a)); math.Abs(got-1./3) < 0.01 {
		t.Errorf("b̂ fulfils a condition of order 3: no error estimate")
	}
}

// Order conditions of Rosenbrock methods with β = α + Γ: HW II, section IV.7,
// eqs. (7.11) and (7.15).
func TestRodas4Conditions(t *testing.T) {
	r := rodas4()
	α, Γ, b, bHat := standard(r)
	β := plus(α, Γ)
	e := filled(6, 1)
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

// The stability function R(∞) = 1 − b·β⁻¹·1 is zero for an L-stable formula; the
// comparison solution of ROS34PW2 must at least damp.
func TestStabilityAtInfinity(t *testing.T) {
	for _, r := range []rosenbrock{ros34pw2(), rodas4()} {
		α, Γ, b, bHat := standard(r)
		inv := lowerInverse(plus(α, Γ))
		e := filled(len(b), 1)
		if R := 1 - dot(b, apply(inv, e)); math.Abs(R) > 1e-13 {
			t.Errorf("order %d: R(∞) = %g, want 0", r.order, R)
		}
		if R := 1 - dot(bHat, apply(inv, e)); math.Abs(R) > 0.5 {
			t.Errorf("order %d: comparison R̂(∞) = %g", r.order, R)
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
