package airpath

import "testing"

// typical has three inlets, four cores into two compartments, two exits and
// two leaks.
func typical() (*Network, *radiator) {
	n := &Network{Places: make([]Place, 5)}
	for p, area := range []float64{0.02, 0.01, 0.006} {
		n.add(Branch{Inlet: &Inlet{Area: area, Recovery: 0.85, LipLoss: 0.5, DuctLoss: 0.3, Slipstream: 0.2}}, Outside, p)
	}
	for i, face := range []float64{0.06, 0.04, 0.03, 0.02} {
		n.add(Branch{Core: &Core{Element: bench{face, 5e5, 2}, FaceArea: face}}, min(i, 2), 3+i/2)
	}
	for j, area := range []float64{0.03, 0.02} {
		n.add(Branch{Exit: &Exit{Area: area, Discharge: 0.7, Pressure: -0.1, JetCosine: 0.9, Rise: -0.3}}, 3+j, Outside)
		n.add(Branch{Gap: &Gap{Area: 5e-4, Discharge: 0.6}}, j, 3+j)
		n.Places[3+j].SkinUA = 5
	}
	r := &radiator{net: n, hot: 95, ua: make([]float64, len(n.Branches))}
	for i := range r.ua {
		r.ua[i] = 600
	}
	return n, r
}

func benchmarkSolve(b *testing.B, warm bool) {
	n, r := typical()
	s, err := NewSolver(n)
	if err != nil {
		b.Fatal(err)
	}
	st := seaLevel(50)
	iterations := 0
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		st.Speed = 50 + float64(i%8)*0.2
		if !warm {
			s.Reset()
		}
		if err := s.Solve(st, r); err != nil {
			b.Fatal(err)
		}
		iterations += s.Field.Iterations
	}
	b.ReportMetric(float64(iterations)/float64(b.N), "iterations/op")
}

func BenchmarkSolveCold(b *testing.B) { benchmarkSolve(b, false) }
func BenchmarkSolveWarm(b *testing.B) { benchmarkSolve(b, true) }
