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

// TestCompareFormula: hundreds of pairs of flights by a formula, in air and at
// speeds of their own, of an aircraft with heat that the file has wrong. Without an
// effect the share of false alarms, of one or the other circuit, is that of the level
// or less; an effect of 9 K is told nearly always, without bias, and its interval
// holds it as often as it says.
func TestCompareFormula(t *testing.T) {
	sc, _ := loaded(t, "tug")
	known := doubting(t, sc, []string{"engine.heat_to_coolant"})
	wide, err := known.With(scenarios.Settings(widerExit))
	if err != nil {
		t.Fatal(err)
	}
	for effect, pairs := range map[float64]int{0: 400, 9: 60} {
		random, f := rand.New(rand.NewPCG(5, 5)), formula{60, effect}
		real, missed, mean := 0, 0, 0.0
		for range pairs {
			truth := random.NormFloat64()
			list := []Configuration{
				{"base", []*Record{f.flight(t, random, known, truth)}, known},
				{"wide", []*Record{f.flight(t, random, wide, truth)}, wide},
			}
			c, err := Compare(context.Background(), list, CompareSettings{FlyRecord: f.record, FlyReference: f.reference})
			if err != nil {
				t.Fatal(err)
			}
			any, miss := false, false
			for _, d := range c.Differences[0].Circuits {
				any = any || d.Real
				miss = miss || d.Low > -effect || d.High < -effect
				mean += (d.Value + effect) / float64(2*pairs)
			}
			if any {
				real++
			}
			if miss {
				missed++
			}
		}
		t.Logf("effect %g K: told in %d of %d, missed by %d, off by %.3f K", effect, real, pairs, missed, mean)
		most := float64(pairs) * (0.05 + binomial(0.05, pairs))
		if float64(missed) > most || effect == 0 && float64(real) > most {
			t.Errorf("effect %g K: told in %d of %d, missed by %d, want at most %.0f", effect, real, pairs, missed, most)
		}
		if effect > 0 && real < pairs*9/10 {
			t.Errorf("an effect of %g K is told in %d of %d", effect, real, pairs)
		}
		// One pair of both circuits scatters by about 1.5 K.
		if math.Abs(mean) > 3.3*1.5/math.Sqrt(float64(pairs)) {
			t.Errorf("effect %g K: off by %.3f K on average", effect, mean)
		}
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

// flight is a record by hand: eight minutes at sea level, of which the last readings
// are compared. The truth is so many deviations from what the file says of the heat.
func (f formula) flight(t testing.TB, random *rand.Rand, sc *scenarios.Scenario, truth float64) *Record {
	t.Helper()
	outside, speed := 20+5*random.NormFloat64(), 30+1.5*random.NormFloat64()
	actual := *sc // of which the formula reads no more than this
	actual.Engine.HeatToCoolant.Value += truth * sc.Engine.HeatToCoolant.Doubt
	return f.flightIn(t, &actual, sc, [2]float64{outside, speed}, noisy(random, DefaultScatter, 2/1.8))
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
