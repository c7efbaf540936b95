package ode

import "math"

// Step is an accepted step, or the part of one before or after an event, with
// the solution inside it as a polynomial. With θ = (t − base)/h
//
//	y(θ) = y0 + θ·(r1 + (1−θ)·(r2 + θ·(r3 + (1−θ)·r4)))
//
// (HNW I, section II.6). It is of order 3 for the Rosenbrock methods and 4 for
// DormandPrince, and has a continuous slope for all but Rodas4.
type Step struct {
	T0, T1 float64 // ends of the part shown

	base, h        float64 // the whole step
	y0             []float64
	r1, r2, r3, r4 []float64
}

// newStep returns a step with room for n components.
func newStep(n int) Step {
	v := vectors(5, n)
	return Step{y0: v[0], r1: v[1], r2: v[2], r3: v[3], r4: v[4]}
}

// vectors returns k vectors of n components, in one block.
func vectors(k, n int) [][]float64 {
	block, v := make([]float64, k*n), make([][]float64, k)
	for i := range v {
		v[i] = block[i*n : (i+1)*n : (i+1)*n]
	}
	return v
}

// hermite sets the cubic with values y0, y1 and slopes f0, f1 at the ends of a
// step from t of length h.
func (s *Step) hermite(t, h float64, y0, y1, f0, f1 []float64) {
	s.base, s.h = t, h
	for i := range y0 {
		d := y1[i] - y0[i]
		s.y0[i] = y0[i]
		s.r1[i] = d
		s.r2[i] = h*f0[i] - d
		s.r3[i] = 2*d - h*(f0[i]+f1[i])
		s.r4[i] = 0
	}
}

// At writes y(t) to y, for T0 ≤ t ≤ T1.
func (s *Step) At(t float64, y []float64) {
	θ := (t - s.base) / s.h
	for i := range y {
		y[i] = s.value(i, θ)
	}
}

// Slope writes y'(t) to dydt, for T0 ≤ t ≤ T1.
func (s *Step) Slope(t float64, dydt []float64) {
	θ := (t - s.base) / s.h
	for i := range dydt {
		dydt[i] = s.slope(i, θ) / s.h
	}
}

// Value returns component i of y(t), for T0 ≤ t ≤ T1.
func (s *Step) Value(i int, t float64) float64 { return s.value(i, (t-s.base)/s.h) }

// Rate returns component i of y'(t), for T0 ≤ t ≤ T1.
func (s *Step) Rate(i int, t float64) float64 { return s.slope(i, (t-s.base)/s.h) / s.h }

// Extremum returns the largest value of component i for T0 ≤ t ≤ T1 and the
// time of it: exact for the polynomial, to rounding.
func (s *Step) Extremum(i int) (value, t float64) {
	value, t = s.Value(i, s.T0), s.T0
	consider := func(at float64) {
		if v := s.Value(i, at); v > value {
			value, t = v, at
		}
	}
	consider(s.T1)
	θ0, θ1 := (s.T0-s.base)/s.h, (s.T1-s.base)/s.h
	cuts, n := s.curvatureZeros(i, θ0, θ1)
	for k := 1; k < n; k++ { // the slope is monotone between cuts
		a, b := cuts[k-1], cuts[k]
		if s.slope(i, a) > 0 && s.slope(i, b) < 0 {
			θ, _ := Root(func(θ float64) float64 { return s.slope(i, θ) }, a, b, 0)
			consider(s.base + θ*s.h)
		}
	}
	return value, t
}

func (s *Step) value(i int, θ float64) float64 {
	η := 1 - θ
	return s.y0[i] + θ*(s.r1[i]+η*(s.r2[i]+θ*(s.r3[i]+η*s.r4[i])))
}

// slope returns dy/dθ.
func (s *Step) slope(i int, θ float64) float64 {
	return s.r1[i] + (1-2*θ)*s.r2[i] + θ*(2-3*θ)*s.r3[i] + 2*θ*(1-θ)*(1-2*θ)*s.r4[i]
}

// curvatureZeros returns θ0, the zeros of d²y/dθ² between, and θ1, in order:
//
//	d²y/dθ² = 12·r4·θ² − (6·r3 + 12·r4)·θ + 2·(r3 − r2 + r4)
func (s *Step) curvatureZeros(i int, θ0, θ1 float64) (cuts [4]float64, n int) {
	a, b := 12*s.r4[i], -6*s.r3[i]-12*s.r4[i]
	c := 2 * (s.r3[i] - s.r2[i] + s.r4[i])
	cuts[0], n = θ0, 1
	if disc := b*b - 4*a*c; disc >= 0 {
		q := -(b + math.Copysign(math.Sqrt(disc), b)) / 2
		lo, hi := q/a, c/q // infinite or NaN where there is none
		if lo > hi {
			lo, hi = hi, lo
		}
		for _, θ := range [2]float64{lo, hi} {
			if θ > cuts[n-1] && θ < θ1 {
				cuts[n] = θ
				n++
			}
		}
	}
	cuts[n] = θ1
	return cuts, n + 1
}
