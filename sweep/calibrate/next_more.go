package calibrate

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
)

// NextAlong is what a flight does to the doubt along a direction.
type NextAlong struct {
	Row        int     // of NextTable.Rows
	Now, After float64 // standard deviation, in those of the numbers
}

// Along ranks flights by the doubt that they leave along a direction of numbers:
// by path, how far each goes, in SI. With w the direction in deviations of the
// numbers, made of length 1, it is that of wᵀz, where z are the numbers less
// their means, in deviations. It shows which flight tells apart what others do
// not. The error names a path that is not doubtful.
func (t *NextTable) Along(direction map[string]float64) ([]NextAlong, error) {
	w, err := t.along(direction)
	if err != nil {
		return nil, err
	}
	list := make([]NextAlong, len(t.Rows))
	for i := range t.Rows {
		list[i] = NextAlong{i, t.belief.deviation(w), t.belief.after(t.Rows[i].slopes).deviation(w)}
	}
	slices.SortStableFunc(list, func(a, b NextAlong) int { return cmp.Compare(a.After, b.After) })
	return list, nil
}

// MarginAlong is the part of the doubt of the deciding margin that goes with a
// direction, one standard deviation [K]: with w as for Along, of gᵀz the part that
// follows wᵀz, |gᵀPw|/√(wᵀPw). The error names a path that is not doubtful.
func (t *NextTable) MarginAlong(direction map[string]float64) (float64, error) {
	w, err := t.along(direction)
	if err != nil {
		return 0, err
	}
	sigma := t.belief.deviation(w)
	if sigma == 0 {
		return 0, nil
	}
	sum := 0.0
	for k, v := range t.belief.times(w) {
		sum += t.g[t.Deciding][k] * v
	}
	return math.Abs(sum) / sigma, nil
}

// along is a direction in deviations of the numbers, of length 1.
func (t *NextTable) along(direction map[string]float64) ([]float64, error) {
	w := make([]float64, len(t.Numbers))
	length := 0.0
	for _, path := range slices.Sorted(maps.Keys(direction)) {
		k := slices.IndexFunc(t.Numbers, func(n NextNumber) bool { return n.Param.Path == path })
		if k < 0 {
			return nil, fmt.Errorf("%s is no doubtful number of the target", path)
		}
		w[k] = direction[path] / t.Numbers[k].Deviation
		length = math.Hypot(length, w[k])
	}
	if !(length > 0) || math.IsInf(length, 1) {
		return nil, fmt.Errorf("the direction has no length")
	}
	for k := range w {
		w[k] /= length
	}
	return w, nil
}

// NextThen is a second flight, flown after a first.
type NextThen struct {
	Row   int        // of NextTable.Rows
	After [2]float64 // doubt that both leave of each margin [K]
}

// Then ranks second flights after that of a row, which may be flown again, by
// the doubt of the deciding margin.
func (t *NextTable) Then(row int) []NextThen {
	known := t.belief.after(t.Rows[row].slopes)
	list := make([]NextThen, len(t.Rows))
	for i := range t.Rows {
		list[i].Row = i
		both := known.after(t.Rows[i].slopes)
		for c := range t.g {
			list[i].After[c] = both.deviation(t.g[c])
		}
	}
	slices.SortStableFunc(list, func(a, b NextThen) int {
		return cmp.Compare(a.After[t.Deciding], b.After[t.Deciding])
	})
	return list
}
