package sweep

import (
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/mat"
	"hotclimb/scenarios"
)

// Doubts are the numbers of a scenario that are not known exactly.
type Doubts struct {
	Params      []scenarios.Param
	Mean        []float64     // as the scenario has them, SI
	Deviation   []float64     // one standard deviation of each, SI
	Correlation *mat.SymDense // ones on the diagonal; nil: they are independent

	draws *Draws
}

// groundSections change no flight: what gauges show, and what is known of doubts.
var groundSections = []string{"gauges.", "correlations."}

// DoubtsOf are the numbers of an effective scenario that carry a doubt, in the
// order of the file, without those of its gauges, which change no flight. A
// correlation counts when both of its numbers are among them: one that was set
// since carries no doubt any more. The error names correlations that cannot hold
// together.
func DoubtsOf(sc *scenarios.Scenario) (*Doubts, error) {
	d := &Doubts{}
	place := map[string]int{}
	for _, path := range sc.Paths() {
		p, err := sc.Compile(path)
		if err != nil || slices.ContainsFunc(groundSections, func(s string) bool { return strings.HasPrefix(path, s) }) {
			continue
		}
		if n, ok := p.Get(sc); ok && n.Doubt > 0 {
			place[path] = len(d.Params)
			d.Params = append(d.Params, p)
			d.Mean, d.Deviation = append(d.Mean, n.Value), append(d.Deviation, n.Doubt)
		}
	}
	for _, c := range sc.Correlations {
		j, a := place[c.Of]
		k, b := place[c.With]
		if a && b && c.Value.Value != 0 {
			d.correlate(j, k, c.Value.Value)
		}
	}
	var err error
	d.draws, err = NewDraws(d.Normals(), d.Correlation)
	return d, err
}

// correlate notes one correlation.
func (d *Doubts) correlate(j, k int, value float64) {
	if d.Correlation == nil {
		d.Correlation = mat.NewSymDense(len(d.Params), nil)
		for i := range d.Params {
			d.Correlation.SetSym(i, i, 1)
		}
	}
	d.Correlation.SetSym(j, k, value)
}

// Normals are the numbers with the ranges of their paths for bounds.
func (d *Doubts) Normals() []Normal {
	list := make([]Normal, len(d.Params))
	for k, p := range d.Params {
		list[k] = Normal{p.Path, d.Mean[k], d.Deviation[k], p.Lo, p.Hi}
	}
	return list
}

// Spreads are the standard deviations of the numbers as they are drawn: what the
// ranges of their paths leave of their doubts. The slopes of Doubt count in these.
func (d *Doubts) Spreads() []float64 {
	list := make([]float64, len(d.Params))
	for k := range list {
		list[k] = d.draws.numbers[k].spread()
	}
	return list
}

// Draws are how points of the unit cube become these numbers.
func (d *Doubts) Draws() *Draws { return d.draws }

// correlation is that of two of the numbers.
func (d *Doubts) correlation(j, k int) float64 {
	switch {
	case j == k:
		return 1
	case d.Correlation == nil:
		return 0
	}
	return d.Correlation.At(j, k)
}

// Set returns the scenario, of which the doubts are, with its numbers at x. Where
// these could not be flown together, as shares that come to more than the whole,
// the numbers are taken as far on the other side of their means, at most to the
// ends of their ranges, and turned is true.
func (d *Doubts) Set(sc *scenarios.Scenario, x []float64) (set *scenarios.Scenario, turned bool, err error) {
	if set, err = d.edit(sc, func(k int) float64 { return x[k] }); err == nil {
		return set, false, nil
	}
	other, again := d.edit(sc, func(k int) float64 { return 2*d.Mean[k] - x[k] })
	if again != nil {
		return nil, false, err
	}
	return other, true, nil
}

// edit sets the numbers that are not where the scenario has them.
func (d *Doubts) edit(sc *scenarios.Scenario, at func(k int) float64) (*scenarios.Scenario, error) {
	return sc.Edit(func(c *scenarios.Scenario) error {
		for k, p := range d.Params {
			x := at(k)
			if x == d.Mean[k] {
				continue
			}
			if p.Whole {
				x = math.Round(x)
			}
			if err := p.Set(c, min(max(x, p.Lo), p.Hi)); err != nil {
				return err
			}
		}
		return nil
	})
}
