package exchanger

import (
	"math"

	"hotclimb/sim/fluid"
)

// mist is the air between spray and core, and how the core acts on it.
type mist struct {
	spray    Spray
	air      MoistAir
	w1, w2   float64 // humidity ratios W1, W2 [-]
	t2       float64 // T2 [°C]
	mA, mB   float64 // evaporated in flight, landed on the core [kg/s]
	adiabate bool    // the adiabatic limit binds
	eps, dry float64 // ε_s [-]; dry conductance to the surface [W/K]
	capacity float64 // ṁ_a(cp + W2·cp_v) [W/K]
	transfer float64 // ṁ_a(1 − e^{−f_wet·N/Le^{2/3}}) [kg/s]
}

// inFlight is steps 1 and 2 of Evaporate.
func (s Spray) inFlight(air MoistAir, ntu float64) mist {
	s, ntu = s.limited(), math.Max(0, ntu)
	m := mist{spray: s, air: air, w1: fluid.HumidityRatio(air.Temperature, air.Humidity, air.Pressure)}
	m.mA = s.InFlight * s.Water
	if _, rh := s.moistened(air, m.w1, m.mA/(nearSaturation*air.Flow)); rh > 1 {
		most := nearSaturation * air.Flow * math.Max(0, s.adiabaticSaturation(air, m.w1)-m.w1)
		m.mA, m.adiabate = math.Min(m.mA, most), true
	}
	m.mB = s.Landed * (s.Water - m.mA)
	m.w2 = m.w1 + m.mA/air.Flow
	m.t2, _ = s.moistened(air, m.w1, m.mA/air.Flow)
	m.eps = -math.Expm1(-ntu)
	m.dry = air.Flow * moistCapacity(m.w1) * m.eps
	m.capacity = air.Flow * moistCapacity(m.w2)
	m.transfer = -math.Expm1(-s.Wetted*ntu/lewisPower) * air.Flow
	return m
}

// limited returns the spray with its shares between 0 and 1.
func (s Spray) limited() Spray {
	s.Water = math.Max(0, s.Water)
	for _, x := range [...]*float64{&s.Landed, &s.InFlight, &s.Wetted, &s.OutletHumidity} {
		*x = math.Max(0, math.Min(1, *x))
	}
	return s
}

// moistened returns the temperature [°C] and relative humidity [-] of the air
// once dw kg of water per kg has evaporated in it.
func (s Spray) moistened(air MoistAir, w1, dw float64) (t, rh float64) {
	h := fluid.MoistEnthalpy(air.Temperature, w1) + dw*waterCapacity*s.Temperature
	t = temperatureOf(h, w1+dw)
	return t, fluid.RelativeHumidity(t, w1+dw, air.Pressure)
}

// adiabaticSaturation returns W_as [-] of air at humidity ratio w1.
func (s Spray) adiabaticSaturation(air MoistAir, w1 float64) float64 {
	h1 := fluid.MoistEnthalpy(air.Temperature, w1)
	tas := root(func(t float64) float64 {
		w := fluid.SaturatedHumidityRatio(t, air.Pressure)
		return fluid.MoistEnthalpy(t, w) - h1 - (w-w1)*waterCapacity*s.Temperature
	}, math.Min(coldestAir, air.Temperature), air.Temperature)
	return fluid.SaturatedHumidityRatio(tas, air.Pressure)
}

// onCore is steps 3 to 5 of Evaporate, at the surface temperature ts [°C].
func (m *mist) onCore(ts float64) Evaporation {
	sensible, latent, ev, limit := m.heat(ts)
	e := Evaporation{
		InFlight: m.mA, CoreTemperature: m.t2, DryHeat: m.dry * (ts - m.air.Temperature),
		Sensible: sensible, Latent: latent, Evaporated: m.mA + ev, Limit: limit,
	}
	e.RunOff = m.spray.Water - e.Evaporated
	e.OutletTemperature, e.OutletHumidity = m.outlet(ts, ev)
	return e
}

// heat returns Q_s, Q_lat [W], m_ev [kg/s] and what limits it.
func (m *mist) heat(ts float64) (sensible, latent, ev float64, limit SprayLimit) {
	ev, limit = m.evaporated(ts)
	return m.capacity * m.eps * (ts - m.t2), ev * (fluid.VapourEnthalpy(ts) - waterCapacity*m.spray.Temperature), ev, limit
}

// evaporated returns m_ev [kg/s] and what limits it.
func (m *mist) evaporated(ts float64) (ev float64, limit SprayLimit) {
	switch {
	case m.spray.Water == 0:
		return 0, NoSpray
	case !(m.mB > 0) && m.adiabate:
		return 0, AdiabaticLimit
	case !(m.mB > 0):
		return 0, WaterLimit
	}
	ev, limit = m.mB, WaterLimit
	drive := math.Max(0, fluid.SaturatedHumidityRatio(ts, m.air.Pressure)-m.w2)
	if most := m.transfer * drive; most < ev {
		ev, limit = most, SurfaceLimit
	}
	if m.excess(ts, ev) > 0 {
		ev = root(func(x float64) float64 { return m.excess(ts, x) }, 0, ev)
		limit = OutletHumidityLimit
	}
	return ev, limit
}

// outlet returns temperature [°C] and relative humidity [-] of the air behind
// the core when ev [kg/s] evaporates on it.
func (m *mist) outlet(ts, ev float64) (t, rh float64) {
	dw := ev / m.air.Flow
	h4 := fluid.MoistEnthalpy(m.t2+m.eps*(ts-m.t2), m.w2) + dw*fluid.VapourEnthalpy(ts)
	t = temperatureOf(h4, m.w2+dw)
	return t, fluid.RelativeHumidity(t, m.w2+dw, m.air.Pressure)
}

// excess returns how far the outlet humidity exceeds its limit [-].
func (m *mist) excess(ts, ev float64) float64 {
	_, rh := m.outlet(ts, ev)
	return rh - m.spray.OutletHumidity
}

// moistCapacity returns cp + W·cp_v [J/(kg K)] per kg of dry air.
func moistCapacity(w float64) float64 { return fluid.AirHeatCapacity + w*vapourCapacity }

// temperatureOf returns the temperature [°C] of moist air of enthalpy h [J/kg]
// and humidity ratio w [-].
func temperatureOf(h, w float64) float64 {
	return (h - w*fluid.VapourEnthalpy(0)) / moistCapacity(w)
}
