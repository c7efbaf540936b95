package airpath

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestTolerance: a field, from scratch or from one a little beside, is as near
// the exact one as its tolerance says, and keeps mass and heat all the same.
func TestTolerance(t *testing.T) {
	worst, solved, iterations := 0.0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		d := drawing{t}
		n, r, st := d.clean()
		exact, err := NewSolver(n)
		if err != nil {
			t.Fatal(err)
		}
		s, err := NewSolver(n)
		if err != nil {
			t.Fatal(err)
		}
		exact.Tolerance, s.Tolerance = 1e-12, math.Pow(10, d.number(-8, -6))
		for range 3 {
			for _, s := range []*Solver{exact, s} {
				if err := s.Solve(st, r); err != nil {
					t.Fatal(err)
				}
			}
			total := leastFlow
			for _, m := range exact.Field.Flow {
				total += math.Abs(m)
			}
			for i, m := range exact.Field.Flow {
				off := max(0, math.Abs(s.Field.Flow[i]-m)-digits(exact, i)) / total / s.Tolerance
				if worst = max(worst, off); !(off < 10) {
					t.Fatalf("branch %d: off by %g times the tolerance %g", i, off, s.Tolerance)
				}
			}
			if !(s.Field.Residual < 1e-9) {
				t.Fatalf("residual %g", s.Field.Residual)
			}
			in, bound := heatIn(n, s, r)
			if out := s.HeatOut(st); !bound && !(math.Abs(out-in) <= 1e-8*max(math.Abs(in), gross(n, s, st))) {
				t.Fatalf("heat out %g, in %g", out, in)
			}
			solved, iterations = solved+1, iterations+s.Field.Iterations
			d.beside(n, r, st)
		}
	})
	t.Logf("off by %.2g times the tolerance at most, %.1f iterations", worst, float64(iterations)/float64(solved))
}

// digits returns the flow of branch i that the last digits of the pressures
// decide [kg/s]. It is little but where wide inlets lie side by side, between
// which it may go round.
func digits(s *Solver, i int) float64 { return 1e-13 * scale(s) * s.links[i].conductance }

// beside changes stream, walls and heater a little.
func (d drawing) beside(n *Network, r *radiator, st *Stream) {
	st.Speed *= d.number(0.95, 1.05)
	st.Density *= d.number(0.99, 1.01)
	r.hot += d.number(-5, 5)
	for j := range n.Places {
		n.Places[j].WallTemp += d.number(-2, 2)
	}
}
