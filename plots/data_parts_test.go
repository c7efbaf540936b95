package plots

import (
	"math"
	"slices"
	"strconv"
	"testing"

	"pgregory.net/rapid"
)

// Both ends and all that must not be missed are picked, in order, and no more
// than asked for.
func TestPicked(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, most := rapid.IntRange(1, 5000).Draw(t, "n"), rapid.IntRange(2, 50).Draw(t, "most")
		also := rapid.SliceOfN(rapid.IntRange(0, n-1), 0, 3).Draw(t, "also")
		at := picked(n, most, also...)
		if at[0] != 0 || at[len(at)-1] != n-1 || !slices.IsSorted(at) || len(slices.Compact(slices.Clone(at))) != len(at) {
			t.Fatalf("of %d: %v", n, at)
		}
		if len(at) < min(n, most) || len(at) > min(n, most+len(also)) {
			t.Fatalf("%d of %d, %d asked for", len(at), n, most)
		}
		for _, k := range also {
			if !slices.Contains(at, k) {
				t.Fatalf("%d is not among %v", k, at)
			}
		}
	})
}

// Values of an axis are told apart and told right.
func TestAxisTexts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := anyAxis(t, "x", rapid.IntRange(1, 30).Draw(t, "n"))
		if a.check() != nil {
			return
		}
		const lastDecimal = 0.51e-9 // half of it
		step := math.Inf(1)
		for i := 1; i < len(a.Values); i++ {
			step = min(step, a.Values[i]-a.Values[i-1])
		}
		for i, text := range a.texts() {
			v, err := strconv.ParseFloat(text, 64)
			tolerance := min(0.0101*step, 0.001*math.Max(math.Abs(a.Values[0]), math.Abs(a.Values[len(a.Values)-1])))
			if err != nil || math.Abs(v-a.Values[i]) > max(tolerance, lastDecimal) {
				t.Fatalf("%g is told as %s, the least step is %g", a.Values[i], text, step)
			}
		}
	})
	for text, values := range map[string][]float64{"0.0000025": {0, 2.5e-6}, "7": {6, 7, 8.0000000001}, "-4.50": {-9, -4.5, 0.333, 1}, "16.25": {16.25}} {
		if got := (Axis{Values: values}).texts(); !slices.Contains(got, text) {
			t.Errorf("%v is told as %q, without %s", values, got, text)
		}
	}
}
