package scenarios_test

import (
	"testing"

	"hotclimb/sim"
)

// open takes the thermostat out of the way.
var open = set{"coolant.thermostat.opens=10 degC", "coolant.thermostat.full=20 degC"}

// moment is a settled cruise: its air through the cores [kg/s], the pressure
// of its cowl [Pa], coolant and oil at their sensors [°C], cooling drag [N].
type moment struct {
	air, pressure, coolant, oil, drag float64
	result                            *sim.Result
}

// cowls are the compartments of the built-in scenarios, exits a path of their
// exits with a small, the usual and a large size, inlets those of the radiators.
var (
	cowls = map[string]string{"tug": "cowl", "rotary": "cowl", "seaplane": "nacelle"}
	exits = map[string][4]string{
		"tug":      {"exits.belly.height", "6 in", "8 in", "10 in"},
		"rotary":   {"exits.aft_ring.area", "65 in^2", "80 in^2", "100 in^2"},
		"seaplane": {"exits.gills_left.height", "0.8 in", "1.3 in", "1.9 in"},
	}
	inlets = map[string][4]string{
		"tug":      {"inlets.chin.height", "4.5 in", "5.6 in", "7 in"},
		"rotary":   {"inlets.armpit_left.width", "8 in", "10 in", "12 in"},
		"seaplane": {"inlets.nose_ring.area", "70 in^2", "82 in^2", "100 in^2"},
	}
)

// cruising returns the cruise of a built-in scenario with settings.
func cruising(t testing.TB, file string, s ...string) moment {
	t.Helper()
	p := plantOf(t, file, "cruise", append(append(set{}, open...), s...)...)
	p.Legs[0].Duration = 1
	r := fly(t, p, sim.Settings{Sample: 1})
	at := func(name string) float64 { return channel(t, r, name)[0] }
	m := moment{
		pressure: at(cowls[file] + "_Pa"), coolant: r.Peaks[0].Value, oil: r.Peaks[1].Value,
		drag: at("cooling_drag_N"), result: r,
	}
	for _, e := range p.Exchangers {
		if e.Branch != sim.NoBranch {
			m.air += at(e.Name + "_air_kg_s")
		}
	}
	return m
}

// rises checks that numbers grow, by more than rounding.
func rises(t *testing.T, what string, x ...float64) {
	t.Helper()
	for i := 1; i < len(x); i++ {
		if !(x[i] > x[i-1]+1e-6) {
			t.Errorf("%s: %.6g, then %.6g", what, x[i-1], x[i])
		}
	}
}

// TestLargerExit: more air, less cowl pressure, cooler, more drag.
func TestLargerExit(t *testing.T) {
	for file, size := range exits {
		var m [3]moment
		for i := range m {
			m[i] = cruising(t, file, size[0]+"="+size[i+1])
		}
		rises(t, file+": air", m[0].air, m[1].air, m[2].air)
		rises(t, file+": cowl pressure, falling", -m[0].pressure, -m[1].pressure, -m[2].pressure)
		rises(t, file+": coolant, falling", -m[0].coolant, -m[1].coolant, -m[2].coolant)
		rises(t, file+": oil, falling", -m[0].oil, -m[1].oil, -m[2].oil)
		rises(t, file+": drag", m[0].drag, m[1].drag, m[2].drag)
	}
}

// TestLargerInlet: a larger inlet of the radiator cools the coolant and raises
// the pressure of the cowl.
func TestLargerInlet(t *testing.T) {
	for file, size := range inlets {
		var m [3]moment
		for i := range m {
			m[i] = cruising(t, file, size[0]+"="+size[i+1])
		}
		rises(t, file+": air", m[0].air, m[1].air, m[2].air)
		rises(t, file+": cowl pressure", m[0].pressure, m[1].pressure, m[2].pressure)
		rises(t, file+": coolant, falling", -m[0].coolant, -m[1].coolant, -m[2].coolant)
	}
}

// TestHotterDay: temperatures follow the outside air about degree for degree.
// From 60 to 100 °F the air gets 7 % thinner: the flow falls with it and the
// conductance of the cores by 4 or 5 %, while an unboosted engine gives 3 % less
// heat and a boosted one no less. Over some 50 K between coolant and air that is
// a degree or two more, or less, than the 22 K of the day: within a tenth.
func TestHotterDay(t *testing.T) {
	for _, file := range builtIns {
		cool := cruising(t, file, "day.temperature=60 degF")
		hot := cruising(t, file, "day.temperature=100 degF")
		const warmer = 40 / 1.8
		for what, rise := range map[string]float64{"coolant": hot.coolant - cool.coolant, "oil": hot.oil - cool.oil} {
			t.Logf("%s: %s by %.2f of the day", file, what, rise/warmer)
			if share := rise / warmer; !(share > 0.9 && share < 1.1) {
				t.Errorf("%s: %s warms by %.2f of the day", file, what, share)
			}
		}
	}
}

// TestRegulationHotDay: the same standard by name and by the temperature that
// 14 CFR 23.1043(b) gives at the field, 100 °F less 3.6 °F per 1000 ft.
func TestRegulationHotDay(t *testing.T) {
	named := flown(t, "seaplane", "hot_climb", "day.hot_day=part_23")
	if got, want := named.Worst.Outside, (100-3.6*named.Worst.Altitude/304.8-32)/1.8; got < want-0.05 || got > want+0.05 {
		t.Errorf("%g °C outside at %g m, want %g", got, named.Worst.Altitude, want)
	}
	hotter := flown(t, "seaplane", "hot_climb", "day.hot_day=cs_22")
	mild := flown(t, "seaplane", "hot_climb", "day.isa_offset=0 K")
	rises(t, "coolant", mild.Peaks[0].Value, min(named.Peaks[0].Value, hotter.Peaks[0].Value))
}

// TestDrawsBack: exit air drawn into an inlet warms everything behind it.
func TestDrawsBack(t *testing.T) {
	names := map[string]string{"tug": "chin", "rotary": "armpit_left", "seaplane": "nose_ring"}
	for file, inlet := range names {
		var m [3]moment
		for i, share := range []string{"0", "0.2", "0.5"} {
			m[i] = cruising(t, file, "inlets."+inlet+".draws_back="+share)
		}
		rises(t, file+": coolant", m[0].coolant, m[1].coolant, m[2].coolant)
	}
}

// TestPumpFlow: more coolant flow brings its hot and cold legs together and
// lowers the hot one.
func TestPumpFlow(t *testing.T) {
	for _, file := range builtIns {
		var hot, spread []float64
		for _, flow := range []string{"25 gal/min", "45 gal/min", "90 gal/min"} {
			m := cruising(t, file, "coolant.pump_flow="+flow)
			out := channel(t, m.result, "coolant_out_degC")[0]
			hot = append(hot, -out)
			spread = append(spread, channel(t, m.result, "coolant_in_degC")[0]-out)
		}
		rises(t, file+": coolant out, falling", hot...)
		rises(t, file+": difference, falling", spread...)
	}
}

// TestVents: a cabin vent behind an exit takes in its share of the hot air.
func TestVents(t *testing.T) {
	for share, want := range map[string]float64{"0": 0, "0.04": 0.04, "0.5": 0.5} {
		r := cruising(t, "tug", "vents.cabin.share="+share).result
		vent, cowl := channel(t, r, "cabin_vent_degC")[0], channel(t, r, "cowl_degC")[0]
		outside := channel(t, r, "outside_degC")[0]
		if got := (vent - outside) / (cowl - outside); got < want-1e-9 || got > want+1e-9 {
			t.Errorf("the vent takes in %g of the cowl air, want %g", got, want)
		}
	}
	// With the wind from behind the exit takes air in, and the vent gets none of it.
	r := traced(t, "tug", "hot_taxi", "vents.cabin.share=0.5", "day.wind=-25 mph")
	vent, outside := channel(t, r, "cabin_vent_degC"), channel(t, r, "outside_degC")
	for i, flow := range channel(t, r, "belly_air_kg_s") {
		if flow < 0 && vent[i] != outside[i] {
			t.Fatalf("%g °C in the vent, %g °C outside", vent[i], outside[i])
		}
	}
}
