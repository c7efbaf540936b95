package main

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"hotclimb/scenarios"
	"hotclimb/sweep"
)

// cut is a part of a grid that a chart shows: one or two factors take all their
// values, the others stay at the one nearest to that of the file.
type cut struct {
	x, y    *scale         // y is nil for one factor
	margins [2][][]float64 // least of coolant and of oil over the cases, [iy][ix] [K]; NaN where a flight failed

	// The least 5 and 95 % of each over the cases, where doubtful numbers were
	// drawn: the margin of each case lies above the one in 95 % of the draws, and
	// that of some case below the other.
	low, high [2][][]float64
}

// scale is a factor of a chart.
type scale struct {
	factor int
	values []float64 // rising, each once, in the unit displayed
	rank   []int     // where each value of the factor stands in values
}

func newScale(i int, f sweep.Factor) *scale {
	s := &scale{factor: i}
	shown := make([]float64, len(f.Values))
	for k, v := range f.Values {
		shown[k] = displayed(f.Param, v)
	}
	s.values = slices.Compact(slices.Sorted(slices.Values(shown)))
	for _, v := range shown {
		k, _ := slices.BinarySearch(s.values, v)
		s.rank = append(s.rank, k)
	}
	return s
}

// displayed is a value of a parameter in the unit it is displayed in.
func displayed(p scenarios.Param, value float64) float64 {
	x, err := scenarios.Convert(value, p.Unit, p.Dimension)
	if err != nil {
		return value // a display unit always fits
	}
	return x
}

func newCut(x, y *scale) *cut {
	c := &cut{x: x, y: y}
	rows := 1
	if y != nil {
		rows = len(y.values)
	}
	for _, of := range []*[2][][]float64{&c.margins, &c.low, &c.high} {
		for i := range of {
			for range rows {
				of[i] = append(of[i], slices.Repeat([]float64{math.Inf(1)}, len(x.values)))
			}
		}
	}
	return c
}

// cutter takes the rows of a grid apart.
type cutter struct {
	study   *sweep.Study
	own     []int     // of each factor, the number of the value nearest to that of the file
	columns [3][2]int // of the margins and, where there are any, of 5 and 95 % of them
	cuts    []*cut
	at      []int // of each factor, the number of its value in the row at hand
}

// newCutter makes the cuts of a grid: along each factor of numbers and, when
// there are several, across two of them: openings before others.
func newCutter(s *swept) *cutter {
	names := sweep.Names(s.manifest.Columns())
	c := &cutter{study: s.study, at: make([]int, len(s.study.Factors))}
	for i, what := range []string{"margin_K", "margin_p5_K", "margin_p95_K"} {
		c.columns[i] = [2]int{slices.Index(names, "coolant_"+what), slices.Index(names, "oil_"+what)}
	}
	var scales []*scale
	for i, f := range s.study.Factors {
		c.own = append(c.own, nearest(s.study.Cases, f))
		if f := newScale(i, f); len(f.values) > 1 {
			scales = append(scales, f)
		}
	}
	for _, x := range scales {
		c.cuts = append(c.cuts, newCut(x, nil))
	}
	if len(scales) > 1 {
		slices.SortStableFunc(scales, func(a, b *scale) int { return cmp.Compare(c.turn(a), c.turn(b)) })
		c.cuts = append(c.cuts, newCut(scales[0], scales[1]))
	}
	return c
}

// turn orders factors for the chart over two of them.
func (c *cutter) turn(x *scale) int {
	if c.study.Factors[x.factor].Param.Made == "opening" {
		return 0
	}
	return 1
}

// nearest is the number of the value of a factor that is nearest to that of the
// file.
func nearest(cases []scenarios.CaseScenario, f sweep.Factor) int {
	if !f.Param.IsNumber() {
		_, k, err := sweep.Compile(cases, f.Param.Path)
		if err != nil {
			return 0 // the factor was compiled before
		}
		return max(slices.Index(f.Words, f.Param.Text(k.Scenario)), 0)
	}
	own, ok := sweep.Filed(cases, f.Param)
	if !ok {
		return len(f.Values) / 2
	}
	best := 0
	for i, v := range f.Values {
		if math.Abs(v-own) < math.Abs(f.Values[best]-own) {
			best = i
		}
	}
	return best
}

// take looks at a row.
func (c *cutter) take(cells []string) error {
	row, err := strconv.Atoi(cells[0])
	if err != nil {
		return err
	}
	design := row / len(c.study.Cases)
	for i := len(c.at) - 1; i >= 0; i-- {
		f := c.study.Factors[i]
		n := max(len(f.Values), len(f.Words))
		c.at[i], design = design%n, design/n
	}
	for _, k := range c.cuts {
		if c.through(k) {
			for i, of := range []*[2][][]float64{&k.margins, &k.low, &k.high} {
				if at := c.columns[i]; at[0] >= 0 {
					k.take(of, c.at, [2]float64{marginOf(cells[at[0]]), marginOf(cells[at[1]])})
				}
			}
		}
	}
	return nil
}

// through says that a cut goes through the row at hand.
func (c *cutter) through(k *cut) bool {
	for i, level := range c.at {
		if level != c.own[i] && i != k.x.factor && (k.y == nil || i != k.y.factor) {
			return false
		}
	}
	return true
}

// marginOf is a margin; NaN when there is none.
func marginOf(cell string) float64 {
	x, err := strconv.ParseFloat(cell, 64)
	if err != nil {
		return math.NaN()
	}
	return x
}

// take notes margins of a row on the cut.
func (k *cut) take(of *[2][][]float64, at []int, margins [2]float64) {
	ix, iy := k.x.rank[at[k.x.factor]], 0
	if k.y != nil {
		iy = k.y.rank[at[k.y.factor]]
	}
	for i, m := range margins {
		cell := &of[i][iy][ix]
		*cell = math.Min(*cell, m) // NaN when either is
	}
}
