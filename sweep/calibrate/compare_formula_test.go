package calibrate

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"hotclimb/scenarios"
	"hotclimb/sweep"
)

// formula takes the place of flights: both temperatures are above the outside air by
// what the heat to the coolant h and the speed V make of it,
//
//	T = t + rise (h/0.66) (30 m/s/V),  less effect (t + 50 °C)/85 K with the wider exit
//
// and what is left of the start dies within a minute.
type formula struct{ rise, effect float64 }

func (f formula) temperature(sc *scenarios.Scenario, outside, speed float64) float64 {
	t := outside + f.rise*sc.Engine.HeatToCoolant.Value/0.66*30/speed
	if sc.Exits["belly"].Height.Value > 0.22 { // 8.5 in as filed, 9.5 in when wider
		t -= f.effect * (outside + 50) / 85
	}
	return t
}

// record flies a record by the formula.
func (f formula) record(_ context.Context, r *Record, sc *scenarios.Scenario, c Conditions) (*Trace, error) {
	start := [2]float64{r.Start[0].Value, r.Start[1].Value}
	if c.Start != nil {
		start = *c.Start
	}
	trace := &Trace{Times: r.grid()}
	for i := range trace.gauges {
		for _, at := range trace.Times {
			settled := f.temperature(sc, r.warmth.at(at), r.speed.at(at))
			trace.gauges[i].add(at, settled+(start[i]-settled)*math.Exp(-at/60))
		}
	}
	return trace, nil
}

// reference is a day of 35 °C at 30 m/s.
func (f formula) reference(_ context.Context, sc *scenarios.Scenario) ([2]float64, error) {
	t := f.temperature(sc, 35, 30)
	return [2]float64{t, t}, nil
}

// pairs flies pairs of flights by a formula, each in air and at a speed of its own, of
// an aircraft with heat that the file has wrong and flights that scatter by a factor
// of what is supposed. It counts those of which one or the other circuit is told to be
// real, and those of which an interval misses the effect, and takes the mean of how
// far differences are off.
func (f formula) pairs(t *testing.T, n int, seed uint64) (real, missed int, off float64) {
	t.Helper()
	sc, _ := loaded(t, "tug")
	known := doubting(t, sc, []string{"engine.heat_to_coolant"})
	wide, err := known.With(scenarios.Settings(widerExit))
	if err != nil {
		t.Fatal(err)
	}
	random := rand.New(rand.NewPCG(seed, 5))
	for range n {
		truth, scatter := random.NormFloat64(), math.Sqrt(priorFreedom/chiSquare(random, priorFreedom))
		list := []Configuration{
			{"base", []*Record{f.flight(t, random, known, truth, scatter)}, known},
			{"wide", []*Record{f.flight(t, random, wide, truth, scatter)}, wide},
		}
		c, err := Compare(context.Background(), list, CompareSettings{FlyRecord: f.record, FlyReference: f.reference})
		if err != nil {
			t.Fatal(err)
		}
		told, miss := false, false
		for _, d := range c.Differences[0].Circuits {
			told = told || d.Real
			miss = miss || d.Low > -f.effect || d.High < -f.effect
			off += (d.Value + f.effect) / float64(2*n)
		}
		if told {
			real++
		}
		if miss {
			missed++
		}
	}
	return real, missed, off
}

// formulaScatter is how far the mean of both circuits of a pair scatters [K]: flights
// and readings by 1.6 K each, the heat by 1.9 K.
const formulaScatter = 2.6

// TestCompareFalseAlarms: without an effect a difference is told to be real as often as
// the level says: neither more often nor less.
func TestCompareFalseAlarms(t *testing.T) {
	const pairs, alpha = 400, 0.05
	real, _, off := formula{60, 0}.pairs(t, pairs, 5)
	t.Logf("%d of %d told, off by %.3f K on average", real, pairs, off)
	if share := float64(real) / pairs; math.Abs(share-alpha) > binomial(alpha, pairs) {
		t.Errorf("%d false alarms of %d, want %.0f", real, pairs, alpha*pairs)
	}
	if math.Abs(off) > 3.3*formulaScatter/math.Sqrt(pairs) {
		t.Errorf("off by %.3f K on average", off)
	}
}

// TestCompareTells: an effect of 12 K is told nearly always and without bias, and its
// intervals hold it as often as they say.
func TestCompareTells(t *testing.T) {
	const pairs, effect = 60, 12.0
	real, missed, off := formula{60, effect}.pairs(t, pairs, 6)
	t.Logf("told in %d of %d, missed by %d, off by %.3f K on average", real, pairs, missed, off)
	if real < pairs*8/10 || float64(missed) > pairs*(0.05+binomial(0.05, pairs)) {
		t.Errorf("an effect of %g K is told in %d of %d and missed by %d", effect, real, pairs, missed)
	}
	if math.Abs(off) > 3.3*formulaScatter/math.Sqrt(pairs) {
		t.Errorf("off by %.3f K on average", off)
	}
}

// TestCompareInTheAirOfTheReference: a flight in the air of the reference needs no
// step, so that the model puts no doubt into it; one in colder air needs a step that is
// doubtful by what is different in it alone.
func TestCompareInTheAirOfTheReference(t *testing.T) {
	sc, _ := loaded(t, "tug")
	known := doubting(t, sc, []string{"engine.heat_to_coolant"})
	wide, err := known.With(scenarios.Settings(widerExit))
	if err != nil {
		t.Fatal(err)
	}
	f := formula{60, 4}
	c, err := Compare(context.Background(), []Configuration{
		{"base", []*Record{f.flightIn(t, known, known, [2]float64{35, 30}, faultless)}, known},
		{"wide", []*Record{f.flightIn(t, wide, wide, [2]float64{20, 33}, faultless)}, wide},
	}, CompareSettings{FlyRecord: f.record, FlyReference: f.reference})
	if err != nil {
		t.Fatal(err)
	}
	heat := known.Engine.HeatToCoolant
	// The slope of the step: 60 K · (1 − 30/33) by the ratio of heat, of which 0.1 % of
	// the start is left.
	slower := f.rise * heat.Doubt / 0.66 * (1 - 30.0/33)
	// The model expects 4 K of the change at 35 °C, and less where it was flown.
	slower = math.Hypot(slower, f.effect*(35.0-20)/85)
	for i, want := range []float64{0, slower} {
		for circuit, m := range c.Tests[i].Circuits {
			if math.Abs(m.Doubt-want) > 0.003*f.rise*heat.Doubt {
				t.Errorf("%s of %s: step in doubt by %.4f K, want %.4f", circuitName(circuit), c.Tests[i].Configuration, m.Doubt, want)
			}
		}
	}
	for _, d := range c.Differences[0].Circuits {
		if math.Abs(d.Value+f.effect) > 0.05 || math.Abs(d.Model-slower) > 0.003*f.rise*heat.Doubt {
			t.Errorf("difference %.3f ± %.3f K, want %.3f ± %.3f", d.Value, d.Model, -f.effect, slower)
		}
	}
}

// TestCompareReadsWhereTheModelIsHighest: one reading far above the others does not
// draw the comparison to its time.
func TestCompareReadsWhereTheModelIsHighest(t *testing.T) {
	sc, _ := loaded(t, "tug")
	known, f := doubting(t, sc, nil), formula{60, 0}
	spike := func(_ int, at float64) float64 {
		if at == 240 {
			return 15
		}
		return 0
	}
	c, err := Compare(context.Background(), []Configuration{
		{"base", []*Record{f.flightIn(t, known, known, [2]float64{35, 30}, faultless)}, known},
		{"spiked", []*Record{f.flightIn(t, known, known, [2]float64{35, 30}, spike)}, known},
	}, CompareSettings{FlyRecord: f.record, FlyReference: f.reference})
	if err != nil {
		t.Fatal(err)
	}
	for i, d := range c.Differences[0].Circuits {
		if at := c.Tests[1].Circuits[i].Time; at != 480 || math.Abs(d.Value) > 0.01 {
			t.Errorf("%s: %.2f K by the reading at %.0f s, want that at 480 s", circuitName(i), d.Value, at)
		}
	}
}

// flight is a record by hand: eight minutes at sea level, of which the last readings
// are compared. The truth is so many deviations from what the file says of the heat,
// and scatter and noise are so many times what is supposed.
func (f formula) flight(t testing.TB, random *rand.Rand, sc *scenarios.Scenario, truth, times float64) *Record {
	t.Helper()
	outside, speed := 20+5*random.NormFloat64(), max(30+6*random.NormFloat64(), 20)
	actual := *sc // of which the formula reads no more than this
	actual.Engine.HeatToCoolant.Value += truth * sc.Engine.HeatToCoolant.Doubt
	return f.flightIn(t, &actual, sc, [2]float64{outside, speed}, noisy(random, times*DefaultScatter, times*2/1.8))
}

// flightIn is such a record of an aircraft that is not quite as the scenario says, in
// air of one temperature [°C] and at one speed [m/s].
func (f formula) flightIn(t testing.TB, actual, sc *scenarios.Scenario, air [2]float64, noise func(int, float64) float64) *Record {
	t.Helper()
	outside, speed := air[0], air[1]
	number := func(v float64) scenarios.Number { return scenarios.Number{Value: v, Known: true} }
	test := &scenarios.Test{Name: "flight", Points: map[string]*scenarios.TestPoint{}}
	test.Speed.Number, test.Altitude.Number = number(speed), number(0)
	settled := f.temperature(actual, outside, speed)
	for k, name := range []string{"a", "b", "c", "d", "e"} {
		at := 120 * float64(k)
		p := &scenarios.TestPoint{}
		p.Time.Number, p.Outside.Number = number(at), number(outside)
		value := settled - 20*math.Exp(-at/60)
		p.Coolant.Number, p.Oil.Number = number(value+noise(sweep.Coolant, at)), number(value+noise(sweep.Oil, at))
		test.Points[name] = p
	}
	r, err := NewRecord(sc, test, nil)
	if err != nil {
		t.Fatal(err)
	}
	r.warmth = series{}
	r.warmth.add(0, outside) // the formula takes it for the outside air itself
	return r
}
