package plots

import (
	"math"
	"slices"
	"strconv"
	"strings"
)

// Limits of the tables of a figure, so that they are read and not endured.
const (
	mostRows    = 40
	mostColumns = 13
)

// picked chooses at most so many of n places in a list, evenly with both ends
// among them, and besides these some that must not be missed.
func picked(n, most int, also ...int) []int {
	count := min(n, most)
	list := slices.Clone(also)
	for i := range count {
		list = append(list, i*(n-1)/max(1, count-1))
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// some says in a caption how many of all things are told, if not all.
func some(told, all int, things string) string {
	if told == all {
		return ""
	}
	return "; " + strconv.Itoa(told) + " of " + strconv.Itoa(all) + " " + things
}

// failedText stands where a run failed.
const failedText = "failed"

// numbers prints values of a unit, each for a cell.
func (u Unit) numbers(values ...float64) []string {
	cells := make([]string, len(values))
	for i, v := range values {
		cells[i] = failedText
		if !math.IsNaN(v) {
			cells[i] = u.Number(v)
		}
	}
	return cells
}

// row joins words and cells.
func row(words []string, cells ...[]string) []string {
	return append(slices.Clone(words), slices.Concat(cells...)...)
}

// noted is a name with its note.
func noted(name, note string) string {
	if note == "" {
		return name
	}
	return name + " (" + note + ")"
}

// plain writes the minus of charts as that of tables and commands.
func plain(text string) string { return strings.ReplaceAll(text, "−", "-") }

// texts prints the values of an axis, all with as many decimals as change none
// by more than a hundredth of the least step, nine at most.
func (a Axis) texts() []string {
	const ofStep, ofSize, most = 0.01, 5e-4, 9
	tolerance := 0.0
	for _, v := range a.Values {
		tolerance = max(tolerance, ofSize*math.Abs(v))
	}
	for i := 1; i < len(a.Values); i++ {
		tolerance = min(tolerance, ofStep*(a.Values[i]-a.Values[i-1]))
	}
	rounded := func(v float64, decimals int) float64 {
		ten := math.Pow(10, float64(decimals))
		return math.Round(v*ten) / ten
	}
	decimals := 0
	for _, v := range a.Values {
		for decimals < most && math.Abs(rounded(v, decimals)-v) > tolerance {
			decimals++
		}
	}
	texts := make([]string, len(a.Values))
	for i, v := range a.Values {
		texts[i] = plain(decimal(v, decimals))
	}
	return texts
}

// highest is the place of the largest value.
func highest(values []float64) int {
	at := 0
	for i, v := range values {
		if v > values[at] {
			at = i
		}
	}
	return at
}

// nearestTo is the place of the value nearest to x.
func nearestTo(values []float64, x float64) int {
	at := 0
	for i, v := range values {
		if math.Abs(v-x) < math.Abs(values[at]-x) {
			at = i
		}
	}
	return at
}
