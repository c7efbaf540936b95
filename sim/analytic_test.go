package sim_test

import (
	"fmt"
	"math"
	"testing"

	"hotclimb/sim"
)

// TestOneNode: a mass of 50 kJ/K that loses 1000 W/K to the cowl takes a step of
// 50 kW: ΔT = 50·(1 − e^(−t/50 s)), analytic.
func TestOneNode(t *testing.T) {
	p := rig{
		metal: 50e3, coolant: 1e4, oil: 1e4, heat: 50e3, toBay: 1000, flow: 1e3, oilFlow: 1e3,
		start: outside, oilStart: outside, opening: wide, duration: 200,
	}.build(t)
	r := run(t, p, tight(25))
	for time, rise := range map[float64]float64{25: 19.673467, 50: 31.606028, 100: 43.233236, 200: 49.084218} {
		near(t, fmt.Sprintf("rise after %g s", time), at(t, r, "metal_degC", time)-outside, rise, 1e-5)
	}
}

// TestTwoNodes: 70 kW into a metal of 46 750 J/K, 3000 W/K to a coolant of
// 26 000 J/K, 1000 W/K from there to air of 35 °C: steady 128.33333 and
// 105.0 °C; numbers by matrix exponential. A coolant that flows without bound
// is one node.
func TestTwoNodes(t *testing.T) {
	for _, method := range []sim.Method{sim.Stiff, sim.LStable} {
		p := rig{
			metal: 46750, coolant: 26000, oil: 1e4, heat: 70e3, toCoolant: 3000, radiator: 1000, flow: 1e11, oilFlow: 1e3,
			start: outside, oilStart: outside, opening: wide, duration: 3600,
		}.build(t)
		r := run(t, p, sim.Settings{Sample: 10, RelTol: 1e-8, Method: method})
		for _, want := range []struct{ time, metal, coolant, tol float64 }{
			{10, 47.02150, 39.61984, 1e-5},
			{60, 83.79823, 68.77837, 1e-5},
			{300, 125.82070, 102.95640, 1e-5},
			{3600, 35 + 70 + 70.0/3, 105, 1e-5}, // 43 time constants
		} {
			what := fmt.Sprintf("method %d, %g s, ", method, want.time)
			near(t, what+"metal", at(t, r, "metal_degC", want.time), want.metal, want.tol)
			near(t, what+"hot coolant", at(t, r, "coolant_out_degC", want.time), want.coolant, want.tol)
			near(t, what+"cold coolant", at(t, r, "coolant_in_degC", want.time), want.coolant, want.tol)
		}
	}
}

// whole is a rig in which everything exchanges heat with everything.
var whole = rig{
	metal: 45e3, coolant: 24e3, oil: 9e3, heat: 70e3, oilHeat: 9e3,
	toCoolant: 3000, toOil: 250, toBay: 15, flow: 6000, oilFlow: 1200,
	radiator: 1400, cooler: 260, plate: 180, start: 70, oilStart: 60, opening: wide, duration: 7200,
}

// linear returns A and b of T' = A·T + b of a rig, written down from the heat
// balances of its five masses: metal, hot and cold coolant, oil in the sump
// and returning. Air without bound makes K = F·(1 − e^(−UA/F)) of a core, and
// the plate is in counterflow.
func (r rig) linear() (a [5][5]float64, b [5]float64) {
	core := func(ua, f float64) float64 {
		if ua == 0 {
			return 0
		}
		return f * (1 - math.Exp(-ua/f))
	}
	through := r.oilFlow
	if r.oilShare > 0 {
		through *= r.oilShare
	}
	kr, kc, kp := core(r.radiator, r.flow), core(r.cooler, through), 0.0
	if r.plate > 0 {
		ratio := through / r.flow
		e := math.Exp(-r.plate / through * (1 - ratio))
		kp = through * (1 - e) / (1 - ratio*e)
	}
	c := r.capacities()
	// The plate stands behind the cooler: T_in = T_o − kc·(T_o − T_a)/F_o.
	behind := 1 - kc/through
	a = [5][5]float64{
		{-r.toCoolant - r.toOil - r.toBay, r.toCoolant, 0, r.toOil, 0},
		{r.toCoolant, -r.toCoolant - r.flow, r.flow, 0, 0},
		{0, r.flow - kr, -r.flow - kp, kp * behind, 0},
		{r.toOil, 0, 0, -r.toOil - r.oilFlow, r.oilFlow},
		{0, 0, kp, r.oilFlow - kc - kp*behind, -r.oilFlow},
	}
	b = [5]float64{
		r.heat + r.toBay*outside, 0, kr*outside + kp*kc/through*outside,
		r.oilHeat, kc*outside - kp*kc/through*outside,
	}
	for i := range c {
		for j := range c {
			a[i][j] /= c[i]
		}
		b[i] /= c[i]
	}
	return a, b
}

// capacities returns those of the five masses [J/K].
func (r rig) capacities() [5]float64 {
	const cold = 1 - hotPart
	return [5]float64{r.metal, hotPart * r.coolant, cold * r.coolant, hotPart * r.oil, cold * r.oil}
}

// exact returns the temperatures of a rig after a time [s].
func (r rig) exact(time float64) [5]float64 {
	a, b := r.linear()
	var m matrix // of the state and a constant 1
	for i := range a {
		copy(m[i][:], a[i][:])
		m[i][5] = b[i]
	}
	e := m.scaled(time).exponential()
	y := [6]float64{r.start, r.start, r.start, r.oilStart, r.oilStart, 1}
	var out [5]float64
	for i := range out {
		for j, v := range y {
			out[i] += e[i][j] * v
		}
	}
	return out
}

// temperatures are the channels of the five masses, in the order of exact.
var temperatures = []string{"metal_degC", "coolant_out_degC", "coolant_in_degC", "oil_sump_degC", "oil_in_degC"}

// TestBalances: the whole loop model against the matrix exponential of its
// linear system.
func TestBalances(t *testing.T) {
	rigs := map[string]rig{"whole": whole}
	bare := whole
	bare.plate, bare.toBay = 0, 0
	rigs["without plate and bay"] = bare
	hot := whole
	hot.oilHeat, hot.plate, hot.flow = 25e3, 900, 3000
	rigs["hot oil, slow coolant"] = hot
	stuck := whole
	stuck.oilShare = 0.4
	rigs["stuck oil thermostat"] = stuck
	for name, r := range rigs {
		r.duration = 1200
		got := run(t, r.build(t), tight(5))
		worst := 0.0
		for _, time := range []float64{5, 10, 30, 60, 120, 300, 600, 1200} {
			want := r.exact(time)
			for i, channel := range temperatures {
				v := at(t, got, channel, time)
				worst = math.Max(worst, math.Abs(v-want[i]))
				near(t, fmt.Sprintf("%s: %s after %g s", name, channel, time), v, want[i], 1e-5)
			}
		}
		t.Logf("%s: within %.1e K", name, worst)
	}
}
