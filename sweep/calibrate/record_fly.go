package calibrate

import (
	"context"
	"fmt"
	"math"

	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sim/atmos"
	"hotclimb/sweep"
)

// Conditions say what of a record is flown otherwise. The zero value flies it as
// it was.
type Conditions struct {
	Day   *atmos.Day  // the air of this day, at the throttle of the record
	Start *[2]float64 // both circuits start here [°C], not where the record says

	RelTol float64 // as in sim.Settings; 0: its default
}

// Trace is what the model makes of a record.
type Trace struct {
	Times  []float64    // since the start of the record [s]
	Sensor [2][]float64 // temperatures at the sensors [°C]
	Gauge  [2][]float64 // what the gauges make of them [°C]
	Result *sim.Result

	gauges [2]series
}

// grid is the interval of a trace [s]. Between its times a line errs by less
// than 0.01 K, unless the coolant swings when its thermostat opens.
const grid = 5.0

// Fly flies the record with an aircraft: Record.Scenario, or a copy of it with
// numbers changed. The error says that the flight could not be computed or did
// not last as long as the record.
func (r *Record) Fly(ctx context.Context, sc *scenarios.Scenario, c Conditions) (*Trace, error) {
	plant, err := r.plant(sc, c)
	if err != nil {
		return nil, err
	}
	t := &Trace{Times: r.grid()}
	t.Result, err = sweep.FlyPlant(ctx, plant, sim.Settings{Readings: t.Times, RelTol: c.RelTol})
	if err != nil {
		return nil, fmt.Errorf("test %s: %w", r.Name, err)
	}
	if n := len(t.Result.Readings[0]); n < len(t.Times) {
		return nil, fmt.Errorf("test %s: the model breaks off after %.0f s of the %.0f s of the record: its temperatures run away", r.Name, t.Times[max(n-1, 0)], r.End)
	}
	t.Sensor = t.Result.Readings
	t.read([2]scenarios.Gauge{sc.Gauges.Coolant, sc.Gauges.Oil})
	return t, nil
}

// read makes what gauges show of the temperatures at the sensors.
func (t *Trace) read(gauges [2]scenarios.Gauge) {
	for i, g := range gauges {
		t.Gauge[i] = shown(t.Times, t.Sensor[i], g.Lag.Value, g.Bias.Value)
		for k, at := range t.Times {
			t.gauges[i].add(at, t.Gauge[i][k])
		}
	}
}

// plant is the aircraft with the flight of the record.
func (r *Record) plant(sc *scenarios.Scenario, c Conditions) (*sim.Plant, error) {
	p, err := sc.Build()
	if err != nil {
		return nil, err
	}
	p.Legs = r.legs(p, c.Day)
	lowest := math.Inf(1)
	for _, at := range r.cuts {
		lowest = math.Min(lowest, r.height(at))
	}
	p.Weather.Elevation, p.Weather.Wind = lowest-below, 0
	p.Start = sim.Start{
		Above: r.height(0) - p.Weather.Elevation, Given: true, Coolant: r.Start[0].Value, Oil: r.Start[1].Value,
	}
	if c.Start != nil {
		p.Start.Coolant, p.Start.Oil = c.Start[0], c.Start[1]
	}
	if p.Spray != nil {
		r.spray(p)
	}
	return p, nil
}

// below is how far the ground lies below a record [m], so that none of its legs
// comes down to it.
const below = 10.0

// spray lets the water run when it ran in the record, at the mean of its rate.
func (r *Record) spray(p *sim.Plant) {
	s := *p.Spray
	s.Leg, s.OnAbove, s.Duration = wet, false, 0
	sum, time := 0.0, 0.0
	for i := range p.Legs {
		if p.Legs[i].Name == wet {
			a, b := r.cuts[i], r.cuts[i+1]
			sum, time = sum+r.water.mean(a, b)*(b-a), time+b-a
		}
	}
	s.Rate = 0
	if time > 0 {
		s.Rate = waterDensity * sum / time
		s.Tank = math.Max(s.Tank, s.Rate*time)
	}
	p.Spray = &s
}

// waterDensity is that of spray water [kg/m³]: IAPWS-IF97 at 25 °C.
const waterDensity = 997.0

// grid is the times of a trace: even ones, and the end.
func (r *Record) grid() []float64 {
	var times []float64
	for i := 0; float64(i)*grid < r.End; i++ {
		times = append(times, float64(i)*grid)
	}
	return append(times, r.End)
}

// Of is what the gauge of a reading shows there: its mean over the block.
func (t *Trace) Of(m Reading) float64 {
	g := &t.gauges[m.Circuit]
	if m.To-m.From < 1e-9 {
		return g.at(m.From)
	}
	return g.mean(m.From, m.To)
}

// shown is what a gauge of lag τ and a bias makes of a temperature T:
//
//	τ dG/dt = T − G,  reading = G + bias
//
// solved exactly for lines between the values of T. At the start the gauge has
// caught up with its sensor.
func shown(times, sensor []float64, lag, bias float64) []float64 {
	gauge := make([]float64, len(sensor))
	g := sensor[0]
	gauge[0] = g + bias
	for i := 1; i < len(sensor); i++ {
		dt := times[i] - times[i-1]
		if lag <= 0 {
			g = sensor[i]
		} else {
			behind := (sensor[i] - sensor[i-1]) / dt * lag // on a line, in the end
			g = sensor[i] - behind + (g-sensor[i-1]+behind)*math.Exp(-dt/lag)
		}
		gauge[i] = g + bias
	}
	return gauge
}
