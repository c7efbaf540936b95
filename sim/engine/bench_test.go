package engine

import "testing"

var sink float64

func BenchmarkHeat(b *testing.B) {
	b.ReportAllocs()
	e := Engine{RatedPower: 1e5, HeatToCoolant: 0.7, HeatToOil: 0.1, PartLoadExponent: 0.75, IdleFuel: 0.08}
	sigma := 0.6
	for b.Loop() {
		h := e.Heat(e.Available(sigma))
		sink += h.Coolant
		if sigma += 1e-3; sigma > 1 {
			sigma = 0.6
		}
	}
}
