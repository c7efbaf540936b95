package exchanger

import "testing"

var sink float64

func BenchmarkBothUnmixed(b *testing.B) {
	b.ReportAllocs()
	n := 1.5
	for b.Loop() {
		sink += BothUnmixed.Effectiveness(n, 0.2)
		if n += 0.001; n > 1.6 {
			n = 1.5
		}
	}
}

func BenchmarkInvertBothUnmixed(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		n, _ := BothUnmixed.NTU(0.66, 0.17)
		sink += n
	}
}

func BenchmarkPower(b *testing.B) {
	p := Power{UA: 800, Flow: 0.6, Exponent: 0.47}
	b.ReportAllocs()
	for b.Loop() {
		sink += p.At(0.5, 40)
	}
}

func benchmarkSide(b *testing.B, side Conductance) {
	b.ReportAllocs()
	for b.Loop() {
		sink += side.At(0.5, 60)
	}
}

func BenchmarkLouveredAt(b *testing.B) { benchmarkSide(b, radiator(b).Air) }
func BenchmarkTubeAt(b *testing.B)     { benchmarkSide(b, radiator(b).Liquid) }
func BenchmarkStripAt(b *testing.B) {
	benchmarkSide(b, must[*OffsetStrip](b)(NewOffsetStrip(strip(), nil)))
}

func benchmarkHeat(b *testing.B, c *Core) {
	b.ReportAllocs()
	air, liquid := AirStream(0.5, 35), Stream{1, 95, 3600}
	for b.Loop() {
		k, _ := c.Heat(air, liquid)
		sink += k
	}
}

func BenchmarkHeatRated(b *testing.B) { benchmarkHeat(b, ratedCore(b, rated())) }
func BenchmarkHeatFins(b *testing.B)  { benchmarkHeat(b, radiator(b)) }

func benchmarkDrop(b *testing.B, c *Core) {
	b.ReportAllocs()
	for b.Loop() {
		dp, _ := c.PressureDrop(0.5, 1.1, 1.0, 1.95e-5)
		sink += dp
	}
}

func BenchmarkDropPowerLaw(b *testing.B) { benchmarkDrop(b, ratedCore(b, rated())) }
func BenchmarkDropLouvered(b *testing.B) { benchmarkDrop(b, radiator(b)) }
func BenchmarkDropBench(b *testing.B) {
	benchmarkDrop(b, &Core{Resist: Bench{A: 5.6e5, B: 1.6, Area: 0.06}, FreeArea: 0.045, FaceArea: 0.06})
}

func BenchmarkEvaporate(b *testing.B) {
	s, air := NewSpray(0.01, 25), MoistAir{0.9, 35, 0.3, 101325}
	b.ReportAllocs()
	for b.Loop() {
		sink += s.Evaporate(air, 85, 1.2).Latent
	}
}

func benchmarkWet(b *testing.B, water float64) {
	c := ratedCore(b, rated())
	s, air, liquid := NewSpray(water, 25), MoistAir{0.6, 35, 0.3, 101325}, Stream{1, 95, 3600}
	b.ReportAllocs()
	for b.Loop() {
		sink += c.Wet(s, air, liquid).Heat
	}
}

func BenchmarkWet(b *testing.B)      { benchmarkWet(b, 0.01) }
func BenchmarkWetDry(b *testing.B)   { benchmarkWet(b, 0) }
func BenchmarkWetFlood(b *testing.B) { benchmarkWet(b, 0.3) }

// TestNoAllocation: nothing that a derivative calls allocates.
func TestNoAllocation(t *testing.T) {
	c := radiator(t)
	share := make([]float64, 2)
	n := testing.AllocsPerRun(100, func() {
		k, _ := c.Heat(AirStream(0.5, 35), Stream{1, 95, 3600})
		dp, _ := c.PressureDrop(0.5, 1.1, 1.0, 1.95e-5)
		wet := c.Wet(NewSpray(0.3, 25), MoistAir{0.6, 35, 0.3, 101325}, Stream{1, 95, 3600})
		_ = Split([]float64{1, 2}, 1.75, share)
		sink += k + dp + wet.Heat + BothUnmixed.Effectiveness(1.5, 0.2)
	})
	if n != 0 {
		t.Errorf("%g allocations", n)
	}
}
