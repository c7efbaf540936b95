package calibrate

import (
	"fmt"

	"hotclimb/scenarios"
	"hotclimb/sim/atmos"
	"hotclimb/sweep"
)

// Record is a flight as it was read: what the aircraft was, how it was flown,
// and what the gauges showed. It is never changed and may serve several
// goroutines at once.
type Record struct {
	Name     string
	Test     *scenarios.Test
	Scenario *scenarios.Scenario // the aircraft on that flight
	Log      *Log                // nil when readings were taken by hand

	// Readings are what the model is held against, of each circuit by time: those
	// by hand, or the means of a log over every block of readings.
	Readings []Reading
	First    int          // row of the log at which the record begins
	End      float64      // time of the last reading [s]
	Start    [2]Beginning // of both circuits
	Notes    []string     // what had to be supposed

	end                                        int // row of the log behind its last
	altitude, speed, power, engineSpeed, water series
	warmth                                     series // outside air above the standard day [K]
	cuts                                       []float64
}

// Reading is one temperature that a gauge showed.
type Reading struct {
	Circuit int     // sweep.Coolant or sweep.Oil
	From    float64 // the first and the last reading of the block,
	To      float64 // since the start of the record [s]
	Value   float64 // their mean [°C]
	Count   int     // their number
	Line    int     // of the log; 0 by hand
}

// Beginning is the temperature of a circuit at the start of a record.
type Beginning struct {
	Value float64 // [°C]
	Doubt float64 // standard deviation [K]
}

// The length of a block of readings of a log [s]. Errors of gauges and models
// stay alike over about as long, so that more readings teach no more:
// engineering judgement.
const block = 30.0

// NewRecord joins a flight record to the aircraft that flew it, as AsFlown gives
// it. The log is that of the test, or nil when it has readings by hand. The
// error says what is missing.
func NewRecord(sc *scenarios.Scenario, t *scenarios.Test, log *Log) (*Record, error) {
	r := &Record{Name: t.Name, Test: t, Scenario: sc, Log: log}
	m := momentsOf(t, log)
	whole := r.unbroken(span{m, 0, m.Len()})
	s := whole.read()
	if s.end-s.first < 2 {
		return nil, r.tooShort()
	}
	if skipped := s.Time(s.first) - s.Time(whole.first); skipped > 0 {
		r.Notes = append(r.Notes, fmt.Sprintf("the first %.0f s are passed over: not every gauge is read there", skipped))
	}
	r.First, r.end, r.End = s.first, s.end, s.Time(s.end-1)-s.Time(s.first)
	if err := r.conditions(s); err != nil {
		return nil, err
	}
	r.read(s)
	r.starts(s)
	r.cut()
	return r, r.strong()
}

// conditions makes the series of how it was flown.
func (r *Record) conditions(s span) error {
	for _, q := range []struct {
		channel int
		into    *series
		whole   scenarios.Number
		needed  bool
	}{
		{altitude, &r.altitude, r.Test.Altitude.Number, true},
		{speed, &r.speed, r.Test.Speed.Number, true},
		{power, &r.power, r.Test.Power.Number, false},
		{rpm, &r.engineSpeed, scenarios.Number{}, false},
		{spray, &r.water, scenarios.Number{}, false},
	} {
		s.each(q.channel, func(_ int, t, v float64) { q.into.add(t, v) })
		if !q.into.known() && q.whole.Known {
			q.into.add(0, q.whole.Value)
		}
		if q.needed && !q.into.known() {
			return r.lacks(sensors[q.channel].quantity)
		}
	}
	if !r.power.known() {
		r.Notes = append(r.Notes, "power is not recorded; it is computed from speed, rate of climb and the drag of the aircraft, and on the ground taken as idle")
	}
	return r.air(s)
}

func (r *Record) lacks(q Quantity) error {
	return fmt.Errorf("test %s: %s is not recorded; map its column, or give it for the whole flight as tests.%s.%s", r.Name, q, r.Name, q)
}

// air makes the series of how much warmer than standard the air was.
func (r *Record) air(s span) error {
	standard := atmos.Standard()
	s.each(outside, func(_ int, t, v float64) { r.warmth.add(t, v-standard.Temperature(r.altitude.at(t))) })
	if t := r.Test.Outside.Number; !r.warmth.known() && t.Known {
		r.warmth.add(0, t.Value-standard.Temperature(r.altitude.at(0)))
	}
	if !r.warmth.known() {
		return r.lacks(Outside)
	}
	return nil
}

// read takes the readings: each of those by hand, and the means of a log over
// blocks. A lone reading of a block counts like the mean of many.
func (r *Record) read(s span) {
	for c, k := range circuits {
		number, sum := -1, Reading{}
		keep := func() {
			if n := float64(sum.Count); n > 0 {
				sum.Value /= n
				r.Readings = append(r.Readings, sum)
			}
		}
		s.each(k, func(i int, t, v float64) {
			if b := int(t / block); r.Log == nil || b != number {
				keep()
				number, sum = b, Reading{Circuit: c, From: t, Line: s.Line(i)}
			}
			sum.To, sum.Value, sum.Count = t, sum.Value+v, sum.Count+1
		})
		keep()
	}
}

// circuits are the channels of both circuits.
var circuits = [2]int{sweep.Coolant: coolant, sweep.Oil: oil}

// starts finds how warm both circuits were when the record began: as given, or
// as the gauge showed in the first seconds. A circuit that nobody read is as
// warm as the other.
func (r *Record) starts(s span) {
	given := [2]scenarios.Number{r.Test.StartCoolant.Number, r.Test.StartOil.Number}
	found := [2]bool{}
	for c, k := range circuits {
		sum, count := 0.0, 0
		s.each(k, func(_ int, t, v float64) {
			if t <= early {
				sum, count = sum+v, count+1
			}
		})
		g := r.Gauge(c)
		switch n := given[c]; {
		case n.Known:
			r.Start[c], found[c] = Beginning{n.Value, n.Doubt}, true
		case count > 0:
			r.Start[c], found[c] = Beginning{sum/float64(count) - g.Bias.Value, g.Noise.Value}, true
		}
	}
	for c := range found {
		if !found[c] {
			r.Start[c] = Beginning{r.Start[1-c].Value, unread}
			r.Notes = append(r.Notes, fmt.Sprintf("the %s has no reading; it is supposed to start as warm as the %s", circuitName(c), circuitName(1-c)))
		}
	}
}

const (
	early  = 5.0  // how long the first readings tell how warm it was at the start [s]
	unread = 20.0 // doubt of the start of a circuit that was not read [K]
)

// Gauge is that of a circuit on this flight.
func (r *Record) Gauge(circuit int) scenarios.Gauge {
	if circuit == sweep.Oil {
		return r.Scenario.Gauges.Oil
	}
	return r.Scenario.Gauges.Coolant
}

func circuitName(c int) string { return [2]string{"coolant", "oil"}[c] }
