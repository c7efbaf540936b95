package sim

import (
	"math"

	"hotclimb/sim/airpath"
	"hotclimb/sim/flight"
)

// balance writes dy/dt from what evaluate found. Conductances, flows and air
// temperatures are those found there, so that in the temperatures it is
// linear:
//
//	C_m·T_m' = q_m − hA_mc(T_m − T_h) − hA_mo(T_m − T_o) − Σ UA_bay(T_m − T_cowl)
//	C_h·T_h' = hA_mc(T_m − T_h) + F(T_c − T_h)
//	C_c·T_c' = F(T_h − T_c) − Q_cores + Q_plate
//	C_o·T_o' = q_o + hA_mo(T_m − T_o) + F_o(T_r − T_o)
//	C_r·T_r' = F_o(T_o − T_r) − Q_coolers − Q_plate
//
// with h, c the hot and cold leg of the coolant and o, r the oil in the sump
// and returning to the engine.
func (m *model) balance(y, dydt []float64) {
	qc, qo := m.exchange(coolant, y), m.exchange(oil, y)
	plate := m.plateHeat()
	toCoolant := m.flows[coolant].contact * (y[metal] - y[coolantHot])
	toOil := m.flows[oil].contact * (y[metal] - y[oilHot])
	toBay := m.bayLoss(y[metal])
	cf, of := m.flows[coolant].capacity, m.flows[oil].capacity

	dydt[metal] = (m.heat.Coolant - toCoolant - toOil - toBay) / m.capacity[metal]
	dydt[coolantHot] = (toCoolant + cf*(y[coolantCold]-y[coolantHot])) / m.capacity[coolantHot]
	dydt[coolantCold] = (cf*(y[coolantHot]-y[coolantCold]) - qc + plate) / m.capacity[coolantCold]
	dydt[oilHot] = (m.heat.Oil + toOil + of*(y[oilCold]-y[oilHot])) / m.capacity[oilHot]
	dydt[oilCold] = (of*(y[oilHot]-y[oilCold]) - qo) / m.capacity[oilCold]

	dydt[coolantOpen] = m.opening(coolant, y)
	dydt[oilOpen] = m.opening(oil, y)
	dydt[altitude] = m.climb
}

// account writes the rates of the accumulators: spray water, heat given off by
// the engine, and heat carried away, counted in the air of the cowl. Bay heat
// that reaches no place of the cowl leaves on its own and is not counted.
func (m *model) account(dydt []float64) {
	dydt[water] = 0
	if m.spraying {
		dydt[water] = -m.Plant.Spray.Rate
	}
	dydt[heatIn] = m.heat.Coolant + m.heat.Oil
	for j := range m.net.Places {
		dydt[heatIn] += m.net.Places[j].Source
	}
	dydt[heatOut] = m.air.HeatOut(&m.stream) + m.latent()
}

// settlingLag is the lag of thermostats on the way to a settled start [s]. It
// is far above every other time constant, so that one of a usual range neither
// hunts nor overshoots into its play, but comes to rest on its opening curve.
const settlingLag = 900.0

// opening returns the rate of a thermostat, which sits in the hot leg.
func (m *model) opening(s side, y []float64) float64 {
	th := m.circuit(s).Thermostat
	if th == nil {
		return 0
	}
	if m.held {
		return (th.Settled(y[s.hot()]) - y[s.open()]) / settlingLag
	}
	return th.Rate(y[s.open()], y[s.hot()])
}

// plateHeat returns the heat that plate exchangers bring from oil to coolant.
func (m *model) plateHeat() float64 {
	sum := 0.0
	for _, i := range m.plates {
		sum += m.cores[i].Q
	}
	return sum
}

// bayLoss returns the heat that the metal gives to the air of the cowl.
func (m *model) bayLoss(t float64) float64 {
	sum := 0.0
	for j := range m.net.Places {
		sum += m.net.Places[j].WallUA * (t - m.air.Field.Temperature[j])
	}
	return sum
}

// latent returns the heat [W] that leaves with the vapour of the spray: what
// the wet core takes from the liquid and the air does not show as warmth.
func (m *model) latent() float64 {
	if !m.spraying {
		return 0
	}
	i := m.Plant.Spray.Exchanger
	b, f := m.Exchangers[i].Branch, &m.air.Field
	return m.cores[i].Q - math.Abs(f.Flow[b])*airpath.HeatCapacity*(f.Out[b]-f.In[b])
}

// jacobian writes ∂(dy/dt)/∂y at y, and leaves the model beside y.
// In temperatures and openings the air carries the changed heat along in flows
// that stand still. That leaves entries off by up to 2 % of the largest of their
// column, for openings by up to 12 % (see the tests).
func (m *model) jacobian(_ float64, y, dfdy []float64) error {
	if !m.lastValid || [states]float64(y) != m.last {
		if err := m.evaluate(y); err != nil {
			return err
		}
	}
	var base, moved [states]float64
	m.carry(y)
	m.balance(y, base[:])
	m.account(base[:])
	at := m.beside[:]
	copy(at, y)
	m.lastValid = false
	for _, j := range columns {
		step := warmer
		if j >= coolantOpen {
			if m.circuit(side(j-coolantOpen)).Thermostat == nil {
				continue
			}
			step = wider
		}
		at[j] = y[j] + step
		if cold := j == coolantCold || j == oilCold; cold && len(m.plates) == 0 {
			m.pump(coolant, at, &m.Metal.ToCoolant)
			m.pump(oil, at, &m.Metal.ToOil)
		} else {
			m.carry(at)
		}
		m.balance(at, moved[:])
		for i := range altitude + 1 {
			dfdy[i*states+j] = (moved[i] - base[i]) / step
		}
		at[j] = y[j]
	}
	if err := m.ascend(y, base[:]); err != nil {
		return err
	}
	for i, slope := range m.ascent.slope {
		dfdy[i*states+altitude] = slope
	}
	for j := range altitude + 1 { // what is not stored leaves
		left := dfdy[heatIn*states+j]
		for i, c := range m.capacity {
			left -= c * dfdy[i*states+j]
		}
		dfdy[heatOut*states+j] = left
	}
	return nil
}

// columns are those of the temperatures and openings. The cold legs come first:
// but for plate exchangers the air does not see them, and is still that of y.
var columns = [...]int{coolantCold, oilCold, metal, coolantHot, oilHot, coolantOpen, oilOpen}

// Changes of a temperature [K], of an opening [-] and of the altitude [m] for a
// difference quotient.
const (
	warmer = 1e-2
	wider  = 1e-5
	higher = 20.0
)

// carry brings liquids, cores and the temperatures of the air to state y, in
// the air flows as they are.
func (m *model) carry(y []float64) {
	m.pump(coolant, y, &m.Metal.ToCoolant)
	m.pump(oil, y, &m.Metal.ToOil)
	m.prepare(y)
	m.air.Carry(&m.stream, m)
}

// ascent is ∂(dy/dt)/∂altitude, and what it was found for.
type ascent struct {
	regime regime
	served int // Jacobians
	slope  [states]float64
}

// regime is what makes the derivative another function of the state.
type regime struct {
	leg            *flight.Leg
	held, spraying bool
}

// lasting is the number of Jacobians that one column for the altitude serves: it
// hardly changes on the way, and costs an evaluation.
const lasting = 5

// ascend finds the column for the altitude anew where the present one has served,
// given dy/dt at y.
func (m *model) ascend(y, dydt []float64) error {
	r, now := &m.ascent, regime{m.leg, m.held, m.spraying}
	if r.served++; r.regime == now && r.served <= lasting {
		return nil
	}
	var moved [states]float64
	at := m.beside[:]
	copy(at, y)
	at[altitude] += higher
	if err := m.derivative(0, at, moved[:]); err != nil {
		return err
	}
	for i := range moved {
		r.slope[i] = (moved[i] - dydt[i]) / higher
	}
	r.regime, r.served = now, 1
	return nil
}
