package calibrate

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"hotclimb/scenarios"
	"hotclimb/sweep"
)

// response is what the model has for both circuits, and how far each doubtful
// number moves it by its standard deviation.
type response struct {
	at    [2]float64            // [°C]
	paths []string              // in the order of the scenario
	by    map[string][2]float64 // [K]
}

// respond flies a scenario as it stands, and with each of its doubtful numbers moved.
func respond(ctx context.Context, sc *scenarios.Scenario, fly func(context.Context, *scenarios.Scenario) ([2]float64, error)) (response, error) {
	m := response{by: map[string][2]float64{}}
	var err error
	if m.at, err = fly(ctx, sc); err != nil {
		return m, err
	}
	doubts, err := sweep.DoubtsOf(sc)
	if err != nil {
		return m, err
	}
	for k, p := range doubts.Params {
		slope, err := slopeFrom(doubts, k, m.at, func(x []float64) ([2]float64, error) {
			edited, turned, err := doubts.Set(sc, x)
			if err == nil && turned {
				err = fmt.Errorf("%s cannot be moved there", p.Path)
			}
			if err != nil {
				return [2]float64{}, err
			}
			return fly(ctx, edited)
		})
		if err != nil {
			return m, fmt.Errorf("%s moved by its doubt: %w", p.Path, err)
		}
		m.paths, m.by[p.Path] = append(m.paths, p.Path), slope
	}
	return m, nil
}

// slopeFrom moves number k by its standard deviation, up where its range and the
// flight allow it, else down.
func slopeFrom(d *sweep.Doubts, k int, at [2]float64, fly func([]float64) ([2]float64, error)) (slope [2]float64, err error) {
	p, sigma := d.Params[k], d.Deviation[k]
	step := sigma
	if p.Whole {
		step = math.Max(1, math.Round(sigma))
	}
	steps := []float64{min(step, p.Hi-d.Mean[k]), -min(step, d.Mean[k]-p.Lo)}
	if steps[0] < -steps[1] {
		steps[0], steps[1] = steps[1], steps[0]
	}
	for _, by := range steps {
		if by == 0 {
			continue
		}
		x := append([]float64{}, d.Mean...)
		x[k] += by
		var moved [2]float64
		if moved, err = fly(x); err == nil {
			for i := range slope {
				slope[i] = (moved[i] - at[i]) / by * sigma
			}
			return slope, nil
		}
	}
	return slope, err
}

// TheChange stands for a path where what the model thinks of a change is in doubt.
const TheChange = "the change"

// numbers are all that are doubtful in any flight, and behind them TheChange of
// every configuration but the baseline.
type numbers struct {
	paths        []string
	correlations []pairing
	changes      int
}

// change is the place of what the model thinks of configuration k > 0.
func (n *numbers) change(k int) int { return len(n.paths) - n.changes + k - 1 }

// pairing is the correlation of two of them.
type pairing struct {
	j, k int
	rho  float64
}

func newNumbers(c *comparing) *numbers {
	n := &numbers{}
	place := map[string]int{}
	for _, m := range slices.Concat(c.references, c.models()) {
		for _, path := range m.paths {
			if _, ok := place[path]; !ok {
				place[path] = len(n.paths)
				n.paths = append(n.paths, path)
			}
		}
	}
	for _, r := range c.list[0].Reference.Correlations {
		j, a := place[r.Of]
		k, b := place[r.With]
		if a && b {
			n.correlations = append(n.correlations, pairing{j, k, r.Value.Value})
		}
	}
	n.changes = len(c.list) - 1
	for range n.changes {
		n.paths = append(n.paths, TheChange)
	}
	return n
}

func (c *comparing) models() []response {
	list := make([]response, len(c.tests))
	for i, t := range c.tests {
		list[i] = t.model
	}
	return list
}

// covariance is that of two results with these slopes, each times the deviation of
// its number [K²]. The parts by number add up to it.
func (n *numbers) covariance(f, g []float64) float64 {
	sum := 0.0
	for _, part := range n.parts(f, g) {
		sum += part
	}
	return sum
}

func (n *numbers) parts(f, g []float64) []float64 {
	parts := make([]float64, len(f))
	for i := range f {
		parts[i] = f[i] * g[i]
	}
	for _, c := range n.correlations {
		parts[c.j] += c.rho * f[c.j] * g[c.k]
		parts[c.k] += c.rho * f[c.k] * g[c.j]
	}
	return parts
}

// sources are the numbers that put most into the model's part of a difference,
// largest first, as far as each is worth naming.
func (n *numbers) sources(slopes []float64) []Source {
	const named = 0.1
	var list []Source
	parts := n.parts(slopes, slopes)
	if all := n.covariance(slopes, slopes); all > 0 {
		for k, part := range parts {
			if share := part / all; share >= named {
				list = append(list, Source{n.paths[k], share})
			}
		}
	}
	slices.SortStableFunc(list, func(a, b Source) int { return cmp.Compare(b.Share, a.Share) })
	return list
}
