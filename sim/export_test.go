package sim

import "hotclimb/sim/airpath"

// Probe evaluates single stages of a plant at one state, for benchmarks and
// counts of allocations.
type Probe struct {
	m       *model
	y, dydt []float64
	turn    float64
}

// NewProbe starts in leg i at the starting temperatures of the plant.
func NewProbe(p *Plant, i int) (*Probe, error) {
	r, err := newRunner(p, Settings{})
	if err != nil {
		return nil, err
	}
	p0 := &Probe{m: r.model, y: r.y, dydt: make([]float64, states)}
	for e := metal; e <= oilCold; e++ {
		p0.y[e] = 90
	}
	p0.y[coolantOpen], p0.y[oilOpen], p0.y[altitude] = 0.6, 1, p.Weather.Elevation+300
	if p.Spray != nil {
		p0.y[water] = p.Spray.Tank
	}
	r.model.leg = &p.Legs[i]
	return p0, r.derivative(0, p0.y, p0.dydt)
}

// Derivative evaluates the derivative a little beside the last state, as
// stages of a step do.
func (p *Probe) Derivative() error {
	p.turn = 0.05 - p.turn
	p.y[coolantHot] = 90 + p.turn
	return p.m.derivative(0, p.y, p.dydt)
}

// Jacobian evaluates the Jacobian at the last state.
func (p *Probe) Jacobian(dfdy []float64) error {
	clear(dfdy)
	return p.m.jacobian(0, p.y, dfdy)
}

// AirPath solves the air field a little beside the last one.
func (p *Probe) AirPath() error {
	p.turn = 0.05 - p.turn
	p.y[coolantHot] = 90 + p.turn
	return p.m.breathe(p.y)
}

// AirPathCold solves the air field from scratch.
func (p *Probe) AirPathCold() error {
	p.m.air.Reset()
	return p.m.breathe(p.y)
}

// Spray turns the spray of the plant on.
func (p *Probe) Spray() { p.m.spraying = true }

// Field is the air field last solved.
func (p *Probe) Field() *airpath.Field { return &p.m.air.Field }

// States is the length of the state vector.
const States = states

// Afresh evaluates the plant at its first state as if it had not been evaluated
// before.
func (p *Probe) Afresh() error {
	p.y[coolantHot] = 90
	p.m.forget()
	return p.m.evaluate(p.y)
}

// Turn puts the plant into a state.
func (p *Probe) Turn(temperatures [5]float64, above float64) error {
	copy(p.y, temperatures[:])
	p.y[altitude] = p.m.Weather.Elevation + above
	return p.m.derivative(0, p.y, p.dydt)
}

// Columns returns the columns of the Jacobian at the last state as the model has
// them, and by central differences of derivatives afresh; those that the model
// leaves out are nil.
func (p *Probe) Columns() (given, differences [Moving + 1][]float64, err error) {
	dfdy := make([]float64, states*states)
	if err := p.Jacobian(dfdy); err != nil {
		return given, differences, err
	}
	for j := range given {
		if j == coolantOpen && p.m.Coolant.Thermostat == nil || j == oilOpen && p.m.Oil.Thermostat == nil {
			continue
		}
		step := [...]float64{coolantOpen: 1e-4, oilOpen: 1e-4, altitude: 5}[j]
		if step == 0 {
			step = 1e-2
		}
		var ends [2][states]float64
		for k, sign := range []float64{1, -1} {
			y := [states]float64(p.y)
			y[j] += sign * step
			p.m.forget()
			if err := p.m.derivative(0, y[:], ends[k][:]); err != nil {
				return given, differences, err
			}
		}
		for i := range states {
			given[j] = append(given[j], dfdy[i*states+j])
			differences[j] = append(differences[j], (ends[0][i]-ends[1][i])/(2*step))
		}
	}
	return given, differences, nil
}

// Moving is the number of temperatures and openings, which the altitude follows.
const Moving = moving

// Heats returns the heat taken out by every exchanger at the last state [W].
func (p *Probe) Heats() []float64 {
	var list []float64
	for _, e := range p.m.cores {
		list = append(list, e.Q)
	}
	return list
}
