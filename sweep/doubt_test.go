package sweep

import (
	"context"
	"math"
	"testing"

	"hotclimb/scenarios"
	"hotclimb/sim"
)

// linearDoubt is a scenario whose margins are linear in two of its doubtful
// numbers, so that its spreads are known.
func linearDoubt(t *testing.T) (*Doubt, Spread) {
	t.Helper()
	sc, err := scenarios.LoadFile("tug", nil)
	if err != nil {
		t.Fatal(err)
	}
	var params []scenarios.Param
	for _, path := range []string{"engine.heat_to_coolant", "coolant.pump_flow"} {
		p, err := sc.Compile(path)
		if err != nil {
			t.Fatal(err)
		}
		params = append(params, p)
	}
	fly := func(_ context.Context, sc *scenarios.Scenario) (Outcome, error) {
		heat, _ := params[0].Get(sc)
		pump, _ := params[1].Get(sc)
		o := Outcome{BoilMargin: math.Inf(1)}
		o.Circuits[Coolant].Margin = 100 - 50*heat.Value + 3000*pump.Value
		o.Circuits[Oil].Margin = 20 - 10*heat.Value
		return o, nil
	}
	heat, _ := params[0].Get(sc)
	pump, _ := params[1].Get(sc)
	want := Spread{Circuits: [2]float64{math.Hypot(50*heat.Doubt, 3000*pump.Doubt), 10 * heat.Doubt}}
	return &Doubt{Scenario: sc, Params: params, Fly: fly, Workers: 2}, want
}

func TestDoubtOfALine(t *testing.T) {
	d, want := linearDoubt(t)
	slopes, err := d.BySlopes(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	// A Latin hypercube of 256 points: the spread of a line is known far better
	// than the 4 % of independent draws.
	samples, err := d.BySamples(context.Background(), 256, 7)
	if err != nil {
		t.Fatal(err)
	}
	for c := range want.Circuits {
		if e := math.Abs(slopes.Circuits[c]/want.Circuits[c] - 1); e > 1e-9 {
			t.Errorf("circuit %d by slopes: %g, want %g", c, slopes.Circuits[c], want.Circuits[c])
		}
		if e := math.Abs(samples.Circuits[c]/want.Circuits[c] - 1); e > 0.05 {
			t.Errorf("circuit %d by samples: %g, want %g", c, samples.Circuits[c], want.Circuits[c])
		}
	}
	if slopes.Boil != 0 || samples.Boil != 0 {
		t.Errorf("a liquid that cannot boil has spreads %g and %g", slopes.Boil, samples.Boil)
	}
	if _, err := d.BySamples(context.Background(), 1, 7); err == nil {
		t.Error("one sample is no error")
	}
}

// The spread does not depend on the number of workers, and samples follow from
// the seed.
func TestDoubtRepeats(t *testing.T) {
	d, _ := linearDoubt(t)
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
	d := &Doubt{Scenario: c, Params: Doubtful(c), Workers: 2, Fly: func(ctx context.Context, sc *scenarios.Scenario) (Outcome, error) {
		r, err := Fly(ctx, sc, sim.Settings{})
		if err != nil {
			return Outcome{}, err
		}
		return OutcomeOf(r), nil
	}}
	for _, p := range d.Params {
		if n, ok := p.Get(c); !ok || n.Doubt <= 0 {
			t.Errorf("%s has no doubt", p.Path)
		}
	}
	slopes, err := d.BySlopes(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	const n, share = 128, 0.1
	little, err := d.sampled(context.Background(), n, NewLatin(n, len(d.Params), 1), share)
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
	t.Logf("%d doubtful numbers; by slopes %v, samples at %g of it %v", len(d.Params), slopes, share, little)
}

// A number is moved the other way where its range ends, and at most to its end.
func TestMoveStaysInRange(t *testing.T) {
	d, _ := linearDoubt(t)
	p := d.Params[1]
	n, _ := p.Get(d.Scenario)
	for _, test := range []struct{ lo, hi, deviations, want float64 }{
		{0, 1, 2, n.Value + 2*n.Doubt},
		{0, n.Value + n.Doubt, 2, n.Value - 2*n.Doubt},
		{n.Value - n.Doubt, 1, -2, n.Value + 2*n.Doubt},
		{n.Value - n.Doubt, n.Value + n.Doubt, 2, n.Value - n.Doubt},
	} {
		q := p
		q.Lo, q.Hi = test.lo, test.hi
		sc := d.Scenario.Clone()
		if err := move(sc, q, test.deviations); err != nil {
			t.Fatal(err)
		}
		moved, _ := p.Get(sc)
		near(t, "moved", moved.Value, test.want)
	}
}
