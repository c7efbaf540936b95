package calibrate

import (
	"context"
	"fmt"
	"math"
	"slices"

	"hotclimb/scenarios"
	"hotclimb/sim/atmos"
)

// ComparedReading is what one circuit of a record comes to at the reference.
type ComparedReading struct {
	Time  float64 // middle of the readings, since the start of the record [s]
	Count int     // readings, whose mean stands for them
	Read  float64 // by the gauge [°C]
	Model float64 // what the model has for the same readings [°C]

	Reference float64 // highest of the model in the reference [°C]
	Value     float64 // the reading brought to the reference [°C]

	Noise float64 // standard deviation of Read [K]
	Start float64 // of Model, by how warm the circuits were at the start [K]
	Doubt float64 // of Reference − Model, by all doubtful numbers [K]

	// How it was flown there.
	Altitude, Speed, Outside float64 // [m], indicated [m/s], [°C]
	Power                    float64 // [W]; NaN where it was not recorded

	variance float64   // of the flight: noise, start and scatter [K²]
	slopes   []float64 // of the step to the reference, by number
}

// Readings as near in time to the highest count as one [s]: at the end of a climb
// temperatures and air hardly change in so long. Engineering judgement.
const nearHighest = 90.0

// record finds the readings of a record that are compared, and how the model
// depends on its numbers there.
func (c *comparing) record(ctx context.Context, t *flownTest) error {
	trace, err := c.FlyRecord(ctx, t.Record, t.Scenario, Conditions{})
	if err != nil {
		return err
	}
	memory, err := c.memoryOf(ctx, t.Record, trace)
	if err != nil {
		return err
	}
	var of [2][]Reading
	for i := range of {
		if of[i] = t.highest(i, trace, memory); len(of[i]) > 0 {
			t.readings[i] = t.compared(of[i], trace)
			c.ownVariance(t, i, of[i], memory)
		}
	}
	short := t.until(slices.Concat(of[0], of[1]))
	fly := func(ctx context.Context, sc *scenarios.Scenario) (m [2]float64, err error) {
		trace, err := c.FlyRecord(ctx, short, sc, Conditions{})
		if err != nil {
			return m, err
		}
		for i := range of {
			m[i] = meanOf(of[i], trace.Of)
		}
		return m, nil
	}
	if t.model, err = respond(ctx, t.Scenario, fly); err != nil {
		return err
	}
	t.asBaseline, err = fly(ctx, c.baselineOn(t))
	return err
}

// baselineOn is the baseline as it would have been on a flight, with the gauges
// of that flight.
func (c *comparing) baselineOn(t *flownTest) *scenarios.Scenario {
	baseline := *c.list[0].Records[0].Scenario
	baseline.Gauges = t.Scenario.Gauges
	return &baseline
}

// until is a record that ends with the leg of the last of some readings: what comes
// after does not change them.
func (r *Record) until(list []Reading) *Record {
	last := 0.0
	for _, m := range list {
		last = max(last, m.To)
	}
	short := *r
	if i := slices.IndexFunc(r.cuts, func(at float64) bool { return at > 0 && at >= last }); i >= 0 {
		short.cuts, short.End = r.cuts[:i+1], r.cuts[i]
	}
	return &short
}

// ownVariance gathers what is in one flight alone.
func (c *comparing) ownVariance(t *flownTest, circuit int, list []Reading, start memory) {
	m := t.readings[circuit]
	m.Noise = t.Gauge(circuit).Noise.Value / math.Sqrt(float64(m.Count))
	for b, begin := range t.Start {
		m.Start = math.Hypot(m.Start, begin.Doubt*meanOf(list, func(r Reading) float64 { return start.of(b, r) }))
	}
	m.variance = m.Noise*m.Noise + m.Start*m.Start + c.Scatter*c.Scatter
}

// memory is how much of what the circuits were colder at the start is left at a
// reading, by the circuit that was.
type memory struct {
	as     *Trace
	colder [2]*Trace
}

const startStep = 5.0 // by how much [K]

// memoryOf flies a record with each circuit colder at the start.
func (c *comparing) memoryOf(ctx context.Context, r *Record, as *Trace) (m memory, err error) {
	m.as = as
	for b := range m.colder {
		start := [2]float64{r.Start[0].Value, r.Start[1].Value}
		start[b] -= startStep
		if m.colder[b], err = c.FlyRecord(ctx, r, r.Scenario, Conditions{Start: &start}); err != nil {
			return m, err
		}
	}
	return m, nil
}

// of is what is left at a reading of a kelvin of one circuit at the start.
func (m memory) of(b int, r Reading) float64 {
	return (m.as.Of(r) - m.colder[b].Of(r)) / startStep
}

// forgotten is how much of the start may be left in what is compared. At the
// start itself the model shows what the gauge does, whatever the aircraft, so that
// the share that is left is missing of every difference. Engineering judgement.
const forgotten = 0.2

// highest are the readings of a circuit about where the model has its highest: in
// the climb, or in the air where nothing climbs, or on the ground. Readings at
// which the start is not forgotten do not count.
func (r *Record) highest(circuit int, trace *Trace, start memory) []Reading {
	for _, where := range []func(Reading) bool{r.climbing, r.flying, func(Reading) bool { return true }} {
		var list []Reading
		best, high := 0, math.Inf(-1)
		for _, m := range r.Readings {
			if m.Circuit != circuit || !where(m) || math.Abs(start.of(0, m))+math.Abs(start.of(1, m)) > forgotten {
				continue
			}
			if t := trace.Of(m); t > high {
				best, high = len(list), t
			}
			list = append(list, m)
		}
		if len(list) > 0 {
			at := list[best].middle()
			return slices.DeleteFunc(list, func(m Reading) bool { return math.Abs(m.middle()-at) > nearHighest })
		}
	}
	return nil
}

func (m Reading) middle() float64 { return (m.From + m.To) / 2 }

// climbing says that a reading was taken in a climb of more than 1 m/s, by the
// minute before it.
func (r *Record) climbing(m Reading) bool {
	const minute, slowest = 60.0, 1.0
	a, b := max(m.middle()-minute, 0), m.middle()
	if b-a < 1 {
		b = a + minute
	}
	return r.flying(m) && (r.altitude.at(b)-r.altitude.at(a))/(b-a) > slowest
}

func (r *Record) flying(m Reading) bool { return r.speed.at(m.middle()) >= rolling }

// reads says that a circuit was read at all.
func (r *Record) reads(circuit int) bool {
	return slices.ContainsFunc(r.Readings, func(m Reading) bool { return m.Circuit == circuit })
}

// remarks say what of a record is not compared, and what hides differences in it.
func (t *flownTest) remarks() []string {
	var list []string
	thermostats := [2]*scenarios.Thermostat{t.Scenario.Coolant.Thermostat, t.Scenario.Oil.Thermostat}
	for i, m := range t.readings {
		switch {
		case m == nil && !t.reads(i):
			list = append(list, fmt.Sprintf("the %s was not read", circuitName(i)))
		case m == nil:
			list = append(list, fmt.Sprintf("the %s is not compared: to the last reading it depends on how warm it was at the first; climb for longer", circuitName(i)))
		case thermostats[i] != nil && m.Read < thermostats[i].Full.Value:
			list = append(list, fmt.Sprintf("the thermostat of the %s was not fully open: it hides what a change does; fly in warmer air, or slower", circuitName(i)))
		}
	}
	return list
}

// compared is the mean of some readings.
func (r *Record) compared(list []Reading, trace *Trace) *ComparedReading {
	m := &ComparedReading{Count: len(list), Power: math.NaN()}
	m.Time = meanOf(list, Reading.middle)
	m.Read = meanOf(list, func(m Reading) float64 { return m.Value })
	m.Model = meanOf(list, trace.Of)
	m.Altitude = meanOf(list, func(m Reading) float64 { return r.altitude.at(m.middle()) })
	m.Speed = meanOf(list, func(m Reading) float64 { return r.speed.at(m.middle()) })
	m.Outside = meanOf(list, func(m Reading) float64 {
		return atmos.Standard().Temperature(r.altitude.at(m.middle())) + r.warmth.at(m.middle())
	})
	if r.power.known() {
		m.Power = meanOf(list, func(m Reading) float64 { return r.power.at(m.middle()) })
	}
	return m
}

// meanOf is the mean over readings, 0 over none.
func meanOf(list []Reading, of func(Reading) float64) float64 {
	sum := 0.0
	for _, m := range list {
		sum += of(m) / float64(len(list))
	}
	return sum
}
