package uncertainty

import (
	"context"
	"testing"
)

// BenchmarkIndices is what 1024 points of 40 inputs and 3 results cost beside
// their 43,008 flights: the drawing, and 400 resamples of the indices.
func BenchmarkIndices(b *testing.B) {
	b.ReportAllocs()
	study := Study{Inputs: standard(40), Outputs: 3, Workers: 2, Evaluate: func(_ context.Context, x, y []float64) error {
		y[0], y[1], y[2] = x[0]+x[1], x[2]*x[3], x[4]
		return nil
	}}
	for b.Loop() {
		indicesOf(b, study, nil)
	}
}

// BenchmarkHistory is what 1024 histories of 1000 values cost beside their runs.
func BenchmarkHistory(b *testing.B) {
	b.ReportAllocs()
	study := Study{Inputs: standard(40), Outputs: 1000, Workers: 2, Evaluate: func(_ context.Context, x, y []float64) error {
		for i := range y {
			y[i] = x[i%40]
		}
		return nil
	}}
	for b.Loop() {
		spreadOf(b, study)
	}
}
