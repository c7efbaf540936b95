package sim

import (
	"math"

	"hotclimb/sim/airpath"
	"hotclimb/sim/exchanger"
	"hotclimb/sim/fluid"
)

// Outlets rates every core at the present air flows and carries the liquids
// through their chains; it makes a model the heater of its air field.
func (m *model) Outlets(flow, tIn, tOut []float64) {
	for i := range m.Exchangers {
		m.rate(i, flow, tIn)
	}
	m.exchange(coolant, m.state)
	m.exchange(oil, m.state)
	for i := range m.cores {
		b := m.Exchangers[i].Branch
		if b == NoBranch {
			continue
		}
		tOut[b] = tIn[b]
		if air := math.Abs(flow[b]) * airpath.HeatCapacity; air > 0 {
			tOut[b] += m.cores[i].Q / air
		}
		if m.soaked(i) && flow[b] > 0 {
			tOut[b] = m.wet.OutletTemperature
		}
	}
}

// rate sets conductance and air temperature of exchanger i.
func (m *model) rate(i int, flow, tIn []float64) {
	e, x := &m.Exchangers[i], &m.cores[i]
	liquid := m.liquids[i]
	liquid.Temperature = x.LiquidIn
	if e.Branch == NoBranch {
		cold := &m.flows[coolant]
		x.K = m.ratings[i].near(m.nearby, e.Core, exchanger.Stream{
			Flow: cold.mass, Temperature: m.state[coolantCold], HeatCapacity: cold.cp,
		}, liquid)
		return
	}
	air := exchanger.AirStream(math.Abs(flow[e.Branch]), tIn[e.Branch])
	x.AirIn = air.Temperature
	x.K = m.ratings[i].near(m.nearby, e.Core, air, liquid)
	if m.soaked(i) && flow[e.Branch] > 0 {
		m.soak(i, air, liquid)
	}
}

// rating answers for the conductance of a core. What little changes between the
// looks at a core while the air flow is being found, and between the columns of
// a Jacobian, is answered by the tangent at the last rating.
type rating struct {
	straight bool // nothing but flows and heat capacities matter to the core
	tangent  exchanger.Tangent
}

// nearby is the change of a stream that a tangent is good for, where it is not in
// flight: K is off by less than six times its square, 6e-7 [-].
const nearby = 3e-4

// nearbyInFlight returns the change of a stream that a tangent is good for in
// flight: K is off by less than 2 % of the error allowed per step.
func nearbyInFlight(relTol float64) float64 { return 0.05 * math.Sqrt(relTol) }

// near returns K = ε·C_min [W/K] of the core, from its tangent where no stream is
// further than a share from those of the tangent.
func (r *rating) near(share float64, c *exchanger.Core, air, liquid exchanger.Stream) float64 {
	if !r.straight {
		k, _ := c.Heat(air, liquid)
		return k
	}
	if !r.tangent.Near(air, liquid, share) {
		r.tangent = c.Tangent(air, liquid)
	}
	return r.tangent.At(air, liquid)
}

// soaked reports whether exchanger i is being sprayed.
func (m *model) soaked(i int) bool { return m.spraying && m.Plant.Spray.Exchanger == i }

// soak rates a sprayed core. Its heat is put as that of the dry core in air of
// a lower temperature, T_air' = T_liquid − Q_wet/K_dry.
func (m *model) soak(i int, air, liquid exchanger.Stream) {
	s := m.Plant.Spray
	spray := exchanger.NewSpray(s.Rate, s.Water)
	spray.Landed, spray.InFlight = s.Landing, s.Upstream
	m.wet = m.Exchangers[i].Core.Wet(spray, exchanger.MoistAir{
		Flow: air.Flow, Temperature: air.Temperature, Pressure: m.atmosphere.Pressure,
		Humidity: min(1, fluid.RelativeHumidity(air.Temperature, m.humidity, m.atmosphere.Pressure)),
	}, liquid)
	if x := &m.cores[i]; x.K > 0 {
		x.AirIn = liquid.Temperature - m.wet.Heat/x.K
	}
}

// wetFactor returns the pressure drop of the sprayed core over the dry one.
func (m *model) wetFactor() float64 {
	if m.spraying {
		return m.Plant.Spray.WetDrop
	}
	return 1
}

// exchange carries the liquid of a circuit through its exchangers at state y
// and returns the heat they take out of it [W].
func (m *model) exchange(s side, y []float64) float64 {
	f := &m.flows[s]
	for _, i := range m.plates {
		m.cores[i].AirIn = y[coolantCold]
	}
	return m.circuit(s).Chain.Heat(y[s.hot()], f.capacity*f.share, m.cores)
}
