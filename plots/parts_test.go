package plots

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/plot/vg"
	"pgregory.net/rapid"
)

// Names are at least a gap apart, in the order of their lines, inside the
// frame when they fit, and where they want to be when nothing is in the way.
func TestSpread(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := rapid.SliceOfN(rapid.Float64Range(0, 100), 1, 8).Draw(t, "want")
		at := spread(want, 10, 0, 100)
		for i := range want {
			if at[i] < -1e-9 || at[i] > 100+1e-9 {
				t.Fatalf("%v lies outside", at[i])
			}
			for j := range want {
				if i != j && math.Abs(at[i]-at[j]) < 10-1e-9 {
					t.Fatalf("%v and %v are too near", at[i], at[j])
				}
				if want[i] < want[j] && at[i] > at[j] {
					t.Fatalf("%v and %v changed places", want[i], want[j])
				}
			}
		}
	})
	if got := spread([]float64{80, 20}, 10, 0, 100); !slices.Equal(got, []float64{80, 20}) {
		t.Errorf("free names moved to %v", got)
	}
	if got := spread([]float64{50, 50}, 10, 0, 100); !slices.Equal(got, []float64{55, 45}) {
		t.Errorf("equal names moved to %v", got)
	}
}

// No text lies on another or on the line of another.
func TestStack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var tags []tag
		for _, x := range rapid.SliceOfN(rapid.Float64Range(40, 400), 1, 15).Draw(t, "x") {
			text := rapid.SampledFrom([]string{"climb", "take-off", "a long name of a leg"}).Draw(t, "text")
			tags = append(tags, tag{words: words{text: text, size: smallSize}, at: vg.Length(x)})
		}
		s := stacker{rows: 4, right: 530, shorten: rapid.Bool().Draw(t, "shorten"), bothSides: rapid.Bool().Draw(t, "both")}
		s.stack(tags)
		if tags[0].row != 0 {
			t.Fatal("the first has no place")
		}
		for i := range tags {
			if tags[i].row >= 0 && tags[i].right() > 530 {
				t.Fatalf("%q is cut off", tags[i].text)
			}
			for j := range i {
				if tags[i].row >= 0 && tags[i].disturbs(&tags[j]) {
					t.Fatalf("%q lies on %q", tags[i].text, tags[j].text)
				}
			}
		}
	})
}

func TestThinKeepsPeaks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 4000).Draw(t, "n")
		x, y := make([]float64, n), make([]float64, n)
		for i := range x {
			x[i], y[i] = float64(i), math.Sin(float64(i)/50)
		}
		spike := rapid.IntRange(0, n-1).Draw(t, "spike")
		y[spike] = 5
		tx, ty := thin(x, y)
		if len(tx) > mostPoints || len(tx) != len(ty) || len(tx) < min(n, mostPoints/2) {
			t.Fatalf("%d of %d points", len(tx), n)
		}
		if tx[0] != x[0] || tx[len(tx)-1] != x[n-1] || !slices.IsSorted(tx) {
			t.Fatal("the ends or the order are lost")
		}
		if i := slices.Index(tx, x[spike]); i < 0 || ty[i] != 5 {
			t.Fatal("the peak is lost")
		}
	})
}

func TestTicks(t *testing.T) {
	cases := []struct {
		lo, hi float64
		most   int
		step   float64
		count  int
	}{
		{0, 3, 10, 0.5, 7}, {0, 25, 10, 5, 6}, {0, 14, 10, 2, 8}, {62, 278, 9, 50, 4}, {0, 10, 10, 1, 11},
	}
	for _, c := range cases {
		by := step(c.hi-c.lo, c.most)
		if n := len(ticks(c.lo, c.hi, by)); by != c.step || n != c.count {
			t.Errorf("%g to %g: %d ticks by %g, want %d by %g", c.lo, c.hi, n, by, c.count, c.step)
		}
	}
	for by, want := range map[float64]int{0.05: 2, 0.5: 1, 1: 0, 50: 0} {
		if got := places(by); got != want {
			t.Errorf("multiples of %g: %d decimals, want %d", by, got, want)
		}
	}
}

// Exact: −40 °C is −40 °F; 0.3048 m is 1 ft; 0.45359237 kg/s is 60 lb/min.
func TestScales(t *testing.T) {
	cases := []struct {
		s        scale
		in, want float64
	}{
		{US.temperature(), -40, -40}, {US.temperature(), 100, 212}, {SI.temperature(), 100, 100},
		{US.altitude(), 0.3048, 1}, {SI.altitude(), 12, 12},
		{US.airFlow(), 0.45359237, 60}, {SI.airFlow(), 2, 2}, {minutes(), 90, 1.5},
	}
	for _, c := range cases {
		if got := c.s.of(c.in); math.Abs(got-c.want) > 1e-12*math.Abs(c.want) {
			t.Errorf("%g is %g %s, want %g", c.in, got, c.s.unit, c.want)
		}
	}
	for x, want := range map[float64]string{-0.04: "0.0", -5: "−5.0", 2.25: "2.2"} {
		if got := decimal(x, 1); got != want {
			t.Errorf("%g is printed %q, want %q", x, got, want)
		}
	}
}
