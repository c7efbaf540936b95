package flight

import "testing"

var sink float64

func benchmarkThrust(b *testing.B, tas float64) {
	b.ReportAllocs()
	p := usual()
	for b.Loop() {
		sink += p.Thrust(134.2e3, tas, 1.225, 0.75)
	}
}

func BenchmarkThrustInFlight(b *testing.B)  { benchmarkThrust(b, 41.2) }
func BenchmarkThrustIdealDisc(b *testing.B) { benchmarkThrust(b, 25) }

func BenchmarkDrag(b *testing.B) {
	b.ReportAllocs()
	a := single()
	for b.Loop() {
		sink += a.RateOfClimb(climbPower, a.Drag(climbQ), climbSpeed)
	}
}

func BenchmarkCalibrated(b *testing.B) {
	b.ReportAllocs()
	table := AirspeedTable{{30, 33}, {40, 41}, {50, 50}, {60, 58}}
	for b.Loop() {
		sink += table.Calibrated(47)
	}
}
