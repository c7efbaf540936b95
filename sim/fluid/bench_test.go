package fluid

import "testing"

var sink float64

func benchmark(b *testing.B, f func(t float64) float64) {
	b.ReportAllocs()
	t := 60.0
	for b.Loop() {
		sink += f(t)
		if t += 0.1; t > 110 {
			t = 60
		}
	}
}

func BenchmarkGlycolHeatCapacity(b *testing.B) {
	benchmark(b, must(b)(EthyleneGlycol(0.5)).HeatCapacity)
}
func BenchmarkGlycolViscosity(b *testing.B) {
	benchmark(b, must(b)(EthyleneGlycol(0.5)).Viscosity)
}
func BenchmarkGlycolPrandtl(b *testing.B) { benchmark(b, must(b)(EthyleneGlycol(0.5)).Prandtl) }
func BenchmarkOilViscosity(b *testing.B)  { benchmark(b, must(b)(EngineOil("15w_50")).Viscosity) }
func BenchmarkOilTableViscosity(b *testing.B) {
	benchmark(b, OilTableA5().Viscosity)
}
func BenchmarkAirViscosity(b *testing.B)       { benchmark(b, AirViscosity) }
func BenchmarkAirPrandtl(b *testing.B)         { benchmark(b, AirPrandtl) }
func BenchmarkSaturationPressure(b *testing.B) { benchmark(b, SaturationPressure) }

func BenchmarkBoilingPoint(b *testing.B) {
	l := must(b)(EthyleneGlycol(0.5))
	benchmark(b, func(t float64) float64 {
		boiling, _ := l.BoilingPoint(1e5 + 1e3*t)
		return boiling
	})
}

func BenchmarkWetBulb(b *testing.B) {
	benchmark(b, func(t float64) float64 { return WetBulb(t-30, 0.01, 1e5) })
}
