package calibrate

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sweep"
)

// comparedDoubts are the only doubtful numbers of the tug here.
var comparedDoubts = []string{"engine.heat_to_coolant", "inlets.chin.slipstream", "exchangers.radiator.rating.heat"}

const comparedCase = "hot_tow"

// widerExit is a change that the model knows, noChange one that does nothing there.
var (
	widerExit = map[string]string{"exits.belly.height": "9.5 in"}
	noChange  = map[string]string{"spray.tank": "2 gal"}
)

// doubting is a scenario that knows all its numbers but a few.
func doubting(t testing.TB, sc *scenarios.Scenario, paths []string) *scenarios.Scenario {
	t.Helper()
	c, err := sc.Edit(func(c *scenarios.Scenario) error {
		for _, path := range sc.Paths() {
			p, err := sc.Compile(path)
			if err != nil || slices.Contains(paths, path) {
				continue
			}
			if n, ok := p.Get(sc); ok && n.Doubt > 0 {
				if err := p.Set(c, n.Value); err != nil {
					return err
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// truthOf is a scenario with its doubtful numbers where the draws have them.
func truthOf(t testing.TB, sc *scenarios.Scenario, z []float64) *scenarios.Scenario {
	t.Helper()
	d, err := sweep.DoubtsOf(sc)
	if err != nil {
		t.Fatal(err)
	}
	x := slices.Clone(d.Mean)
	for k := range x {
		x[k] += d.Deviation[k] * z[k]
	}
	set, _, err := d.Set(sc, x)
	if err != nil {
		t.Fatal(err)
	}
	return set
}

// hangar is where configurations of the tug come from.
type hangar struct {
	t    testing.TB
	sc   *scenarios.Scenario // the file, with few doubts
	flow *scenarios.Scenario // its case
}

func newHangar(t testing.TB) *hangar {
	sc, _ := loaded(t, "tug")
	c, err := sc.Case(comparedCase)
	if err != nil {
		t.Fatal(err)
	}
	return &hangar{t, doubting(t, sc, comparedDoubts), doubting(t, c, comparedDoubts)}
}

func (h *hangar) reference(set map[string]string) *scenarios.Scenario {
	h.t.Helper()
	c, err := h.flow.With(scenarios.Settings(set))
	if err != nil {
		h.t.Fatal(err)
	}
	return c
}

// fly writes a record of a tow with a configuration: the truth z deviations off what
// the file has, in air and at a speed of the day, with noise and scatter; the record
// is known under the set that is declared.
func (h *hangar) fly(name string, set, declared map[string]string, z []float64, air [2]string, errs func(int, float64) float64) *Record {
	h.t.Helper()
	day := map[string]string{"day.temperature": air[0], "flight.legs.tow.speed": air[1]}
	truth, err := h.reference(set).With(scenarios.Settings(day))
	if err != nil {
		h.t.Fatal(err)
	}
	text := written(h.t, truthOf(h.t, truth, z), errs)
	return recordOf(h.t, h.sc, nil, &scenarios.Test{Name: name, Set: declared}, text)
}

// noisy are the errors of one flight: scatter, and noise of half minutes.
func noisy(random *rand.Rand, scatter, noise float64) func(int, float64) float64 {
	var bias [2]float64
	var blocks [2][200]float64
	for c := range bias {
		bias[c] = scatter * random.NormFloat64()
		for b := range blocks[c] {
			blocks[c][b] = noise * random.NormFloat64()
		}
	}
	return func(c int, at float64) float64 { return bias[c] + blocks[c][int(at/block)] }
}

// peak is the true highest temperature in the reference.
func (h *hangar) peak(set map[string]string, z []float64, circuit int) float64 {
	h.t.Helper()
	result, err := sweep.Fly(context.Background(), truthOf(h.t, h.reference(set), z), sim.Settings{})
	if err != nil {
		h.t.Fatal(err)
	}
	return result.Peaks[circuit].Value
}
