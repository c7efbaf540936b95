package sim

import (
	"fmt"

	"hotclimb/sim/airpath"
	"hotclimb/sim/atmos"
	"hotclimb/sim/engine"
	"hotclimb/sim/exchanger"
	"hotclimb/sim/flight"
	"hotclimb/sim/fluid"
	"hotclimb/sim/loop"
)

// model evaluates one plant. It holds what the stages of a derivative hand to
// each other, and the last air field to start the next from; it is not for
// concurrent use.
type model struct {
	*Plant
	leg      *flight.Leg
	held     bool // altitude stands still
	spraying bool
	stalled  bool // the leg is slower than any stall

	net    airpath.Network
	air    *airpath.Solver
	stream airpath.Stream

	atmosphere atmos.State
	tas        float64 // [m/s]
	power      float64 // [W]
	turning    float64 // engine speed over the rated one [-]
	thrust     float64 // [N]
	efficiency float64 // of the propeller [-]
	heat       engine.Heat
	flows      [2]liquidFlow
	state      []float64 // under evaluation
	cores      []loop.Exchange
	liquids    []exchanger.Stream // through the exchangers
	plates     []int              // exchangers without air
	ratings    []rating
	nearby     float64 // change of a stream that a tangent is good for [-]
	wet        exchanger.WetResult
	climb      float64 // [m/s]

	capacity    [oilCold + 1]float64 // heat capacity of each temperature [J/K]
	humidity    float64              // mass of vapour over dry air [-]
	worstMass   float64              // largest mass residual seen [-]
	ascent      ascent
	beside      [states]float64 // where differences are taken
	evaluations int
	last        [states]float64 // state of the last evaluation
	lastValid   bool
}

// liquidFlow is the flow in one circuit.
type liquidFlow struct {
	mass     float64 // [kg/s]
	cp       float64 // [J/(kg K)]
	ratio    float64 // pump flow over rated pump flow [-]
	share    float64 // of it through the exchangers [-]
	capacity float64 // ṁ·cp [W/K]
	contact  float64 // conductance from the metal [W/K]
}

func newModel(p *Plant) (*model, error) {
	n := len(p.Exchangers)
	m := &model{
		Plant: p, net: p.Air, nearby: nearby,
		cores: make([]loop.Exchange, n), liquids: make([]exchanger.Stream, n), ratings: make([]rating, n),
	}
	m.net.Places = append([]airpath.Place(nil), p.Air.Places...)
	m.net.Branches = append([]airpath.Branch(nil), p.Air.Branches...)
	if p.Spray != nil {
		b := &m.net.Branches[p.Exchangers[p.Spray.Exchanger].Branch]
		core := *b.Core
		b.Core = &core
	}
	for i, e := range p.Exchangers {
		m.ratings[i].straight = e.Core.Constant()
		if e.Branch == NoBranch {
			m.plates = append(m.plates, i)
		}
	}
	for j := range m.net.Places {
		m.net.Places[j].WallUA = p.BayShare[j] * p.Metal.ToBay
	}
	for s := range m.flows {
		m.flows[s].ratio = -1 // none yet
	}
	m.capacity = [...]float64{
		metal:      p.Metal.HeatCapacity,
		coolantHot: p.Coolant.HotCapacity, coolantCold: p.Coolant.ColdCapacity,
		oilHot: p.Oil.HotCapacity, oilCold: p.Oil.ColdCapacity,
	}
	var err error
	if m.air, err = airpath.NewSolver(&m.net); err != nil {
		return nil, err
	}
	w := p.Weather
	m.humidity = fluid.HumidityRatio(w.Day.Temperature(w.Elevation), w.Humidity, atmos.StandardPressure(w.Elevation))
	return m, nil
}

// forget makes the next evaluation depend on its arguments alone, and exact.
func (m *model) forget() {
	m.air.Reset()
	m.air.Tolerance, m.nearby = 0, nearby
	clear(m.cores)
	for i := range m.ratings {
		m.ratings[i].tangent = exchanger.Tangent{}
	}
}

// derivative writes dy/dt.
func (m *model) derivative(_ float64, y, dydt []float64) error {
	if err := m.evaluate(y); err != nil {
		return err
	}
	m.balance(y, dydt)
	m.account(dydt)
	return nil
}

// evaluate runs all stages before the balances at state y.
func (m *model) evaluate(y []float64) error {
	m.evaluations++
	m.lastValid = false
	m.fly(y)
	m.pump(coolant, y, &m.Metal.ToCoolant)
	m.pump(oil, y, &m.Metal.ToOil)
	if err := m.breathe(y); err != nil {
		return err
	}
	m.pull()
	copy(m.last[:], y)
	m.lastValid = true
	return nil
}

// fly finds atmosphere, speed, power, thrust and heat.
func (m *model) fly(y []float64) {
	leg := m.leg
	m.atmosphere = m.day().At(y[altitude])
	m.tas = m.trueAirspeed(leg)
	m.power = leg.Output(m.Engine.Available(powerDensity(m.atmosphere, y[altitude])))
	m.heat, m.turning = engine.Heat{}, 0
	if leg.Kind != flight.ShutDown {
		m.heat, m.turning = m.Engine.Heat(m.power), m.turn(leg)
	}
	m.efficiency = m.Propeller.EfficiencyCruise
	if leg.Kind.ClimbsAway() {
		m.efficiency = m.Propeller.EfficiencyClimb
	}
	m.thrust = m.Propeller.Thrust(m.power, m.tas, m.atmosphere.Density, m.efficiency)
	m.stream = airpath.Stream{
		Temperature: m.atmosphere.Temperature,
		Density:     m.atmosphere.Density,
		Speed:       m.tas, DiscRise: m.thrust / m.Propeller.DiscArea(),
	}
}

// day returns the air of the present leg.
func (m *model) day() atmos.Day {
	if m.leg.OwnAir {
		return atmos.Offset(m.leg.AirOffset)
	}
	return m.Weather.Day
}

// powerDensity returns the density ratio that sets the power of an engine at a
// pressure altitude [m] in that air.
func powerDensity(air atmos.State, altitude float64) float64 {
	const kelvin = 273.15
	standard := atmos.Standard().Temperature(altitude) + kelvin
	sigma := air.Pressure / (standard * fluid.AirGasConstant * atmos.SeaLevelDensity)
	return engine.DensityRatio(sigma, standard, air.Temperature+kelvin)
}

// trueAirspeed returns the speed [m/s] of the air along the aircraft: on the
// ground it includes the wind and is negative when that comes from behind
// faster than the aircraft rolls.
func (m *model) trueAirspeed(leg *flight.Leg) float64 {
	if leg.Kind.OnGround() {
		return leg.Speed + m.Weather.Wind
	}
	v := leg.Speed
	switch leg.SpeedKind {
	case flight.True:
		return v
	case flight.Equivalent:
		return atmos.EquivalentToTrue(v, m.atmosphere)
	case flight.Indicated:
		v = m.Airspeed.Calibrated(v)
	}
	return atmos.CalibratedToTrue(v, m.atmosphere)
}

// turn returns the speed of the running engine over the rated one.
func (m *model) turn(leg *flight.Leg) float64 {
	speed := leg.EngineSpeed
	if !(speed > 0) {
		speed = m.Engine.Speed(m.power, m.atmosphere.Density/atmos.SeaLevelDensity)
	}
	return speed / m.Engine.RatedSpeed
}

// pump finds the flow in a circuit and its contact with the metal.
func (m *model) pump(s side, y []float64, contact *loop.Contact) {
	c, f := m.circuit(s), &m.flows[s]
	ratio := m.turning
	if c.Electric {
		ratio = 1
	}
	if ratio != f.ratio {
		f.ratio, f.contact = ratio, contact.At(ratio)
	}
	t := 0.5 * (y[s.hot()] + y[s.cold()])
	f.mass = f.ratio * c.PumpFlow * c.Liquid.Density(t)
	f.cp = c.Liquid.HeatCapacity(t)
	f.capacity = f.mass * f.cp
	f.share = c.Thermostat.Share(y[s.open()])
	m.feed(s)
}

// feed sends the liquid of a circuit to its exchangers.
func (m *model) feed(s side) {
	f := &m.flows[s]
	for i := range m.Exchangers {
		if e := &m.Exchangers[i]; e.Oil == (s == oil) {
			m.liquids[i].Flow, m.liquids[i].HeatCapacity = f.mass*f.share*e.Share, f.cp
		}
	}
}

func (m *model) circuit(s side) *Circuit {
	if s == oil {
		return &m.Oil
	}
	return &m.Coolant
}

// breathe finds the air field together with the rating of the cores.
func (m *model) breathe(y []float64) error {
	m.prepare(y)
	if err := m.air.Solve(&m.stream, m); err != nil {
		return fmt.Errorf("at %.0f m in leg %s: %w", y[altitude], m.leg.Name, err)
	}
	m.worstMass = max(m.worstMass, m.air.Field.Residual)
	return nil
}

// prepare sets what warms the air at state y.
func (m *model) prepare(y []float64) {
	for j := range m.net.Places {
		p := &m.net.Places[j]
		p.Source, p.WallTemp = m.BayShare[j]*m.heat.Bay, y[metal]
	}
	if m.Plant.Spray != nil {
		m.net.Branches[m.Exchangers[m.Plant.Spray.Exchanger].Branch].Core.Factor = m.wetFactor()
	}
	m.state = y
}

// pull finds the rate of climb.
func (m *model) pull() {
	m.climb = 0
	leg := m.leg
	switch {
	case m.held || leg.Kind.OnGround() || leg.Kind == flight.Level:
	case leg.Prescribed:
		m.climb = leg.RateOfClimb
	default:
		q := m.flyingPressure()
		drag := m.Aircraft.Drag(q) + m.coolingDrag().Total()
		m.climb = m.Aircraft.RateOfClimb(m.thrust*m.tas, drag, m.tas)
		if leg.Kind == flight.TakeOff {
			m.climb = max(0, m.climb)
		}
	}
}

// coolingDrag returns the drag of the cooling air.
func (m *model) coolingDrag() airpath.Drag { return m.air.Drag(&m.stream) }

// mostLift is a lift coefficient that no wing of a light aircraft passes, with
// any flaps [-]: engineering judgement.
const mostLift = 3.0

// flyingPressure returns the dynamic pressure [Pa] for the drag of the
// aircraft. A leg slower than any stall, which no aircraft can fly, gets the
// drag at the stall and is noted.
func (m *model) flyingPressure() float64 {
	q := 0.5 * m.atmosphere.Density * m.tas * m.tas
	if least := m.Aircraft.Weight() / (m.Aircraft.WingArea * mostLift); q < least {
		m.stalled = true
		return least
	}
	return q
}
