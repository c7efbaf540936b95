package main

import (
	"math"
	"slices"
	"strconv"

	"hotclimb/sim"
	"hotclimb/sweep"
)

// mostListed is how many rows text lists one by one.
const mostListed = 40

// tally is what text says of the rows of a sweep. It grows with neither their
// number nor that of the values.
type tally struct {
	*swept
	at       map[string]int // columns by name
	listed   [][]string     // all rows, when they are few
	status   map[string]int // rows
	reversed int            // rows with air flowing backwards through a core
	broken   int            // rows of flights that did not reach their end
	sprayed  bool
	marks    []mark // the rows with most and least margin
	effects  []effect
}

// mark is the row with the most or the least of something.
type mark struct {
	what  string
	value func(margins [2]float64) float64
	most  bool

	best  float64
	cells []string // nil when there is none
}

// effect is the mean of both margins over the rows in which a factor takes a
// word, or a number within bounds.
type effect struct {
	factor int
	word   string
	lo, hi float64

	n   int
	sum [2]float64 // [K]
}

func newTally(s *swept) *tally {
	t := &tally{swept: s, at: map[string]int{}, status: map[string]int{}}
	for i, c := range s.manifest.Columns() {
		t.at[c.Name] = i
	}
	coolant := func(m [2]float64) float64 { return m[sweep.Coolant] }
	oil := func(m [2]float64) float64 { return m[sweep.Oil] }
	lesser := func(m [2]float64) float64 { return math.Min(m[0], m[1]) }
	t.marks = []mark{
		{what: "coolant, most", value: coolant, most: true}, {what: "coolant, least", value: coolant},
		{what: "oil, most", value: oil, most: true}, {what: "oil, least", value: oil},
		{what: "lesser of both, most", value: lesser, most: true},
	}
	for i, f := range s.study.Factors {
		t.effects = append(t.effects, effectsOf(i, f)...)
	}
	return t
}

// effectsOf are the ends of a factor: its words, its lowest and its highest
// value, or the lowest and the highest quarter between its bounds.
func effectsOf(i int, f sweep.Factor) []effect {
	var list []effect
	for _, word := range f.Words {
		list = append(list, effect{factor: i, word: word})
	}
	switch quarter := (f.Hi - f.Lo) / 4; {
	case f.Words != nil:
	case f.Values != nil:
		list = append(list, effect{factor: i, lo: f.Lo, hi: f.Lo}, effect{factor: i, lo: f.Hi, hi: f.Hi})
	default:
		list = append(list, effect{factor: i, lo: f.Lo, hi: f.Lo + quarter}, effect{factor: i, lo: f.Hi - quarter, hi: f.Hi})
	}
	return slices.Compact(list) // a list of one value has one end
}

// take counts a row.
func (t *tally) take(cells []string) error {
	if t.manifest.Len() <= mostListed {
		t.listed = append(t.listed, slices.Clone(cells))
	}
	t.status[cells[t.at["status"]]]++
	if cells[t.at["reversed"]] != "" {
		t.reversed++
	}
	if cells[t.at["incomplete"]] != "" {
		t.broken++
	}
	if water, ok := t.number(cells, "water_used_kg"); ok && water > 0 {
		t.sprayed = true
	}
	coolant, ok := t.number(cells, "coolant_margin_K")
	if !ok {
		return nil
	}
	oil, _ := t.number(cells, "oil_margin_K")
	margins := [2]float64{coolant, oil}
	for i := range t.marks {
		t.marks[i].take(margins, cells)
	}
	for i := range t.effects {
		t.effects[i].take(margins, cells[1+t.effects[i].factor])
	}
	return nil
}

// number is a cell as a number; false when it is empty.
func (t *tally) number(cells []string, column string) (float64, bool) {
	i, there := t.at[column]
	if !there {
		return 0, false
	}
	x, err := strconv.ParseFloat(cells[i], 64)
	return x, err == nil
}

// take keeps the row when it is the first with so much, or so little.
func (m *mark) take(margins [2]float64, cells []string) {
	v := m.value(margins)
	if m.cells == nil || m.most && v > m.best || !m.most && v < m.best {
		m.best, m.cells = v, append(m.cells[:0], cells...)
	}
}

// take adds a row if the factor takes what the effect stands for.
func (e *effect) take(margins [2]float64, cell string) {
	if e.word != cell {
		x, err := strconv.ParseFloat(cell, 64)
		if e.word != "" || err != nil || x < e.lo || x > e.hi {
			return
		}
	}
	e.n++
	e.sum[0] += margins[0]
	e.sum[1] += margins[1]
}

// statuses are those of rows, the best first.
var statuses = []string{string(sim.WithinLimits), string(sim.Caution), string(sim.OverLimit), sweep.Failed}
