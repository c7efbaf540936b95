package sweep

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"hotclimb/scenarios"
	"hotclimb/sim"
)

// correlate adds a correlation to a scenario.
func correlate(sc *scenarios.Scenario, of, with string, value float64) {
	c := &scenarios.Correlation{Name: fmt.Sprintf("c%d", len(sc.Correlations)), Of: of, With: with}
	c.Value.Value, c.Value.Written, c.Value.Known = value, true, true
	sc.Correlations = append(sc.Correlations, c)
}

// linearDoubt is a scenario whose margins are linear in two of its doubtful
// numbers, so that its spreads are known. Both correlate by rho.
func linearDoubt(t *testing.T, rho float64) (*Doubt, Spread) {
	t.Helper()
	sc, err := scenarios.LoadFile("tug", nil)
	if err != nil {
		t.Fatal(err)
	}
	const heatPath, pumpPath = "engine.heat_to_coolant", "coolant.pump_flow"
	if rho != 0 {
		correlate(sc, pumpPath, heatPath, rho)
	}
	doubts, err := DoubtsOf(sc)
	if err != nil {
		t.Fatal(err)
	}
	at := map[string]int{}
	for k, p := range doubts.Params {
		at[p.Path] = k
	}
	heat, pump := at[heatPath], at[pumpPath]
	fly := func(_ context.Context, sc *scenarios.Scenario) (Outcome, error) {
		h, _ := doubts.Params[heat].Get(sc)
		p, _ := doubts.Params[pump].Get(sc)
		o := Outcome{BoilMargin: math.Inf(1)}
		o.Circuits[Coolant].Margin = 100 - 50*h.Value + 3000*p.Value
		o.Circuits[Oil].Margin = 20 - 10*h.Value
		return o, nil
	}
	a, b := 50*doubts.Deviation[heat], 3000*doubts.Deviation[pump]
	want := Spread{Circuits: [2]float64{math.Sqrt(a*a + b*b - 2*rho*a*b), 10 * doubts.Deviation[heat]}}
	return &Doubt{Scenario: sc, Doubts: doubts, Fly: fly, Workers: 2}, want
}

// By slopes the spread of a line is exact, σ² = a² + b² - 2ρ a b. A Latin hypercube
// of 256 points knows it far better than the 4 % of independent draws.
func TestDoubtOfALine(t *testing.T) {
	for _, rho := range []float64{0, 0.6, -0.6, 1} {
		d, want := linearDoubt(t, rho)
		slopes, err := d.BySlopes(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		samples, err := d.BySamples(context.Background(), 256, 7)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("ρ = %g: %.4f by slopes, %.4f by samples, want %.4f", rho, slopes, samples, want)
		for c := range want.Circuits {
			if e := math.Abs(slopes.Circuits[c]/want.Circuits[c] - 1); e > 1e-9 {
				t.Errorf("ρ = %g, circuit %d by slopes: %g, want %g", rho, c, slopes.Circuits[c], want.Circuits[c])
			}
			if e := math.Abs(samples.Circuits[c]/want.Circuits[c] - 1); e > 0.05 {
				t.Errorf("ρ = %g, circuit %d by samples: %g, want %g", rho, c, samples.Circuits[c], want.Circuits[c])
			}
		}
		if slopes.Boil != 0 || samples.Boil != 0 {
			t.Errorf("a liquid that cannot boil has spreads %g and %g", slopes.Boil, samples.Boil)
		}
		if _, err := d.BySamples(context.Background(), 1, 7); err == nil {
			t.Error("one sample is no error")
		}
	}
}

// Slopes that are known are taken, without a flight. Small are those of the numbers
// that do less than their share in every margin: of the coolant heat does 90 % and
// the pump 10 %, of the oil heat does all.
func TestSmallSlopes(t *testing.T) {
	d, _ := linearDoubt(t, 0)
	at, scale := map[string]int{}, map[string]float64{}
	for k, p := range d.Doubts.Params {
		at[p.Path], scale[p.Path] = k, 1/d.Doubts.Deviation[k]
	}
	const heat, pump = "engine.heat_to_coolant", "coolant.pump_flow"
	var flights atomic.Int64
	d.Fly = func(_ context.Context, sc *scenarios.Scenario) (o Outcome, err error) {
		flights.Add(1)
		h, _ := d.Doubts.Params[at[heat]].Get(sc)
		p, _ := d.Doubts.Params[at[pump]].Get(sc)
		o.Circuits[Coolant].Margin = 3*scale[heat]*h.Value + scale[pump]*p.Value
		o.Circuits[Oil].Margin = 2 * scale[heat] * h.Value
		return o, nil
	}
	all, err := d.Slopes(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	small := func(share float64) map[string]Margins { return all.Small(share) }
	if n := len(all.By); len(small(0.09)) != n-2 || len(small(0.11)) != n-1 || len(small(1.01)) != n {
		t.Errorf("of %d numbers %d, %d and %d are small", n, len(small(0.09)), len(small(0.11)), len(small(1.01)))
	}
	d.Known = small(0.11)
	d.Known[pump] = Margins{7, 0, 0}
	flights.Store(0)
	again, err := d.Slopes(context.Background())
	if err != nil || flights.Load() != 2 || again.By[at[pump]][Coolant] != 7 || math.Abs(again.By[at[heat]][Coolant]-3) > 1e-9 {
		t.Errorf("%d flights, pump %v, heat %v, %v", flights.Load(), again.By[at[pump]], again.By[at[heat]], err)
	}
}

// A doubt far beyond the range of its number spreads margins as the range does, by
// slopes as by samples: evenly over it, W/√12.
func TestDoubtBeyondItsRange(t *testing.T) {
	d, _ := linearDoubt(t, 0)
	wide, err := d.Scenario.Edit(func(sc *scenarios.Scenario) error {
		sc.Engine.HeatToCoolant.Doubt = 1e5
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	d.Scenario = wide
	if d.Doubts, err = DoubtsOf(wide); err != nil {
		t.Fatal(err)
	}
	d.Fly = func(_ context.Context, sc *scenarios.Scenario) (o Outcome, err error) {
		o.Circuits[Coolant].Margin = 10 * sc.Engine.HeatToCoolant.Value
		return o, nil
	}
	p, err := wide.Compile("engine.heat_to_coolant")
	if err != nil {
		t.Fatal(err)
	}
	want := 10 * (p.Hi - p.Lo) / math.Sqrt(12)
	slopes, err := d.BySlopes(context.Background())
	if err != nil || math.Abs(slopes.Circuits[Coolant]/want-1) > 1e-6 {
		t.Errorf("by slopes %g, want %g: %v", slopes.Circuits[Coolant], want, err)
	}
	samples, err := d.BySamples(context.Background(), 256, 1)
	if err != nil || math.Abs(samples.Circuits[Coolant]/want-1) > 0.01 {
		t.Errorf("by samples %g, want %g: %v", samples.Circuits[Coolant], want, err)
	}
}

// Two numbers that do the same, but go against each other to the last digit, do
// nothing.
func TestDoubtCancels(t *testing.T) {
	d, _ := linearDoubt(t, -1)
	var scale [2]float64
	paths := [2]string{"engine.heat_to_coolant", "coolant.pump_flow"}
	var params [2]scenarios.Param
	for k, p := range d.Doubts.Params {
		for i := range paths {
			if p.Path == paths[i] {
				scale[i], params[i] = 10/d.Doubts.Deviation[k], p
			}
		}
	}
	d.Fly = func(_ context.Context, sc *scenarios.Scenario) (o Outcome, err error) {
		for i, p := range params {
			n, _ := p.Get(sc)
			o.Circuits[Coolant].Margin += scale[i] * n.Value
		}
		return o, nil
	}
	slopes, err := d.BySlopes(context.Background())
	if err != nil || slopes.Circuits[Coolant] > 1e-6 {
		t.Errorf("by slopes %g K, %v", slopes.Circuits[Coolant], err)
	}
	samples, err := d.BySamples(context.Background(), 64, 7)
	if err != nil || samples.Circuits[Coolant] > 1e-6 {
		t.Errorf("by samples %g K, %v", samples.Circuits[Coolant], err)
	}
}

// The spread does not depend on the number of workers, and samples follow from
// the seed.
func TestDoubtRepeats(t *testing.T) {
	d, _ := linearDoubt(t, 0.6)
	first, _ := d.BySamples(context.Background(), 64, 1)
	other, _ := d.BySamples(context.Background(), 64, 2)
	d.Workers = 1
	again, _ := d.BySamples(context.Background(), 64, 1)
	if first != again || first == other {
		t.Errorf("seed 1: %v and %v, seed 2: %v", first, again, other)
	}
}

// By slopes and by samples agree on a real flight while the numbers move little.
// With their whole doubts samples spread a third more: margins fall faster the
// hotter it gets.
func TestDoubtOfAFlight(t *testing.T) {
	sc, err := scenarios.LoadFile("rotary", nil)
	if err != nil {
		t.Fatal(err)
	}
	c, err := sc.Case("hot_climb")
	if err != nil {
		t.Fatal(err)
	}
	doubts, err := DoubtsOf(c)
	if err != nil {
		t.Fatal(err)
	}
	d := &Doubt{Scenario: c, Doubts: doubts, Workers: 2, Fly: func(ctx context.Context, sc *scenarios.Scenario) (Outcome, error) {
		r, err := Fly(ctx, sc, sim.Settings{})
		if err != nil {
			return Outcome{}, err
		}
		return OutcomeOf(r), nil
	}}
	slopes, err := d.BySlopes(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	const n, share = 128, 0.1
	less := *doubts
	less.Deviation = slices.Clone(doubts.Deviation)
	for k := range less.Deviation {
		less.Deviation[k] *= share
	}
	if less.draws, err = NewDraws(less.Normals(), nil); err != nil {
		t.Fatal(err)
	}
	d.Doubts = &less
	little, err := d.BySamples(context.Background(), n, 1)
	if err != nil {
		t.Fatal(err)
	}
	// The standard deviation of n normal draws is itself known to 1/√(2n) = 6 %,
	// and the slopes here reach a whole deviation.
	for c := range slopes.Circuits {
		if ratio := little.Circuits[c] / share / slopes.Circuits[c]; math.Abs(ratio-1) > 0.15 {
			t.Errorf("circuit %d: %.2f K by slopes, %.2f K by samples", c, slopes.Circuits[c], little.Circuits[c]/share)
		}
	}
	t.Logf("%d doubtful numbers; by slopes %v, samples at %g of it %v", len(doubts.Params), slopes, share, little)
}

// A number is moved down where its range ends, and to the farther end of a range
// that is shorter.
func TestSteps(t *testing.T) {
	for _, test := range []struct {
		lo, hi, sigma float64
		whole         bool
		want          []float64
	}{
		{0, 10, 2, false, []float64{7, 3}},
		{0, 6, 2, false, []float64{3, 6}},
		{4, 10, 2, false, []float64{7, 4}},
		{4, 5.5, 2, false, []float64{4, 5.5}},
		{5, 10, 2, false, []float64{7}},
		{0, 5, 2, false, []float64{3}},
		{0, 10, 0.2, true, []float64{6, 4}},
	} {
		if got := steps(&scenarios.Param{Lo: test.lo, Hi: test.hi, Whole: test.whole}, 5, test.sigma); !slices.Equal(got, test.want) {
			t.Errorf("%+v: %v", test, got)
		}
	}
}

// What cannot be flown on one side is flown on the other, with the slope of a
// line all the same; on neither it is an error that names the number.
func TestSlopeOfTheOtherSide(t *testing.T) {
	d, want := linearDoubt(t, 0.6)
	fly := d.Fly
	for most, wrong := range map[float64]string{0.70: "", 0: "engine.heat_to_coolant moved by its doubt: too hot"} {
		d.Fly = func(ctx context.Context, sc *scenarios.Scenario) (Outcome, error) {
			if h := sc.Engine.HeatToCoolant.Value; h > most && h != 0.66 || most == 0 && h < 0.66 {
				return Outcome{}, errors.New("too hot")
			}
			return fly(ctx, sc)
		}
		got, err := d.BySlopes(context.Background())
		if wrong == "" {
			if err != nil || math.Abs(got.Circuits[Coolant]/want.Circuits[Coolant]-1) > 1e-9 {
				t.Errorf("%v, want %v: %v", got, want, err)
			}
		} else if err == nil || err.Error() != wrong {
			t.Errorf("%v, want %s", err, wrong)
		}
	}
}

// A flight has the doubts of its numbers, but not of its gauges, nor of those
// that were set, and no correlation with these.
func TestDoubtsOf(t *testing.T) {
	sc, err := scenarios.LoadFile("tug", nil)
	if err != nil {
		t.Fatal(err)
	}
	correlate(sc, "engine.heat_to_coolant", "coolant.pump_flow", 0.5)
	correlate(sc, "engine.heat_to_oil", "coolant.pump_flow", 0.5)
	correlate(sc, "oil.pump_flow", "spray.tank", 0.5) // the tank is known
	set, err := sc.With([]scenarios.Setting{{Path: "engine.heat_to_oil", Text: "0.1"}, {Path: "gauges.coolant.bias", Text: "0 ± 1 ddegC"}})
	if err != nil {
		t.Fatal(err)
	}
	before, err := DoubtsOf(sc)
	if err != nil {
		t.Fatal(err)
	}
	after, err := DoubtsOf(set)
	if err != nil {
		t.Fatal(err)
	}
	if len(after.Params) != len(before.Params)-1 || len(before.Draws().Groups()) != len(before.Params)-2 || len(after.Draws().Groups()) != len(after.Params)-1 {
		t.Errorf("%d numbers in %d groups, and %d in %d once one is set", len(before.Params), len(before.Draws().Groups()), len(after.Params), len(after.Draws().Groups()))
	}
	for k, p := range after.Params {
		n, ok := p.Get(set)
		if !ok || n.Doubt != after.Deviation[k] || n.Value != after.Mean[k] || n.Doubt <= 0 || strings.HasPrefix(p.Path, "gauges.") {
			t.Errorf("%s: %+v is %g ± %g", p.Path, n, after.Mean[k], after.Deviation[k])
		}
	}
	correlate(sc, "engine.heat_to_coolant", "engine.heat_to_oil", -1)
	if _, err := DoubtsOf(sc); err == nil || !strings.Contains(err.Error(), "-1 of engine.heat_to_coolant with engine.heat_to_oil") {
		t.Errorf("%v", err)
	}
}

// Numbers that cannot be flown as drawn are taken on the other side of their
// means, and it is told.
func TestDoubtsSet(t *testing.T) {
	tug, err := scenarios.LoadFile("tug", nil)
	if err != nil {
		t.Fatal(err)
	}
	sc, err := tug.With([]scenarios.Setting{{Path: "coolant.maximum", Text: "118 ± 3 degC"}, {Path: "coolant.caution", Text: "112 degC"}})
	if err != nil {
		t.Fatal(err)
	}
	doubts, err := DoubtsOf(sc)
	if err != nil {
		t.Fatal(err)
	}
	k := slices.IndexFunc(doubts.Params, func(p scenarios.Param) bool { return p.Path == "coolant.maximum" })
	for _, test := range []struct {
		x, want float64
		turned  bool
		wrong   string
	}{
		{115, 115, false, ""},
		{111, 125, true, ""}, // below caution
		{118, 118, false, ""},
		{math.NaN(), 0, false, "coolant.maximum"},
	} {
		x := slices.Clone(doubts.Mean)
		x[k] = test.x
		set, turned, err := doubts.Set(sc, x)
		if test.wrong != "" {
			if err == nil || !strings.Contains(err.Error(), test.wrong) {
				t.Errorf("%g: %v", test.x, err)
			}
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		if got := set.Coolant.Maximum.Value; math.Abs(got-test.want) > 1e-9 || turned != test.turned {
			t.Errorf("%g: %g, turned %t", test.x, got, turned)
		}
	}
	if sc.Coolant.Maximum.Doubt != 3 {
		t.Error("the scenario itself was changed")
	}
}
