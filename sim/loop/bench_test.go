package loop

import "testing"

var sink float64

func BenchmarkChainHeat(b *testing.B) {
	b.ReportAllocs()
	x := exchangeOf(30, 600, 300, 300)
	c := Chain{{{Core: 0, Share: 1}}, {{Core: 1, Share: 0.5}, {Core: 2, Share: 0.5}}}
	for b.Loop() {
		sink += c.Heat(100, 4000, x)
	}
}

func BenchmarkThermostatRate(b *testing.B) {
	b.ReportAllocs()
	th := car()
	at := 75.0
	for b.Loop() {
		sink += th.Rate(0.4, at)
		if at += 0.1; at > 100 {
			at = 75
		}
	}
}

func BenchmarkContactAt(b *testing.B) {
	b.ReportAllocs()
	c := Contact{UA: 3000, Exponent: 0.6, Floor: 0.1}
	for b.Loop() {
		sink += c.At(0.8)
	}
}
