package calibrate

import (
	"context"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
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

// TestCompareFlights: pairs of flights of the model in different air, with noise,
// scatter and an aircraft that is not as the file has it. What changes nothing is
// told to be real in no more pairs than the level allows, and the interval of a
// change that does something holds its true effect as often.
func TestCompareFlights(t *testing.T) {
	pairs := 8
	if os.Getenv("HOTCLIMB_LONG") != "" {
		pairs = 100
	}
	h, random := newHangar(t), rand.New(rand.NewPCG(4, 4))
	alarms, missed, off := 0, 0, [2]float64{}
	for range pairs {
		z := []float64{random.NormFloat64(), random.NormFloat64(), random.NormFloat64()}
		errs := func() func(int, float64) float64 { return noisy(random, DefaultScatter, 2/1.8) }
		list := []Configuration{
			{"base", []*Record{h.fly("base", nil, nil, z, [2]string{"95 degF", "70 mph"}, errs())}, h.reference(nil)},
			{"tank", []*Record{h.fly("tank", noChange, noChange, z, [2]string{"88 degF", "73 mph"}, errs())}, h.reference(noChange)},
			{"wide", []*Record{h.fly("wide", widerExit, widerExit, z, [2]string{"89 degF", "72 mph"}, errs())}, h.reference(widerExit)},
		}
		c, err := Compare(context.Background(), list, CompareSettings{Workers: 2})
		if err != nil {
			t.Fatal(err)
		}
		if c.Count != 4 {
			t.Fatalf("%d intervals, want 4", c.Count)
		}
		alarm, miss := false, false
		for i := range off {
			alarm = alarm || c.Differences[0].Circuits[i].Real
			want := h.peak(widerExit, z, i) - h.peak(nil, z, i)
			d := c.Differences[1].Circuits[i]
			miss = miss || d.Low > want || d.High < want
			off[i] += (d.Value - want) / float64(pairs)
		}
		if alarm {
			alarms++
		}
		if miss {
			missed++
		}
	}
	t.Logf("%d pairs: %d false alarms, %d missed, off by %.2f and %.2f K on average", pairs, alarms, missed, off[0], off[1])
	if most := math.Ceil(float64(pairs) * (0.05 + binomial(0.05, pairs))); float64(alarms) > most || float64(missed) > most {
		t.Errorf("%d false alarms and %d missed of %d, want at most %.0f", alarms, missed, pairs, most)
	}
	for i := range off { // a difference of two flights scatters by 1.7 K
		if most := 3.3 * 1.7 / math.Sqrt(float64(pairs)); math.Abs(off[i]) > most {
			t.Errorf("%s: off by %.2f K on average, want at most %.2f", circuitName(i), off[i], most)
		}
	}
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

// TestCompareInOtherAir: without noise, in air and at speeds that differ much, the
// difference comes out as it is in the reference, within the doubt of the model when
// the aircraft is not as the file has it, and to what a record loses when it is.
// Where the model does not know of the change, which is the other way of bringing
// flights together, the difference is that of the air that was flown.
func TestCompareInOtherAir(t *testing.T) {
	h := newHangar(t)
	hot, warm, cold := [2]string{"102 degF", "69 mph"}, [2]string{"92 degF", "72 mph"}, [2]string{"75 degF", "76 mph"}
	off := func(declared map[string]string, z []float64, air [2]string, most float64) (off [2]float64) {
		base := h.fly("base", nil, nil, z, hot, faultless)
		changed := h.fly("wide", widerExit, declared, z, air, faultless)
		c, err := Compare(context.Background(), []Configuration{
			{"base", []*Record{base}, h.reference(nil)}, {"wide", []*Record{changed}, h.reference(declared)},
		}, CompareSettings{Workers: 2})
		if err != nil {
			t.Fatal(err)
		}
		for i, d := range c.Differences[0].Circuits {
			want := h.peak(widerExit, z, i) - h.peak(nil, z, i)
			off[i] = d.Value - want
			t.Logf("%s: %.2f K, truly %.2f, model part %.2f", circuitName(i), d.Value, want, d.Model)
			if math.Abs(off[i]) > most*d.Model+0.2 {
				t.Errorf("%s is off by %.2f K with a doubt of %.2f by the model", circuitName(i), off[i], d.Model)
			}
		}
		masked := slices.ContainsFunc(c.Tests[1].Remarks, func(text string) bool { return strings.Contains(text, "thermostat of the coolant") })
		if hides := c.Tests[1].Circuits[sweep.Coolant].Read < h.sc.Coolant.Thermostat.Full.Value; masked != hides {
			t.Errorf("remarks %q for %+v", c.Tests[1].Remarks, c.Tests[1].Circuits[sweep.Coolant])
		}
		return off
	}
	still := []float64{0, 0, 0}
	off(widerExit, []float64{1, -0.5, 0}, cold, 2)
	off(widerExit, []float64{-1, 0.5, 0}, warm, 2)
	known, unknown := off(widerExit, still, cold, 0), off(nil, still, cold, 3)
	for i := range known {
		if math.Abs(unknown[i]) < 2*math.Abs(known[i]) {
			t.Errorf("%s: off by %.2f K with the change in the model, by %.2f without", circuitName(i), known[i], unknown[i])
		}
	}
}

// TestCompareWorkers: the same to the last bit for any number of workers, and Done
// is called for every part.
func TestCompareWorkers(t *testing.T) {
	h := newHangar(t)
	random := rand.New(rand.NewPCG(9, 9))
	list := []Configuration{
		{"base", []*Record{h.fly("base", nil, nil, []float64{0, 0, 0}, [2]string{"90 degF", "70 mph"}, noisy(random, 1, 1))}, h.reference(nil)},
		{"wide", []*Record{h.fly("wide", widerExit, widerExit, []float64{0, 0, 0}, [2]string{"88 degF", "73 mph"}, noisy(random, 1, 1))}, h.reference(widerExit)},
	}
	one, err := Compare(context.Background(), list, CompareSettings{})
	if err != nil {
		t.Fatal(err)
	}
	calls := make(chan bool, 100)
	many, err := Compare(context.Background(), list, CompareSettings{Workers: 7, Done: func() { calls <- true }})
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(one.Differences, many.Differences); diff != "" {
		t.Errorf("one worker and seven differ:\n%s", diff)
	}
	if want := list[0].Parts() + list[1].Parts(); len(calls) != want {
		t.Errorf("%d parts, want %d", len(calls), want)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Compare(ctx, list, CompareSettings{}); err == nil {
		t.Error("a cancelled comparison has a result")
	}
}

// TestUntil: a record cut off behind some readings has what the whole has there.
func TestUntil(t *testing.T) {
	h := newHangar(t)
	r := h.fly("whole", nil, nil, []float64{0, 0, 0}, [2]string{"90 degF", "70 mph"}, faultless)
	i := slices.IndexFunc(r.Readings, func(m Reading) bool { return m.From > 300 })
	short := r.until(r.Readings[i : i+1])
	if short.End >= r.End || short.End < r.Readings[i].To {
		t.Fatalf("ends after %.0f s of %.0f s", short.End, r.End)
	}
	whole, err := r.Fly(context.Background(), r.Scenario, Conditions{})
	if err != nil {
		t.Fatal(err)
	}
	cut, err := short.Fly(context.Background(), r.Scenario, Conditions{})
	if err != nil {
		t.Fatal(err)
	}
	if a, b := whole.Of(r.Readings[i]), cut.Of(r.Readings[i]); math.Abs(a-b) > 1e-3 {
		t.Errorf("%.6f of the whole, %.6f cut off", a, b)
	}
}

// TestCompareLacks: what one flight lacks, and records too short to forget their
// start.
func TestCompareLacks(t *testing.T) {
	h := newHangar(t)
	still := []float64{0, 0, 0}
	whole := h.fly("whole", nil, nil, still, [2]string{"90 degF", "70 mph"}, faultless)
	coolantOnly := h.fly("coolant_only", widerExit, widerExit, still, [2]string{"90 degF", "70 mph"}, faultless)
	coolantOnly.Readings = slices.DeleteFunc(coolantOnly.Readings, func(m Reading) bool { return m.Circuit == sweep.Oil })
	compare := func(records ...*Record) (*Comparison, error) {
		var list []Configuration
		for _, r := range records {
			list = append(list, Configuration{r.Name, []*Record{r}, h.reference(r.Test.Set)})
		}
		return Compare(context.Background(), list, CompareSettings{})
	}
	c, err := compare(whole, coolantOnly)
	if err != nil {
		t.Fatal(err)
	}
	if d := c.Differences[0].Circuits; c.Count != 1 || d[sweep.Coolant] == nil || d[sweep.Oil] != nil {
		t.Errorf("%d intervals, %+v", c.Count, d)
	}
	if want := []string{"the oil was not read"}; !slices.Equal(c.Tests[1].Remarks, want) {
		t.Errorf("remarks %q, want %q", c.Tests[1].Remarks, want)
	}
	short := h.fly("short", widerExit, widerExit, still, [2]string{"90 degF", "70 mph"}, faultless)
	short.Readings = slices.DeleteFunc(short.Readings, func(m Reading) bool { return m.From > 10 })
	if _, err := compare(whole, short); err == nil || !strings.Contains(err.Error(), "whole reads too") {
		t.Errorf("a record of half a minute: %v", err)
	}
	if _, err := compare(whole); err == nil {
		t.Error("one configuration is compared")
	}
}
