package calibrate

import (
	"context"
	"fmt"
	"math"
	"slices"

	"hotclimb/scenarios"
	"hotclimb/sim/atmos"
	"hotclimb/sweep"
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
	t.model, err = respond(ctx, t.Scenario, func(ctx context.Context, sc *scenarios.Scenario) (m [2]float64, err error) {
		trace, err := c.FlyRecord(ctx, short, sc, Conditions{})
		if err != nil {
			return m, err
		}
		for i := range of {
			m[i] = meanOf(of[i], trace.Of)
		}
		return m, nil
	})
	return err
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
			list = append(list, fmt.Sprintf("the thermostat of the %s was not fully open: it hides what a change does, and intervals may be too narrow; fly in warmer air, or slower", circuitName(i)))
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
