package scenarios

import "testing"

// BenchmarkRewrite is what the download of a changed file costs.
func BenchmarkRewrite(b *testing.B) {
	rotary, _ := Builtin("rotary")
	list := []CaseSetting{
		{"", Setting{"exits.aft_ring.area", "100 in^2"}},
		{"", Setting{"inlets.armpit_right.area", "36 in^2"}},
		{"cruise", Setting{"day.temperature", "80 degF"}},
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Rewrite(rotary.Text, list); err != nil {
			b.Fatal(err)
		}
	}
}
