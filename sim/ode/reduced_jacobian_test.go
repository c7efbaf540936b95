package ode_test

import "math"

// flySlope returns the slopes of flying over altitude.
func (m *reduced) flySlope(f *flying) (d flying) {
	t := f.air + m.kelvin
	standard := t - m.dayOffset
	dp := -m.pressureExponent * m.lapse / standard // p'/p
	dρ := dp + m.lapse/t                           // ρ'/ρ
	σ := f.pressure / (m.gas * m.standardDensity * math.Sqrt(standard*t))
	dσ := σ * (dp + 0.5*m.lapse/standard + 0.5*m.lapse/t)
	d.air = -m.lapse
	d.pressure = f.pressure * dp
	d.density = f.density * dρ
	d.power = m.leg.throttle * m.ratedPower * dσ * (1 + 1/m.frictionLapse)
	dPower := d.power / f.power // P'/P
	d.load = f.load * m.partLoad * dPower
	if f.ratio > m.idleSpeed {
		d.ratio = f.ratio * (dPower - dρ) / 3
	}
	if m.leg.speed == 0 {
		d.thrust = f.thrust * (2*dPower + dρ) / 3
		return d
	}
	d.speed = -0.5 * f.speed * dρ
	d.thrust = f.thrust * (dPower + 0.5*dρ)
	if m.leg.sink == 0 {
		d.climb = d.thrust*f.speed/(m.mass*m.gravity) + f.climb*d.speed/f.speed
	}
	return d
}

// What a circuit depends on: entries of its slopes.
const (
	onHot = iota
	onCold
	onOpen
	onAltitude
	slopes
)

// flowingSlope holds slopes of flowing.
type flowingSlope struct {
	contact  float64         // over altitude
	capacity [slopes]float64 // F
	air      [slopes]float64 // ṁ
	out      [slopes]float64 // Q
}

func (m *reduced) flowSlope(c *circuit, f, df *flying, w *flowing, y []float64) (d flowingSlope) {
	faster, dp := df.ratio/f.ratio, df.pressure/f.pressure
	d.contact = w.contact * c.contactExponent * faster
	d.capacity[onHot] = 0.5 * f.ratio * c.pumpFlow * c.heatSlope
	d.capacity[onCold] = d.capacity[onHot]
	d.capacity[onAltitude] = w.capacity * faster

	// laminar·ṁ + D·ṁ² = rise, differentiated
	th, air := y[c.hot], w.air
	behind := 0.5*(f.air+th) + m.kelvin
	slope, perKelvin := c.laminar+2*w.resistance*air, c.exit*m.gas/f.pressure
	d.air[onHot] = -air * air * 0.5 * perKelvin / slope
	dD := -c.duct*df.density/(f.density*f.density) + perKelvin*(0.5*df.air-behind*dp)
	d.air[onAltitude] = (c.slipstream*df.thrust/m.discArea - air*air*dD) / slope

	ca, cl := m.airHeat*air, w.capacity*w.share
	kCl := 1 - w.e2 - w.e2*w.x                                               // ∂K/∂(F·s)
	kCa := w.e2 * (1 - w.e1 - w.e1*w.ua/ca)                                  // ∂K/∂C_a
	kUA := w.e2 * w.e1                                                       // ∂K/∂UA
	uaAir := w.ua * w.ua / w.uaAir * m.airExponent                           // ∂UA/∂ ln ṁ
	uaLiquid := w.ua * w.ua / w.uaLiquid * m.liquidExponent                  // ∂UA/∂ ln(r·s)
	dShare, dRatio := [slopes]float64{}, [slopes]float64{onAltitude: faster} // s'/s, r'/r
	if u := y[c.open]; u >= 0 && u < 1 {
		dShare[onOpen] = (1 - c.leak) / w.share
	}
	for i := range d.out {
		dCl := d.capacity[i]*w.share + cl*dShare[i]
		dUA := uaAir*d.air[i]/air + uaLiquid*(dRatio[i]+dShare[i])
		d.out[i] = (kCl*dCl + kCa*m.airHeat*d.air[i] + kUA*dUA) * (th - f.air)
	}
	d.out[onHot] += w.k
	d.out[onAltitude] -= w.k * df.air
	return d
}

// openingSlope returns the slopes of opening over u and over t; none where it
// rests between the curves.
func (c *circuit) openingSlope(y []float64) (overU, overT float64) {
	u, goal, closes := y[c.open], c.curve(y[c.hot]), c.curve(y[c.hot]+c.closing)
	if u >= goal {
		if u <= closes {
			return 0, 0
		}
		goal = closes
	}
	if goal > 0 && goal < 1 {
		overT = 1 / ((c.full - c.opens) * c.lag)
	}
	return -1 / c.lag, overT
}

// matrix is a square one, row after row.
type matrix []float64

func (a matrix) at(i, j int) *float64 { return &a[i*reducedStates+j] }

// columns adds to the Jacobian the columns of the states of one circuit, and its
// part of that of altitude.
func (m *reduced) columns(c *circuit, w *flowing, d *flowingSlope, y []float64, dfdy matrix) {
	drop, warmer := y[c.cold]-y[c.hot], y[metal]-y[c.hot]
	for i, on := range c.on() {
		*dfdy.at(c.hot, on) += d.capacity[i] * drop / c.hotCapacity
		*dfdy.at(c.cold, on) -= (d.capacity[i]*drop + d.out[i]) / c.coldCapacity
	}
	*dfdy.at(c.hot, c.hot) -= (w.contact + w.capacity) / c.hotCapacity
	*dfdy.at(c.hot, c.cold) += w.capacity / c.hotCapacity
	*dfdy.at(c.cold, c.hot) += w.capacity / c.coldCapacity
	*dfdy.at(c.cold, c.cold) -= w.capacity / c.coldCapacity
	*dfdy.at(c.hot, metal) += w.contact / c.hotCapacity
	*dfdy.at(c.hot, altitude) += d.contact * warmer / c.hotCapacity
	*dfdy.at(metal, metal) -= w.contact / m.metalCapacity
	*dfdy.at(metal, c.hot) += w.contact / m.metalCapacity
	*dfdy.at(metal, altitude) -= d.contact * warmer / m.metalCapacity
	*dfdy.at(c.open, c.open), *dfdy.at(c.open, c.hot) = c.openingSlope(y)
}

// on returns the states that a circuit depends on, in the order of its slopes.
func (c *circuit) on() [slopes]int { return [slopes]int{c.hot, c.cold, c.open, altitude} }

// bayRow adds to the row of the metal what comes through the air behind the
// cores, T_b = N/(C_air + UA_b):
//
//	T_b' = (N' − T_b·C_air')/(C_air + UA_b)
func (m *reduced) bayRow(c *circuit, f *flying, d *flowingSlope, behind, conductance float64, dfdy matrix) {
	for i, on := range c.on() {
		air := m.airHeat * d.air[i]
		*dfdy.at(metal, on) += m.metalToBay * (air*(f.air-behind) + d.out[i]) / conductance / m.metalCapacity
	}
}

// jacobian writes ∂y'_i/∂y_j to dfdy[i·n + j], exactly; at a kink of a thermostat,
// that of one side.
func (m *reduced) jacobian(_ float64, y, out []float64) error {
	f := m.fly(y[altitude])
	df := m.flySlope(&f)
	c, o := m.flow(&m.coolant, &f, y), m.flow(&m.oil, &f, y)
	dc, do := m.flowSlope(&m.coolant, &f, &df, &c, y), m.flowSlope(&m.oil, &f, &df, &o, y)
	clear(out)
	dfdy := matrix(out)
	m.columns(&m.coolant, &c, &dc, y, dfdy)
	m.columns(&m.oil, &o, &do, y, dfdy)

	behind, air := m.bay(&f, &c, &o, y[metal]), m.airHeat*(c.air+o.air)
	conductance := air + m.metalToBay
	m.bayRow(&m.coolant, &f, &dc, behind, conductance, dfdy)
	m.bayRow(&m.oil, &f, &do, behind, conductance, dfdy)
	heat := m.ratedPower * df.load
	*dfdy.at(metal, metal) -= m.metalToBay * air / conductance / m.metalCapacity
	*dfdy.at(metal, altitude) += (m.toMetal*heat + m.metalToBay*(air*df.air+m.toBay*heat)/conductance) / m.metalCapacity
	*dfdy.at(oilHot, altitude) += m.toOil * heat / m.oil.hotCapacity
	*dfdy.at(altitude, altitude) = df.climb
	return nil
}
