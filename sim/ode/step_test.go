package ode

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Extremum against a fine grid, on random quartics and random parts of the step.
func TestExtremum(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	inside := 0
	for range 2000 {
		s := newStep(1)
		s.base, s.h = 10, 4
		for _, v := range [][]float64{s.y0, s.r1, s.r2, s.r3, s.r4} {
			v[0] = 20*r.Float64() - 10
			if r.IntN(4) == 0 {
				v[0] = 0
			}
		}
		s.T0 = 10 + 2*r.Float64()
		s.T1 = s.T0 + (14-s.T0)*r.Float64()
		cuts, n := s.curvatureZeros(0, -1, 2)
		for _, θ := range cuts[1 : n-1] {
			if bend := s.slope(0, θ+1e-4) - s.slope(0, θ-1e-4); math.Abs(bend) > 1e-8 {
				t.Fatalf("slope changes by %g about θ = %v", bend, θ)
			}
		}
		got, at := s.Extremum(0)
		most := math.Inf(-1)
		for k := range 1001 {
			most = math.Max(most, s.Value(0, s.T0+(s.T1-s.T0)*float64(k)/1000))
		}
		if got < most-1e-12 || got > most+1e-3 || at < s.T0 || at > s.T1 {
			t.Fatalf("%+v: %v at %v, grid %v", s, got, at, most)
		}
		if at > s.T0 && at < s.T1 {
			inside++
			if slope := s.Rate(0, at); math.Abs(slope) > 1e-10 {
				t.Fatalf("slope %g at the maximum", slope)
			}
		}
	}
	if inside < 200 {
		t.Errorf("only %d maxima inside", inside)
	}
}

// Rate is the derivative of Value, and the cubic meets its four data.
func TestHermite(t *testing.T) {
	s := newStep(1)
	s.hermite(3, 2, []float64{1}, []float64{4}, []float64{-1}, []float64{5})
	for _, c := range [][2]float64{
		{s.Value(0, 3), 1}, {s.Value(0, 5), 4}, {s.Rate(0, 3), -1}, {s.Rate(0, 5), 5},
	} {
		if math.Abs(c[0]-c[1]) > 1e-14 {
			t.Errorf("%v, want %v", c[0], c[1])
		}
	}
	s.r4[0] = 7
	for _, at := range []float64{3.1, 3.7, 4.4} {
		slope := (s.Value(0, at+1e-5) - s.Value(0, at-1e-5)) / 2e-5
		near(t, "slope", s.Rate(0, at), slope, 1e-7)
	}
}

// The peak of sin t from the dense output, at high tolerance.
func TestExtremumOfSolution(t *testing.T) {
	for _, m := range methods {
		peak, at := -1.0, 0.0
		set := tolerance(m.method, 2, 1e-9)
		set.OnStep = func(s *Step) {
			if v, when := s.Extremum(0); v > peak {
				peak, at = v, when
			}
		}
		solve(t, circle(3), set)
		near(t, m.name, peak, 1, 1e-7)
		near(t, m.name, at, math.Pi/2, 1e-6)
	}
}
