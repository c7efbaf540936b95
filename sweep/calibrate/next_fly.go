package calibrate

import (
	"context"
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sim/atmos"
	"hotclimb/sweep"
)

// planned is a flight with what its record would hold.
type planned struct {
	record *Record
	base   *Trace
	result *sim.Result // of the flight itself
	noise  []float64   // of each reading [K]
}

// planFlight flies a flight and makes the record that it would leave: both gauges read
// every half minute, and how it was flown. As for any record it is the flight
// that was read and not the one that was meant that the model is held against:
// numbers that only change how an aircraft climbs teach nothing here.
func planFlight(ctx context.Context, f *NextFlight) (*planned, error) {
	plant, err := f.Scenario.Build()
	if err != nil {
		return nil, err
	}
	p := &planned{}
	if p.result, err = sweep.FlyPlant(ctx, plant, sim.Settings{Sample: grid}); err != nil {
		return nil, err
	}
	for _, leg := range p.result.Legs {
		if leg.Stalled {
			return nil, fmt.Errorf("leg %s is slower than the aircraft can fly", leg.Name)
		}
	}
	if leg := p.result.Incomplete; leg != "" {
		return nil, fmt.Errorf("leg %s does not reach its end", leg)
	}
	p.record = &Record{Name: f.Name, Scenario: f.Scenario}
	p.conditions(plant)
	if p.record.End < block {
		return nil, fmt.Errorf("it is shorter than the %.0f s between readings", block)
	}
	p.read()
	p.record.cut()
	p.base, err = p.record.Fly(ctx, f.Scenario, Conditions{RelTol: fitTol})
	return p, err
}

// conditions writes down how it was flown.
func (p *planned) conditions(plant *sim.Plant) {
	r, trajectory := p.record, p.result.Trajectory
	channel := func(name string) []float64 { return trajectory.Find(name).Values }
	times, high, tas := channel("time_s"), channel("altitude_m"), channel("true_airspeed_m_s")
	outside, power := channel("outside_degC"), channel("power_W")
	standard := atmos.Standard()
	for i, t := range times {
		r.altitude.add(t, high[i])
		r.warmth.add(t, outside[i]-standard.Temperature(high[i]))
		r.speed.add(t, indicated(plant, tas[i], atmos.Offset(outside[i]-standard.Temperature(high[i])).At(high[i])))
		r.power.add(t, power[i])
		if c := trajectory.Find("spray_water_kg"); plant.Spray != nil && i > 0 {
			r.water.add(t, math.Max(0, c.Values[i-1]-c.Values[i])/(t-times[i-1])/waterDensity)
		}
	}
	for i, span := range p.result.Legs {
		p.turns(plant, i, span)
	}
	r.End = times[len(times)-1]
}

// turns writes down the engine speed of a leg, where the flight prescribes any.
func (p *planned) turns(plant *sim.Plant, leg int, span sim.LegSpan) {
	given := false
	for i := range plant.Legs {
		given = given || plant.Legs[i].EngineSpeed > 0
	}
	if !given || span.End-span.Start < 1 {
		return
	}
	const turn = 0.25 // a leg takes over within this [s]
	for _, t := range []float64{span.Start + turn, span.End - turn} {
		n := plant.Legs[leg].EngineSpeed
		if n == 0 { // as the model has it
			air := atmos.Offset(p.record.warmth.at(t)).At(p.record.altitude.at(t))
			n = plant.Engine.Speed(p.record.power.at(t), air.Density/atmos.SeaLevelDensity)
		}
		p.record.engineSpeed.add(t, n)
	}
}

// indicated is the airspeed that a gauge shows at a true one.
func indicated(plant *sim.Plant, tas float64, air atmos.State) float64 {
	cas := atmos.TrueToCalibrated(math.Max(tas, 0), air)
	v := cas
	for range 20 { // its errors change slowly with speed
		v += cas - plant.Airspeed.Calibrated(v)
	}
	return math.Max(v, 0)
}

// read writes down when gauges are read, first at the start. How warm that is
// nobody knows but by the readings: as if it were known otherwise, it would tell
// the bias of the gauge.
func (p *planned) read() {
	r := p.record
	for c, peak := range p.result.Peaks {
		gauge := r.Gauge(c)
		sensor := p.result.Trajectory.Find(peak.Channel + "_degC").Values
		r.Start[c] = Beginning{sensor[0], unread}
		for t := 0.0; t <= r.End; t += block {
			r.Readings = append(r.Readings, Reading{Circuit: c, From: t, To: t, Count: 1})
			p.noise = append(p.noise, gauge.Noise.Value)
		}
	}
}

// taught is what a flight would teach.
type taught struct {
	plan     *planned
	slopes   *mat.Dense      // of the readings along the numbers of the target, in noises per deviation
	whitened *mat.Dense      // the same with what else is not known taken out
	passes   float64         // chance that the flight passes a limit
	quiet    map[string]bool // paths of numbers that move no reading
}

// teach flies a flight once for each number that is not known. Those that have
// moved nothing on another flight, by path, are first moved all at once: as they
// move nothing together either, they are done with.
func teach(ctx context.Context, f *NextFlight, target []openNumber, quiet map[string]bool, done func()) (*taught, error) {
	p, err := planFlight(ctx, f)
	if err != nil {
		return nil, err
	}
	doubts, err := sweep.DoubtsOf(f.Scenario)
	if err != nil {
		return nil, err
	}
	own, err := openNumbersOf(f.Scenario, doubts)
	if err != nil {
		return nil, err
	}
	if len(own) == 0 {
		return nil, errors.New("every number is known on it: it teaches nothing")
	}
	t := &taught{plan: p, quiet: map[string]bool{}}
	if !p.silent(ctx, own, quiet) {
		quiet = nil
	}
	moved, err := t.fly(ctx, own, quiet, done)
	if err != nil {
		return nil, err
	}
	nuisances, err := p.startSlopes(ctx)
	if err != nil {
		return nil, err
	}
	correlation := correlationsOf(f.Scenario, own)
	if t.passes, err = p.risk(moved, own, correlation); err != nil {
		return nil, err
	}
	p.perNoise(moved)
	p.perNoise(nuisances)
	slopes, others, err := apart(moved, own, target, correlation)
	if err != nil {
		return nil, err
	}
	if others != nil {
		starts := nuisances
		nuisances = &mat.Dense{}
		nuisances.Augment(others, starts)
	}
	t.slopes, t.whitened = slopes, whitened(slopes, nuisances)
	return t, nil
}

// fly is how the readings move with each number, in K per deviation. Numbers that
// are quiet are not flown.
func (t *taught) fly(ctx context.Context, own []openNumber, quiet map[string]bool, done func()) (*mat.Dense, error) {
	moved := mat.NewDense(len(t.plan.record.Readings), len(own), nil)
	for k := range own {
		done()
		path := own[k].param.Path
		if quiet[path] {
			t.quiet[path] = true
			continue
		}
		column, err := t.plan.slope(ctx, &own[k])
		if err != nil {
			return nil, fmt.Errorf("%s moved by its doubt: %w", path, err)
		}
		t.quiet[path] = still(column)
		moved.SetCol(k, column)
	}
	return moved, nil
}

// still says that no reading moves.
func still(column []float64) bool {
	const nothing = 1e-9 // K; rounding leaves less
	for _, v := range column {
		if math.Abs(v) > nothing {
			return false
		}
	}
	return true
}

// silent says that some numbers, all moved at once, move no reading.
func (p *planned) silent(ctx context.Context, own []openNumber, quiet map[string]bool) bool {
	moved := 0
	sc, err := p.record.Scenario.Edit(func(c *scenarios.Scenario) error {
		for k := range own {
			if u := &own[k]; quiet[u.param.Path] && !u.gauge {
				moved++
				if err := u.param.Set(c, u.moves()[0]); err != nil {
					return err
				}
			}
		}
		return nil
	})
	if err != nil || moved < 2 {
		return false
	}
	t, err := p.record.Fly(ctx, sc, Conditions{RelTol: fitTol})
	return err == nil && still(p.difference(t, 1))
}

// perNoise divides by the noise of each reading, a row each.
func (p *planned) perNoise(m *mat.Dense) {
	m.Apply(func(i, _ int, v float64) float64 { return v / p.noise[i] }, m)
}

// slope is how the readings move with a number, in K per deviation: by as short a
// step and as fine an integration as in a fit. Numbers that stand in for each other
// move readings almost alike, and a whole deviation would bend that away.
func (p *planned) slope(ctx context.Context, u *openNumber) ([]float64, error) {
	if u.gauge {
		return p.gaugeSlope(u), nil
	}
	var err error
	for _, x := range u.moves() {
		var sc *scenarios.Scenario
		sc, err = p.record.Scenario.Edit(func(c *scenarios.Scenario) error { return u.param.Set(c, x) })
		if err != nil {
			continue
		}
		var t *Trace
		if t, err = p.record.Fly(ctx, sc, Conditions{RelTol: fitTol}); err == nil {
			return p.difference(t, u.sigma/(x-u.mean)), nil
		}
		if ctx.Err() != nil {
			return nil, err
		}
	}
	return nil, err
}

// moves are where a number is moved to: by a step of its deviation or to the end
// of its range, the longer way first.
func (u *openNumber) moves() []float64 {
	s := fitStep * u.sigma
	if u.param.Whole {
		s = math.Max(1, math.Round(u.sigma))
	}
	up, down := math.Min(s, u.param.Hi-u.mean), math.Min(s, u.mean-u.param.Lo)
	list := []float64{u.mean + up, u.mean - down}
	if up < down {
		list[0], list[1] = list[1], list[0]
	}
	if math.Min(up, down) <= 0 {
		list = list[:1]
	}
	return list
}

// gaugeSlope is that of a number of a gauge; it takes no flight.
func (p *planned) gaugeSlope(u *openNumber) []float64 {
	column := make([]float64, len(p.record.Readings))
	gauge := p.record.Gauge(u.circuit)
	moved := series{}
	if u.lag {
		for i, g := range shown(p.base.Times, p.base.Sensor[u.circuit], gauge.Lag.Value+u.sigma, gauge.Bias.Value) {
			moved.add(p.base.Times[i], g)
		}
	}
	for i, m := range p.record.Readings {
		switch {
		case m.Circuit != u.circuit:
		case u.lag:
			column[i] = moved.at(m.From) - p.base.Of(m)
		default:
			column[i] = u.sigma
		}
	}
	return column
}

// startSlopes are how the readings move with both temperatures at the start, in
// K per deviation.
func (p *planned) startSlopes(ctx context.Context) (*mat.Dense, error) {
	moved := mat.NewDense(len(p.record.Readings), len(p.record.Start), nil)
	for c, begin := range p.record.Start {
		step := 2 * p.record.Gauge(c).Noise.Value // as far as the readings leave it open
		start := [2]float64{p.record.Start[0].Value, p.record.Start[1].Value}
		start[c] += step
		t, err := p.record.Fly(ctx, p.record.Scenario, Conditions{Start: &start, RelTol: fitTol})
		if err != nil {
			return nil, err
		}
		moved.SetCol(c, p.difference(t, begin.Doubt/step))
	}
	return moved, nil
}

// difference is that of the readings of a trace from the base, times a factor.
func (p *planned) difference(t *Trace, factor float64) []float64 {
	column := make([]float64, len(p.record.Readings))
	for i, m := range p.record.Readings {
		column[i] = factor * (t.Of(m) - p.base.Of(m))
	}
	return column
}

// risk is the chance that the flight passes a limit: the greatest of the chances
// at its readings, from the doubts of its own numbers, but for those of gauges,
// to first order. It begins as warm as it does.
func (p *planned) risk(moved *mat.Dense, own []openNumber, correlation *mat.SymDense) (float64, error) {
	b, err := newBelief(correlation)
	if err != nil {
		return 0, err
	}
	var sensor [2]series
	for c := range sensor {
		for k, t := range p.base.Times {
			sensor[c].add(t, p.base.Sensor[c][k])
		}
	}
	most := 0.0
	for i, m := range p.record.Readings {
		by := mat.Row(nil, i, moved)
		for k := range own {
			if own[k].gauge {
				by[k] = 0
			}
		}
		margin := p.result.Peaks[m.Circuit].Limit - sensor[m.Circuit].at(m.From)
		most = math.Max(most, passed(margin, b.deviation(by)))
	}
	return most, nil
}

// overLimit says that the flight goes over a limit, or boils, with the numbers
// as they are believed.
func (p *planned) overLimit() bool {
	return p.result.Status == sim.OverLimit || p.result.BoilMargin <= 0
}

var errNothingMoves = errors.New("no doubtful number moves a margin: there is nothing to learn")
