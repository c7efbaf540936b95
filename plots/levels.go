package plots

import (
	"math"
	"slices"
)

// levelsOf chooses the levels of contour lines: round numbers with an even
// distance that suits the middle eight tenths of the values, so that a corner
// with a runaway does not take all lines. Zero is left out: it has lines of its
// own.
func levelsOf(g field) (levels []float64, by float64) {
	const usual, most, tail = 9, 24, 0.1
	var all []float64
	for _, row := range g.z {
		for _, v := range row {
			if !math.IsNaN(v) {
				all = append(all, v)
			}
		}
	}
	if len(all) == 0 {
		return nil, 1
	}
	slices.Sort(all)
	last := float64(len(all) - 1)
	whole := span{all[0], all[len(all)-1]}
	body := span{all[int(tail*last)], all[int(math.Ceil((1-tail)*last))]}
	const least = 0.01 // of a degree: less is no line worth drawing
	if body.hi-body.lo < least {
		body = whole
	}
	if body.hi-body.lo < least {
		return nil, 1
	}
	by = step(body.hi-body.lo, usual)
	if (whole.hi-whole.lo)/by > most {
		whole = body.padded(0.5)
	}
	for _, v := range ticks(whole.lo, whole.hi, by) {
		if math.Abs(v) > by/2 && len(levels) < most {
			levels = append(levels, v)
		}
	}
	return levels, by
}
