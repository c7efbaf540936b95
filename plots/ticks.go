package plots

import "math"

// step returns the least of 1, 2, 5 times a power of ten that divides span
// into at most most parts.
func step(span float64, most int) float64 {
	least := span / float64(most)
	decade := math.Pow(10, math.Floor(math.Log10(least)))
	for _, m := range []float64{1, 2, 5} {
		if m*decade >= least*(1-1e-9) {
			return m * decade
		}
	}
	return 10 * decade
}

// ticks returns the multiples of step from lo to hi.
func ticks(lo, hi, step float64) []float64 {
	var at []float64
	for k := math.Ceil(lo/step - 1e-9); k*step <= hi+1e-9*step; k++ {
		at = append(at, k*step)
	}
	return at
}

// places returns how many decimals tell multiples of step apart.
func places(step float64) int {
	return max(0, int(math.Ceil(-math.Log10(step)-1e-9)))
}

// span is a range of values.
type span struct{ lo, hi float64 }

// nothing is the range before any value is in it.
var nothing = span{math.Inf(1), math.Inf(-1)}

func (s span) with(values ...float64) span {
	for _, v := range values {
		s.lo, s.hi = math.Min(s.lo, v), math.Max(s.hi, v)
	}
	return s
}

// atLeast widens s evenly to a least width, so that a flat line lies in the
// middle and small changes look small.
func (s span) atLeast(width float64) span {
	if lack := width - (s.hi - s.lo); lack > 0 {
		s.lo, s.hi = s.lo-lack/2, s.hi+lack/2
	}
	return s
}

// outward rounds s to multiples of step.
func (s span) outward(step float64) span {
	return span{math.Floor(s.lo/step+1e-9) * step, math.Ceil(s.hi/step-1e-9) * step}
}
