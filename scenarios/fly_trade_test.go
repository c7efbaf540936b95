package scenarios_test

import (
	"math"
	"testing"

	"hotclimb/sim"
)

// The facts of this file are what builders tell each other: common practice,
// no source. The bands of half to one and a half times are engineering
// judgement. No number of the scenario was fitted to them beyond choosing sizes
// that such aircraft have.

const highwing = "../testdata/scenarios/highwing.yaml"

// climbed returns the peaks of coolant and oil [°F] in a climb of the slow
// high-wing aircraft.
func climbed(t testing.TB, s ...string) (coolant, oil float64, r *sim.Result) {
	t.Helper()
	r = fly(t, plantOf(t, highwing, "climb", s...), sim.Settings{Sample: 5})
	return r.Peaks[0].Value*1.8 + 32, r.Peaks[1].Value*1.8 + 32, r
}

// about checks that a gain is within half of what practice says.
func about(t testing.TB, what string, got, practice float64) {
	t.Helper()
	t.Logf("%s: %.1f °F, practice says %.0f", what, got, practice)
	if !(got > 0.5*practice && got < 1.5*practice) {
		t.Errorf("%s is worth %.1f °F, practice says %.0f", what, got, practice)
	}
}

var (
	taped = "inlets.cheek_left.area=0 in^2"
	// deeper is the second exchanger with an inlet 2.6 times as large and louvers
	// of the same area that stand up into the stream: their suction and their
	// discharge are at the better end of the usual bands, -0.05 to -0.2 and 0.5
	// to 0.7.
	deeper = set{"inlets.cheek_left.area=12.7 in^2", "exits.side_louvers.pressure_coefficient=-0.2", "exits.side_louvers.discharge=0.65"}
	// gradual is a duct that widens by a full angle of about 20° right up to the
	// core, which keeps it from stalling; usual multipliers are 0.6 to 1.
	gradual = set{"inlets.chin.diffuser.length=18 in", "inlets.chin.diffuser.multiplier=0.8"}
)

// TestSecondExchanger: a second water exchanger with a small round inlet and
// flat shallow louvers is worth about 5 °F in climb over the inlet taped; 2.6
// times the inlet with deeper louvers about 12 °F. What decides: the face and
// rating of a thin heater core, and how much of the pressure is lost in the
// dump behind the small inlet.
func TestSecondExchanger(t *testing.T) {
	without, _, _ := climbed(t, taped)
	small, _, _ := climbed(t)
	large, _, _ := climbed(t, deeper...)
	about(t, "small inlet, flat louvers", without-small, 5)
	about(t, "larger inlet, deeper louvers", without-large, 12)
	rises(t, "coolant", large, small, without)
}

// TestGradualEntry: a gradual instead of an abrupt entry to the main radiator is
// worth about 10 °F. What decides: the velocity ratio of the chin inlet, near
// 0.8, at which the whole dump loss counts.
func TestGradualEntry(t *testing.T) {
	abrupt, _, _ := climbed(t)
	smooth, _, _ := climbed(t, gradual...)
	about(t, "gradual entry", abrupt-smooth, 10)
}

// TestFasterAircraft: at the same power an aircraft that climbs at 120 mph and
// cruises at 150 to 180 mph gets 1.5 to 1.8 times the cooling air of one at 80
// to 90 and 100 to 105. What decides: the speeds; slipstream levels them a
// little in the climb.
func TestFasterAircraft(t *testing.T) {
	climb := func(speed string) *sim.Plant {
		return plantOf(t, highwing, "climb", "flight.legs.climb.rate_of_climb=600 ft/min",
			"flight.legs.climb.throttle=90 %", "flight.legs.climb.speed="+speed)
	}
	cruise := func(speed string) *sim.Plant {
		return plantOf(t, highwing, "cruise", "flight.legs.level.speed="+speed)
	}
	for what, pair := range map[string][2]*sim.Plant{
		"climb": {climb("85 mph"), climb("120 mph")}, "cruise": {cruise("103 mph"), cruise("165 mph")},
	} {
		var air [2]float64
		for i, p := range pair {
			r := fly(t, p, sim.Settings{Sample: 5})
			for _, name := range []string{"radiator", "second", "oil_cooler", "oil_second"} {
				v := channel(t, r, name+"_air_kg_s")
				air[i] += v[len(v)/2]
			}
		}
		ratio := air[1] / air[0]
		t.Logf("%s: %.2f times the air", what, ratio)
		if !(ratio > 1+0.5*0.5 && ratio < 1+1.5*0.8) {
			t.Errorf("%s: %.2f times the air", what, ratio)
		}
	}
}

// TestOilCoolerToWater: an oil cooler moved over to the water side lowers the
// water temperature but makes oil the limit. What decides: how the oil coolers
// were sized.
func TestOilCoolerToWater(t *testing.T) {
	coolant, oil, before := climbed(t)
	coolantAfter, oilAfter, after := climbed(t, "exchangers.oil_second.serves=coolant")
	t.Logf("coolant %.1f to %.1f °F, oil %.1f to %.1f °F", coolant, coolantAfter, oil, oilAfter)
	rises(t, "coolant, falling", -coolant, -coolantAfter)
	rises(t, "oil", oil, oilAfter)
	if !(before.Peaks[0].Margin < before.Peaks[1].Margin && after.Peaks[1].Margin < after.Peaks[0].Margin) {
		t.Errorf("margins of coolant and oil %.1f and %.1f K, then %.1f and %.1f K", before.Peaks[0].Margin,
			before.Peaks[1].Margin, after.Peaks[0].Margin, after.Peaks[1].Margin)
	}
}

// TestRotaryOil: with a rotary in the same aircraft and coolers and an oil pump
// half as large again, oil returns to the engine above the 210 °F that a rotary
// tolerates, though the 245 °F of aircraft piston oil are kept.
func TestRotaryOil(t *testing.T) {
	_, oil, r := climbed(t, "engine.preset=rotary", "oil.sensor=return", "oil.maximum=210 degF", "oil.pump_flow=12 gal/min",
		"exchangers.oil_cooler.rating.heat=13 kW", "exchangers.oil_second.rating.heat=9 kW")
	t.Logf("oil returns at %.1f °F", oil)
	if !(oil > 210 && oil < 245) || r.Status != sim.OverLimit {
		t.Errorf("oil returns at %.1f °F, %s", oil, r.Status)
	}
}

// TestShallowLouvers: flat louvers with a pressure coefficient of about 0 give
// little suction. They pass less air than deeper ones, and none at all with a
// dead inlet, from which deeper ones still draw.
func TestShallowLouvers(t *testing.T) {
	air := func(s ...string) float64 {
		_, _, r := climbed(t, s...)
		v := channel(t, r, "second_air_kg_s")
		return v[len(v)/2]
	}
	shallow, deep := air(), air("exits.side_louvers.pressure_coefficient=-0.2")
	dead := set{"inlets.cheek_left.recovery=0", "inlets.cheek_left.low_flow_loss=0", "inlets.cheek_left.slipstream=0"}
	none, drawn := air(dead...), air(append(dead, "exits.side_louvers.pressure_coefficient=-0.2")...)
	t.Logf("%.3f and %.3f kg/s, from a dead inlet %.5f and %.3f kg/s", shallow, deep, none, drawn)
	if !(deep > 1.05*shallow) || math.Abs(none) > 0.02*shallow || !(drawn > 0.3*shallow) {
		t.Errorf("%g and %g kg/s, from a dead inlet %g and %g kg/s", shallow, deep, none, drawn)
	}
}

// TestVentContaminated: hot air from the louvers ahead gets into the cabin vent;
// with the inlet taped there is none.
func TestVentContaminated(t *testing.T) {
	vent := func(s ...string) float64 {
		_, _, r := climbed(t, s...)
		v, outside := channel(t, r, "cabin_vent_degC"), channel(t, r, "outside_degC")
		return v[len(v)/2] - outside[len(v)/2]
	}
	open, shut := vent(), vent(taped)
	t.Logf("the cabin gets air %.1f K warmer, %.1f K with the inlet taped", open, shut)
	if !(open > 1 && open < 10) || math.Abs(shut) > 0.05 {
		t.Errorf("%g K warmer, %g K with the inlet taped", open, shut)
	}
}
