package scenarios

import "testing"

func BenchmarkLoad(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		mustLoad(b, good)
	}
}

// BenchmarkWith is what one case of a sweep costs before it is built.
func BenchmarkWith(b *testing.B) {
	sc, err := mustLoad(b, good).Case("taxi")
	if err != nil {
		b.Fatal(err)
	}
	set := []Setting{{"inlets.left.area", "25 in^2"}}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := sc.With(set); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkParamSet(b *testing.B) {
	sc := mustLoad(b, good)
	p, err := sc.Compile("inlets.left.area")
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if err := p.Set(sc, 0.012); err != nil {
			b.Fatal(err)
		}
	}
}
