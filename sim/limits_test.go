package sim_test

import (
	"math"
	"testing"

	"hotclimb/sim"
)

// cowled is a rig of a usual size of cowl: the air warms up, its density
// falls, and cores and exit throttle it.
func cowled() rig {
	r := whole
	r.opening, r.toBay = 0.05, 0
	return r
}

// TestSteadyBalance: after long level flight all heat leaves through the
// exchangers, and the plate only moves it.
func TestSteadyBalance(t *testing.T) {
	r := cowled()
	res := run(t, r.build(t), tight(3600))
	given := at(t, res, "heat_to_metal_W", 7200) + at(t, res, "heat_to_oil_W", 7200)
	radiator, cooler := at(t, res, "radiator_heat_W", 7200), at(t, res, "cooler_heat_W", 7200)
	near(t, "given off", given, r.heat+r.oilHeat, 1e-9*given)
	near(t, "carried away", (radiator+cooler)/given, 1, 1e-6)
	if plate := at(t, res, "plate_heat_W", 7200); !(math.Abs(plate) > 500) {
		t.Errorf("the plate moves %g W, too little for this test", plate)
	}
	if rise := at(t, res, "cowl_degC", 7200) - outside; !(rise > 10) {
		t.Errorf("the cowl air is warmed by %g K, too little for this test", rise)
	}
	// The air takes it: Σ ṁ·cp·ΔT through the one exit.
	air := at(t, res, "exit_air_kg_s", 7200) * 1006 * (at(t, res, "cowl_degC", 7200) - outside)
	near(t, "in the air", air/given, 1, 1e-6)
}

// TestSettledEqualsLong: a settled start is where hours of level flight end.
func TestSettledEqualsLong(t *testing.T) {
	long := run(t, cowled().build(t), tight(3600))
	p := cowled().build(t)
	p.Start = sim.Start{Settled: true}
	p.Legs[0].Duration = 60
	settled := run(t, p, tight(60))
	for _, c := range temperatures {
		near(t, c, at(t, settled, c, 0), at(t, long, c, 7200), 0.02)
		if rate := (at(t, settled, c, 60) - at(t, settled, c, 0)) / 60; !(math.Abs(rate) < 1e-4) {
			t.Errorf("%s changes by %g K/s after a settled start", c, rate)
		}
	}
}

// TestFastCoolant: coolant that flows without bound has one temperature, and a
// slower flow a difference of Q/F.
func TestFastCoolant(t *testing.T) {
	for _, flow := range []float64{1e3, 1e4, 1e6, 1e9} {
		r := cowled()
		r.flow, r.plate, r.toOil = flow, 0, 0
		res := run(t, r.build(t), tight(3600))
		difference := at(t, res, "coolant_out_degC", 7200) - at(t, res, "coolant_in_degC", 7200)
		near(t, "difference over Q/F", difference*flow/r.heat, 1, 1e-4)
	}
}

// TestNoAir: with no air through the cowl, whether it is shut or stands still,
// the whole plant warms up at (q_m + q_o)/ΣC.
func TestNoAir(t *testing.T) {
	for name, still := range map[string]func(p *sim.Plant){
		"shut inlet": func(p *sim.Plant) { p.Air.Branches[0].Inlet.Area = 0 },
		"shut cowl":  func(p *sim.Plant) { p.Air.Branches[0].Inlet.Area, p.Air.Branches[1].Exit.Area = 0, 0 },
		"no speed":   func(p *sim.Plant) { p.Legs[0].Speed = 0 },
	} {
		r := cowled()
		r.duration = 120
		p := r.build(t)
		still(p)
		res := run(t, p, tight(30))
		want := (r.heat + r.oilHeat) / (r.metal + r.coolant + r.oil)
		for _, c := range temperatures {
			rate := (at(t, res, c, 120) - at(t, res, c, 90)) / 30
			near(t, name+": rate of "+c, rate/want, 1, 5e-3)
		}
		stored := 0.0
		for i, c := range temperatures {
			stored += r.capacities()[i] * (at(t, res, c, 120) - at(t, res, c, 0))
		}
		near(t, name+": stored over given", stored/(120*(r.heat+r.oilHeat)), 1, 1e-4)
	}
}

// TestCapacityIsTime: twice the heat capacities is half the pace, to the same
// end.
func TestCapacityIsTime(t *testing.T) {
	r := cowled()
	slow := r
	slow.metal, slow.coolant, slow.oil = 2*r.metal, 2*r.coolant, 2*r.oil
	slow.duration = 2 * r.duration
	a, b := run(t, r.build(t), tight(30)), run(t, slow.build(t), tight(30))
	for _, c := range temperatures {
		for _, time := range []float64{30, 60, 120, 600, 7200} {
			near(t, c, at(t, b, c, 2*time), at(t, a, c, time), 1e-5)
		}
	}
}

// TestLinearInDifference: where air and liquids do not change with
// temperature, heat is proportional to the initial temperature difference,
// and steady temperatures are to the heat.
func TestLinearInDifference(t *testing.T) {
	heat := func(difference float64) (radiator, cooler float64) {
		r := whole
		r.plate, r.duration = 0, 1
		r.start, r.oilStart = outside+difference, outside+difference
		res := run(t, r.build(t), tight(1))
		return at(t, res, "radiator_heat_W", 0), at(t, res, "cooler_heat_W", 0)
	}
	q1, o1 := heat(30)
	q2, o2 := heat(75)
	near(t, "radiator", q2/q1, 2.5, 1e-7)
	near(t, "oil cooler", o2/o1, 2.5, 1e-7)

	once, twice := whole, whole
	twice.heat, twice.oilHeat = 2*once.heat, 2*once.oilHeat
	a, b := run(t, once.build(t), tight(7200)), run(t, twice.build(t), tight(7200))
	for _, c := range temperatures {
		near(t, c, (at(t, b, c, 7200)-outside)/(at(t, a, c, 7200)-outside), 2, 1e-6)
	}
}

// TestSettledStarts: the temperatures of the built-in cruises come to rest before the
// flight, and stay there.
func TestSettledStarts(t *testing.T) {
	for _, file := range []string{"tug", "rotary", "seaplane"} {
		r := run(t, builtIn(t, file, "cruise"), sim.Settings{Sample: 60})
		if len(r.Warnings) > 0 {
			t.Errorf("%s: %q", file, r.Warnings)
		}
		for _, channel := range []string{"coolant_out_degC", "oil_sump_degC", "metal_degC"} {
			first := r.Trajectory.Find(channel).Values[0]
			near(t, file+" "+channel+" after ten minutes", at(t, r, channel, 600), first, 1e-3)
		}
	}
}
