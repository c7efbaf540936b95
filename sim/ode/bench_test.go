package ode

import (
	"context"
	"testing"
)

func benchmark(b *testing.B, p Problem, rel float64) {
	for _, m := range methods {
		b.Run(m.name, func(b *testing.B) {
			s := NewSolver(len(p.Y0))
			set := tolerance(m.method, len(p.Y0), rel)
			b.ReportAllocs()
			var sol Solution
			for b.Loop() {
				var err error
				if sol, err = s.Solve(context.Background(), p, set); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(sol.Stats.Steps), "steps")
			b.ReportMetric(float64(sol.Stats.Evaluations), "evaluations")
		})
	}
}

func BenchmarkTwoNodes(b *testing.B)  { benchmark(b, twoNodes(300), 1e-5) }
func BenchmarkStiffLoop(b *testing.B) { benchmark(b, stiffLoop(), 1e-5) }
