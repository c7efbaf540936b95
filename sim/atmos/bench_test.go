package atmos

import "testing"

var sink float64

func BenchmarkAt(b *testing.B) {
	b.ReportAllocs()
	d := HotDay()
	h := 0.0
	for b.Loop() {
		s := d.At(h)
		sink += s.Density
		if h++; h > 5000 {
			h = 0
		}
	}
}

func BenchmarkCalibratedToTrue(b *testing.B) {
	b.ReportAllocs()
	s := Standard().At(2000)
	v := 40.0
	for b.Loop() {
		sink += CalibratedToTrue(v, s)
		if v += 0.1; v > 80 {
			v = 40
		}
	}
}
