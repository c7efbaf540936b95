package sim

import (
	"math"

	"hotclimb/sim/airpath"
	"hotclimb/sim/flight"
	"hotclimb/sim/ode"
)

// recorder samples a run on an even grid of times. It has a model of its own,
// so that looking does not disturb the run.
type recorder struct {
	*model           // nil when nothing is kept
	sample   float64 // [s]; 0: nothing is kept
	next     float64 // [s]
	last     float64 // time of the last sample [s]
	channels []channel
	values   [][]float64
	y        [states]float64
	err      error
}

// channel is one quantity and where to read it after an evaluation.
type channel struct {
	name, unit, doc string
	read            func(m *model, t float64, y []float64) float64
}

func newRecorder(p *Plant, sample float64) (*recorder, error) {
	o := &recorder{sample: sample, last: math.Inf(-1)}
	if sample <= 0 {
		return o, nil
	}
	o.channels = channels(p)
	o.values = make([][]float64, len(o.channels))
	var err error
	o.model, err = newModel(p)
	return o, err
}

// enter samples the start of a leg.
func (o *recorder) enter(r *runner, leg *flight.Leg) {
	if o.sample <= 0 {
		return
	}
	o.leg = leg
	o.keep(r, r.now, r.y)
	o.next = (math.Floor(r.now/o.sample) + 1) * o.sample
}

// step samples the grid times of an accepted step.
func (o *recorder) step(r *runner, s *ode.Step) {
	if o.sample <= 0 {
		return
	}
	for o.next <= s.T1 {
		s.At(o.next, o.y[:])
		o.keep(r, o.next, o.y[:])
		o.next += o.sample
	}
}

// leave samples the end of the flight.
func (o *recorder) leave(r *runner) {
	if o.sample > 0 {
		o.keep(r, r.now, r.y)
	}
}

// keep evaluates the plant and appends one value to every channel. A second
// sample at the same time replaces nothing and is left out.
func (o *recorder) keep(r *runner, t float64, y []float64) {
	if o.err != nil || t <= o.last {
		return
	}
	o.leg, o.spraying, o.last = r.leg, r.spraying, t
	if o.err = o.evaluate(y); o.err != nil {
		return
	}
	for i := range o.channels {
		o.values[i] = append(o.values[i], o.channels[i].read(o.model, t, y))
	}
}

// trajectory returns what was sampled, or nil.
func (o *recorder) trajectory() *Trajectory {
	if o.sample <= 0 {
		return nil
	}
	t := &Trajectory{}
	for i, c := range o.channels {
		t.Channels = append(t.Channels, Channel{Name: c.name, Unit: c.unit, Doc: c.doc, Values: o.values[i]})
	}
	return t
}

// snapshot returns the flight at the evaluated state.
func (m *model) snapshot(t float64, y []float64) Snapshot {
	q := 0.5 * m.atmosphere.Density * m.tas * m.tas
	drag := m.coolingDrag()
	total := drag.Total()
	speed := math.Max(0, m.tas)
	cost := m.Aircraft.Cost(total, speed, q, m.efficiency)
	if m.leg.Kind != flight.Level {
		cost.Speed = 0 // it is climb that the drag costs
	}
	engine, intoCoolant, intoOil := m.given(y)
	return Snapshot{
		EngineHeat: engine, IntoCoolant: intoCoolant, IntoOil: intoOil,
		Time: t, Altitude: y[altitude], Outside: m.atmosphere.Temperature,
		TrueAirspeed: m.tas, Ram: math.Copysign(q, m.tas), Power: m.power, RateOfClimb: m.climb,
		CoolantHeat: m.removed(false), OilHeat: m.removed(true),
		CoolingDrag: total, InternalDrag: drag.Internal,
		SpillageDrag: drag.Spillage, ExternalDrag: drag.External,
		DragPower: total * speed,
		CostPower: cost.Power, CostSpeed: cost.Speed, CostRateOfClimb: cost.RateOfClimb,
	}
}

// removed returns the heat that the exchangers take out of a circuit [W].
func (m *model) removed(fromOil bool) float64 {
	sum := 0.0
	for i := range m.Exchangers {
		if m.Exchangers[i].Oil == fromOil {
			sum += m.cores[i].Q
		}
	}
	return sum
}

// exchangers returns what every exchanger does at the evaluated state.
func (m *model) exchangers() []ExchangerState {
	list := make([]ExchangerState, 0, len(m.Exchangers))
	for i, e := range m.Exchangers {
		s := ExchangerState{Name: e.Name, Serves: coolant.String(), Heat: m.cores[i].Q}
		if e.Oil {
			s.Serves = oil.String()
		}
		if e.Branch != NoBranch {
			s.AirFlow = m.air.Field.Flow[e.Branch]
			s.Reversed = s.AirFlow < 0
		}
		list = append(list, s)
	}
	return list
}

// vent returns the temperature of the air a cabin vent takes in [°C].
func (m *model) vent(v *Vent) float64 {
	exit := m.net.Branches[v.Exit].From
	share := v.Share
	if m.air.Field.Flow[v.Exit] <= 0 || exit == airpath.Outside {
		share = 0
	}
	t := m.atmosphere.Temperature
	return t + share*(m.air.Field.Temperature[exit]-t)
}
