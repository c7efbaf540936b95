package airpath

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// scale returns the largest pressure in the field [Pa], at least 0.1: a millionth of that moves nothing.
func scale(s *Solver) float64 {
	p := 0.1
	for _, l := range s.links {
		across := s.pressure[l.from] - s.pressure[l.to]
		p = max(p, math.Abs(across), math.Abs(l.off-across))
	}
	return p
}

// lawOff returns the largest error of a branch law over the pressures of
// the field.
func lawOff(s *Solver, st *Stream) float64 {
	s.evaluate(st)
	off := 0.0
	for _, l := range s.links {
		if l.open {
			off = max(off, math.Abs(l.off))
		}
	}
	return off / scale(s)
}

// heatIn returns the heat of sources, walls and cores [W], and whether a place
// sits at a bound of its temperature.
func heatIn(n *Network, s *Solver, r *radiator) (q float64, bound bool) {
	for j, p := range n.Places {
		q += p.Source + p.WallUA*(p.WallTemp-s.Field.Temperature[j])
		bound = bound || s.Field.Temperature[j] >= hottest
	}
	return q + r.heat(&s.Field), bound
}

// Whatever is open or shut, at any speed, there is one field, it is finite,
// keeps mass and heat and obeys every law.
func TestEveryNetworkHasAField(t *testing.T) {
	worst, worstMean, most, solved, puffing, iterations := 0.0, 0.0, 0, 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		d := drawing{t}
		n := d.network()
		r := d.radiator(n)
		s, err := NewSolver(n)
		if err != nil {
			t.Fatal(err)
		}
		for range 3 {
			st := d.stream()
			if err := s.Solve(st, r); err != nil {
				t.Fatalf("%v in %+v", err, *st)
			}
			most = max(most, s.Field.Iterations)
			iterations += s.Field.Iterations
			if !(s.Field.Residual < 1e-9) {
				t.Fatalf("residual %g", s.Field.Residual)
			}
			off := lawOff(s, st)
			solved++
			if s.Field.Iterations > dampAfter {
				puffing++
				if worstMean = max(worstMean, off); !(off < 1e-6) {
					t.Fatalf("mean law off by %g of the pressures", off)
				}
			} else if worst = max(worst, off); !(off < 1e-6) {
				t.Fatalf("law off by %g of the pressures after %d iterations", off, s.Field.Iterations)
			}
			in, bound := heatIn(n, s, r)
			if out := s.HeatOut(st); !bound && !(math.Abs(out-in) <= 1e-8*max(math.Abs(in), gross(n, s, st))) {
				t.Fatalf("heat out %g, in %g", out, in)
			}
			if drag := s.Drag(st).Total(); math.IsNaN(drag) || math.IsInf(drag, 0) {
				t.Fatalf("drag %g", drag)
			}
		}
	})
	t.Logf("%d fields, worst law error %.1e, iterations %.1f and at most %d", solved, worst, float64(iterations)/float64(solved), most)
	t.Logf("%d of them puffing, worst law error %.1e", puffing, worstMean)
}

// gross returns the heat that walls and flows carry to and fro, at least 10 W.
func gross(n *Network, s *Solver, st *Stream) float64 {
	q := 10.0
	for j, p := range n.Places {
		q += p.Source + (p.WallUA+p.SkinUA)*math.Abs(s.Field.Temperature[j]-st.Temperature)
	}
	for i, m := range s.Field.Flow {
		q += math.Abs(m * HeatCapacity * (s.Field.In[i] - st.Temperature))
	}
	return q
}

// TestLawsSeeDensitiesAlone: the laws of a solved field do not change when its
// temperatures move and its densities stay, as at the end of a damped solve.
func TestLawsSeeDensitiesAlone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawing{t}
		n := d.network()
		r := d.radiator(n)
		s, err := NewSolver(n)
		if err != nil {
			t.Fatal(err)
		}
		st := d.stream()
		if err := s.Solve(st, r); err != nil {
			t.Fatal(err)
		}
		before := lawOff(s, st)
		for i := range s.Field.In {
			s.Field.In[i] += 7
			s.Field.Out[i] -= 11
		}
		if after := lawOff(s, st); after != before {
			t.Fatalf("laws off by %g, and by %g with other temperatures", before, after)
		}
	})
}
