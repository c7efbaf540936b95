package ode_test

import (
	"math"
	"os"
	"regexp"
	"strconv"
	"testing"
)

// States of the reduced climb: a cooling system in flight in closed form, which
// testdata/cvode/model.c holds too, with the same names and in the same order.
const (
	metal       = iota // T_m, metal of the engine [°C]
	coolantHot         // T_h, coolant leaving the engine [°C]
	coolantCold        // T_c, coolant entering the engine [°C]
	oilHot             // sump [°C]
	oilCold            // return [°C]
	coolantOpen        // u, opening of the coolant thermostat [-]
	oilOpen            // opening of the oil thermostat [-]
	altitude           // h [m]
	reducedStates
)

// constants are the numbers of testdata/cvode/constants.h, which gives units and
// meanings, by name.
type constants map[string]float64

func readConstants(t testing.TB) constants {
	t.Helper()
	text, err := os.ReadFile("../../testdata/cvode/constants.h")
	if err != nil {
		t.Fatal(err)
	}
	c := constants{}
	for _, m := range regexp.MustCompile(`(?m)^#define (\w+) (\S+) +/\* .+ \*/$`).FindAllStringSubmatch(string(text), -1) {
		if c[m[1]], err = strconv.ParseFloat(m[2], 64); err != nil {
			t.Fatal(err)
		}
	}
	return c
}

// reduced is the system in one leg of a flight.
type reduced struct {
	leg          reducedLeg
	coolant, oil circuit

	dayOffset, mass, wingArea, parasite, induced, discArea, staticEfficiency float64
	ratedPower, frictionLapse, partLoad, idleSpeed                           float64
	toMetal, toOil, toBay, metalCapacity, metalToBay                         float64
	airExponent, liquidExponent                                              float64
	kelvin, standardKelvin, standardPressure, standardDensity                float64
	lapse, pressureExponent, gas, airHeat, gravity                           float64
}

// reducedLeg is one leg; units in constants.h. It stands on the ground without a
// speed, and climbs with the power it has without a sink.
type reducedLeg struct{ time, throttle, speed, efficiency, sink float64 }

// circuit is one liquid circuit and its duct; units in constants.h.
type circuit struct {
	hot, cold, open int // its states

	pumpFlow, heat, heatSlope, hotCapacity, coldCapacity float64
	contact, contactExponent                             float64
	opens, full, closing, leak, lag                      float64
	ram, slipstream, laminar, duct, exit                 float64
	coreAir, coreLiquid, coreAirFlow                     float64
}

func newReduced(c constants) *reduced {
	return &reduced{
		coolant: c.circuit("COOLANT", coolantHot, coolantCold, coolantOpen),
		oil:     c.circuit("OIL", oilHot, oilCold, oilOpen),

		dayOffset: c["DAY_OFFSET"], mass: c["MASS"], wingArea: c["WING_AREA"],
		parasite: c["PARASITE_DRAG"], induced: c["INDUCED_DRAG"],
		discArea: c["DISC_AREA"], staticEfficiency: c["STATIC_EFFICIENCY"],
		ratedPower: c["RATED_POWER"], frictionLapse: c["FRICTION_LAPSE"],
		partLoad: c["PART_LOAD"], idleSpeed: c["IDLE_SPEED"],
		toMetal: c["HEAT_TO_METAL"], toOil: c["HEAT_TO_OIL"], toBay: c["HEAT_TO_BAY"],
		metalCapacity: c["METAL_CAPACITY"], metalToBay: c["METAL_TO_BAY"],
		airExponent: c["CORE_AIR_EXPONENT"], liquidExponent: c["CORE_LIQUID_EXPONENT"],
		kelvin: c["KELVIN"], standardKelvin: c["STANDARD_KELVIN"], standardPressure: c["STANDARD_PRESSURE"],
		standardDensity: c["STANDARD_DENSITY"], lapse: c["LAPSE"], pressureExponent: c["PRESSURE_EXPONENT"],
		gas: c["GAS_CONSTANT"], airHeat: c["AIR_HEAT_CAPACITY"], gravity: c["GRAVITY"],
	}
}

func (c constants) circuit(name string, hot, cold, open int) circuit {
	of := func(quantity string) float64 { return c[name+"_"+quantity] }
	return circuit{
		hot: hot, cold: cold, open: open,
		pumpFlow: of("PUMP_FLOW"), heat: of("HEAT"), heatSlope: of("HEAT_SLOPE"),
		hotCapacity: of("HOT_CAPACITY"), coldCapacity: of("COLD_CAPACITY"),
		contact: of("CONTACT"), contactExponent: of("CONTACT_EXPONENT"),
		opens: of("OPENS"), full: of("FULL"), closing: of("CLOSING"), leak: of("LEAK"), lag: of("LAG"),
		ram: of("RAM"), slipstream: of("SLIPSTREAM"), laminar: of("LAMINAR"), duct: of("DUCT"), exit: of("EXIT"),
		coreAir: of("CORE_AIR"), coreLiquid: of("CORE_LIQUID"), coreAirFlow: of("CORE_AIR_FLOW"),
	}
}

// flying is what altitude alone decides.
type flying struct {
	air      float64 // T_a, outside air [°C]
	pressure float64 // p [Pa]
	density  float64 // ρ [kg/m³]
	power    float64 // P [W]
	speed    float64 // V, true airspeed [m/s]
	q        float64 // dynamic pressure [Pa]
	thrust   float64 // T [N]
	ratio    float64 // r, engine speed over rated speed [-]
	load     float64 // (P/P_rated)^n, share of the heat [-]
	climb    float64 // rate of climb [m/s]
}

// fly has standard pressure at the altitude and air warmer by the day's offset;
// power after Gagg and Farrar at σ = p/(R·ρ0·√(T_standard·T)); thrust η·P/V, at
// rest (η_s·P)^(2/3)·(2ρA)^(1/3).
func (m *reduced) fly(h float64) (f flying) {
	standard := m.standardKelvin - m.lapse*h
	t := standard + m.dayOffset
	f.air = t - m.kelvin
	f.pressure = m.standardPressure * math.Pow(standard/m.standardKelvin, m.pressureExponent)
	f.density = f.pressure / (m.gas * t)
	σ := f.pressure / (m.gas * m.standardDensity * math.Sqrt(standard*t))
	f.power = m.leg.throttle * m.ratedPower * (σ - (1-σ)/m.frictionLapse)
	f.load = math.Pow(f.power/m.ratedPower, m.partLoad)
	f.ratio = max(m.idleSpeed, math.Cbrt(f.power/m.ratedPower*(m.standardDensity/f.density)))
	f.speed = m.leg.speed * math.Sqrt(m.standardDensity/f.density)
	f.q = 0.5 * m.standardDensity * m.leg.speed * m.leg.speed
	if m.leg.speed == 0 {
		ideal := m.staticEfficiency * f.power
		f.thrust = math.Cbrt(ideal * ideal * (2 * f.density * m.discArea))
		return f
	}
	f.thrust = m.leg.efficiency * f.power / f.speed
	f.climb = -m.leg.sink
	if m.leg.sink == 0 {
		weight := m.mass * m.gravity
		lift := weight / (f.q * m.wingArea)
		drag := f.q * m.wingArea * (m.parasite + m.induced*lift*lift)
		f.climb = (f.thrust - drag) * f.speed / weight
	}
	return f
}

// flowing is what happens in one circuit.
type flowing struct {
	contact             float64 // UA from the metal [W/K]
	share               float64 // s, of the flow that passes the core [-]
	capacity            float64 // F, heat capacity rate of the pump flow [W/K]
	resistance          float64 // D, drop over flow squared [Pa s²/kg²]
	air                 float64 // ṁ, air flow [kg/s]
	uaAir, uaLiquid, ua float64 // conductances of the core [W/K]
	e1, x, e2           float64 // exponentials of the effectiveness, see flow
	k                   float64 // heat over liquid in less air in [W/K]
	out                 float64 // Q, out of the liquid [W]
}

// flow has a pump that follows the engine, and air flowing so that
//
//	ram·q + slipstream·T/A = laminar·ṁ + D·ṁ²,  D = duct/ρ + exit/ρ_x
//
// with ρ_x half way between outside air and liquid. The core is in crossflow, the
// liquid mixed:
//
//	K = F·s·(1 − e^−X),  X = C_a/(F·s)·(1 − e^(−UA/C_a)),  Q = K·(T_h − T_a)
func (m *reduced) flow(c *circuit, f *flying, y []float64) (w flowing) {
	th := y[c.hot]
	mean := 0.5 * (th + y[c.cold])
	w.contact = c.contact * math.Pow(f.ratio, c.contactExponent)
	w.share = c.leak + (1-c.leak)*min(max(y[c.open], 0), 1)
	w.capacity = f.ratio * c.pumpFlow * (c.heat + c.heatSlope*mean)

	behind := 0.5*(f.air+th) + m.kelvin
	w.resistance = c.duct/f.density + c.exit*m.gas*behind/f.pressure
	rise := c.ram*f.q + c.slipstream*f.thrust/m.discArea
	w.air = 2 * rise / (c.laminar + math.Sqrt(c.laminar*c.laminar+4*w.resistance*rise))

	ca, cl := m.airHeat*w.air, w.capacity*w.share
	w.uaAir = c.coreAir * math.Pow(w.air/c.coreAirFlow, m.airExponent)
	w.uaLiquid = c.coreLiquid * math.Pow(f.ratio*w.share, m.liquidExponent)
	w.ua = 1 / (1/w.uaAir + 1/w.uaLiquid)
	w.e1 = math.Exp(-w.ua / ca)
	w.x = ca / cl * (1 - w.e1)
	w.e2 = math.Exp(-w.x)
	w.k = cl * (1 - w.e2)
	w.out = w.k * (th - f.air)
	return w
}

// curve returns the travel of the thermostat at t: linear between two points.
func (c *circuit) curve(t float64) float64 {
	return min(max((t-c.opens)/(c.full-c.opens), 0), 1)
}

// opening returns u' = (clamp(u, opening curve, closing curve) − u)/lag.
func (c *circuit) opening(y []float64) float64 {
	u, t := y[c.open], y[c.hot]
	return (min(max(u, c.curve(t)), c.curve(t+c.closing)) - u) / c.lag
}

// bay returns the temperature of the air behind the cores [°C]: outside air, heat
// of the cores, the engine's heat into the bay, and what the metal gives,
//
//	T_b = (C_air·T_a + Q + q_bay + UA_b·T_m)/(C_air + UA_b)
func (m *reduced) bay(f *flying, c, o *flowing, metal float64) float64 {
	air := m.airHeat * (c.air + o.air)
	return (air*f.air + c.out + o.out + m.toBay*m.ratedPower*f.load + m.metalToBay*metal) / (air + m.metalToBay)
}

// derivative writes y' at state y.
func (m *reduced) derivative(_ float64, y, dydt []float64) error {
	f := m.fly(y[altitude])
	c, o := m.flow(&m.coolant, &f, y), m.flow(&m.oil, &f, y)
	heat := m.ratedPower * f.load
	toCoolant := c.contact * (y[metal] - y[coolantHot])
	toOil := o.contact * (y[metal] - y[oilHot])
	toBay := m.metalToBay * (y[metal] - m.bay(&f, &c, &o, y[metal]))

	dydt[metal] = (m.toMetal*heat - toCoolant - toOil - toBay) / m.metalCapacity
	dydt[coolantHot] = (toCoolant + c.capacity*(y[coolantCold]-y[coolantHot])) / m.coolant.hotCapacity
	dydt[coolantCold] = (c.capacity*(y[coolantHot]-y[coolantCold]) - c.out) / m.coolant.coldCapacity
	dydt[oilHot] = (m.toOil*heat + toOil + o.capacity*(y[oilCold]-y[oilHot])) / m.oil.hotCapacity
	dydt[oilCold] = (o.capacity*(y[oilHot]-y[oilCold]) - o.out) / m.oil.coldCapacity
	dydt[coolantOpen] = m.coolant.opening(y)
	dydt[oilOpen] = m.oil.opening(y)
	dydt[altitude] = f.climb
	return nil
}
