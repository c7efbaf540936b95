package airpath

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// TestCarry: with hotter walls and another heater, Carry leaves flows,
// pressures and densities alone, and the heat is in balance to rounding; the
// places have the temperatures of the solution again with those of before.
func TestCarry(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawing{t}
		n, r, st := d.clean()
		s, err := NewSolver(n)
		if err == nil {
			err = s.Solve(st, r)
		}
		if err != nil {
			t.Fatal(err)
		}
		flow, pressure := slices.Clone(s.Field.Flow), slices.Clone(s.Field.Pressure)
		density, warmth := slices.Clone(s.density), slices.Clone(s.Field.Temperature)
		for j := range n.Places {
			n.Places[j].WallTemp += 10
		}
		r.hot += 20
		s.Carry(st, r)
		if !slices.Equal(flow, s.Field.Flow) || !slices.Equal(pressure, s.Field.Pressure) || !slices.Equal(density, s.density) {
			t.Fatal("flows, pressures or densities changed")
		}
		in, bound := heatIn(n, s, r)
		if out := s.HeatOut(st); !bound && !(math.Abs(out-in) <= 1e-9*max(math.Abs(in), gross(n, s, st))) {
			t.Fatalf("heat out %g, in %g", out, in)
		}
		for j := range n.Places {
			n.Places[j].WallTemp -= 10
		}
		r.hot -= 20
		s.Carry(st, r)
		for j, want := range warmth {
			if got := s.Field.Temperature[j]; math.Abs(got-want) > 1e-6 {
				t.Fatalf("place %d: %.9f, was %.9f", j, got, want)
			}
		}
	})
}
