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
	"hotclimb/sweep"
)

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

// TestCompareHidden: in air so cold that the thermostat hides what a change does, a
// change that does nothing is not told to be real because the model expects it to do
// something on a hot day. In warm air it is what was measured that counts, and with
// flights in both the cold ones count for little.
func TestCompareHidden(t *testing.T) {
	h, still := newHangar(t), []float64{0, 0, 0}
	larger := map[string]string{"exits.belly.height": "12 in"}
	cold, hot := [2]string{"45 degF", "75 mph"}, [2]string{"100 degF", "70 mph"}
	compare := func(air ...[2]string) *CircuitDifference {
		base, none := Configuration{Name: "base", Reference: h.reference(nil)}, Configuration{Name: "none", Reference: h.reference(larger)}
		for _, a := range air {
			base.Records = append(base.Records, h.fly("base", nil, nil, still, a, faultless))
			none.Records = append(none.Records, h.fly("none", nil, larger, still, a, faultless))
		}
		c, err := Compare(context.Background(), []Configuration{base, none}, CompareSettings{Workers: 2})
		if err != nil {
			t.Fatal(err)
		}
		return c.Differences[0].Circuits[sweep.Coolant]
	}
	hidden, seen, both := compare(cold), compare(hot), compare(cold, hot)
	t.Logf("cold %.2f ± %.2f K by the model, hot %.2f ± %.2f K, both %.2f ± %.2f K", hidden.Value, hidden.Model, seen.Value, seen.Model, both.Value, both.Model)
	// All of what is told is what the model expects.
	if hidden.Real || hidden.Value > -2 || math.Abs(hidden.Model+hidden.Value) > 0.3 || hidden.Sources[0].Path != TheChange || hidden.More != Never {
		t.Errorf("hidden by the thermostat: %+v", hidden)
	}
	if math.Abs(seen.Value) > 0.5 || seen.Model > 0.5 {
		t.Errorf("in hot air: %+v", seen)
	}
	if math.Abs(both.Value) > math.Abs(hidden.Value)/4 {
		t.Errorf("in both airs: %+v", both)
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
