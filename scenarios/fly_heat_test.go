package scenarios_test

import (
	"math"
	"slices"
	"testing"

	"hotclimb/sim"
)

// afterwards is a climb, a short taxi in and a shut-down.
var afterwards = legs("",
	"name: climb, kind: climb, speed: 70 mph, for: 6 min",
	"name: in, kind: taxi, speed: 5 mph, throttle: 8 %, for: 10 s",
	"name: soak, kind: shut_down, for: 60 min")

// TestHeatSoak: after shut-down a mechanical pump stands still; the hot metal
// warms the coolant in the jackets, then all of it cools down. An electric pump
// goes on and keeps metal and coolant together.
func TestHeatSoak(t *testing.T) {
	for _, pump := range []string{"mechanical", "electric"} {
		p := variant(t, "tug", afterwards, "test", "coolant.pump="+pump, "day.wind=8 mph")
		r := fly(t, p, sim.Settings{Sample: 1})
		soak := span(t, r, "soak")
		from := int(soak.Start) + 1
		hot, metal := channel(t, r, "coolant_out_degC")[from:], channel(t, r, "metal_degC")[from:]
		heat, outside := channel(t, r, "heat_from_coolant_W")[from+2:], channel(t, r, "outside_degC")[from]
		highest := slices.Max(hot)
		t.Logf("%s: metal %.1f, coolant %.1f, up to %.1f and down to %.1f °C", pump, metal[0], hot[0], highest, hot[len(hot)-1])
		if end := hot[len(hot)-1]; !(end < hot[0]-3 && end > outside) {
			t.Errorf("%s: from %g to %g °C in an hour", pump, hot[0], end)
		}
		flows := slices.Max(heat) > 100
		if pump == "electric" {
			if gap := metal[60] - hot[60]; !flows || !(gap > 0 && gap < 3) {
				t.Errorf("metal and coolant are %g K apart a minute after shut-down, heat %g W", gap, slices.Max(heat))
			}
			continue
		}
		if flows || !(highest > hot[0]+1) || !slices.IsSortedFunc(hot[1200:], func(a, b float64) int { return int(math.Copysign(1, b-a)) }) {
			t.Errorf("%g W out of coolant at rest; %g °C, then up to %g", slices.Max(heat), hot[0], highest)
		}
	}
}

// TestThermostat: shut when cold, so that the cores give next to nothing; open
// when hot; it closes later than it opens.
func TestThermostat(t *testing.T) {
	overlay := legs("ambient",
		"name: idle, kind: idle, throttle: 6 %, for: 1 min",
		"name: climb, kind: climb, speed: 70 mph, for: 8 min",
		"name: glide, kind: descend, speed: 80 mph, throttle: 3 %, rate_of_climb: -400 ft/min, for: 8 min")
	p := variant(t, "tug", overlay, "test", "day.temperature=60 degF", "coolant.thermostat.lag=2 s", "coolant.thermostat.leak=0")
	r := fly(t, p, sim.Settings{Sample: 1})
	opening, hot := channel(t, r, "coolant_thermostat"), channel(t, r, "coolant_out_degC")
	heat := channel(t, r, "heat_from_coolant_W")
	th := p.Coolant.Thermostat
	half := map[bool]float64{} // temperature at half opening, rising or falling
	for i := range opening {
		if hot[i] < th.Opens && opening[i] < 1e-9 && math.Abs(heat[i]) > 1 {
			t.Fatalf("%g W at %g °C with the thermostat shut", heat[i], hot[i])
		}
		if i > 0 && (opening[i]-0.5)*(opening[i-1]-0.5) < 0 {
			half[opening[i] > 0.5] = hot[i]
		}
	}
	t.Logf("half open at %.1f °C, half shut at %.1f °C", half[true], half[false])
	if opening[0] != 0 || half[true] == 0 || half[false] == 0 {
		t.Fatalf("opening %g at the start, half open at %v °C", opening[0], half)
	}
	if d := half[true] - half[false]; !(d > th.Closing-0.5 && d < th.Closing+3) {
		t.Errorf("half open at %g °C, half shut at %g °C, a hysteresis of %g K", half[true], half[false], th.Closing)
	}
	var names []string
	for _, e := range r.Events {
		names = append(names, e.What)
	}
	if !slices.Contains(names, "coolant thermostat starts to open") {
		t.Errorf("events %q", names)
	}
}

// TestBoiling: at the same coolant temperature the margin to boiling falls with
// altitude and rises with the cap; a small one is told.
func TestBoiling(t *testing.T) {
	margin := func(elevation, cap string) (float64, *sim.Result) {
		r := flown(t, "tug", "hot_taxi", "day.elevation="+elevation, "day.temperature=95 degF", "coolant.cap_pressure="+cap)
		return r.BoilMargin + r.Peaks[0].Value, r
	}
	low, _ := margin("0 ft", "16 psi")
	mid, calm := margin("4000 ft", "16 psi")
	high, near := margin("8000 ft", "3 psi")
	rises(t, "boiling point, falling", -low, -mid, -high)
	notWarned(t, calm, "boil")
	warned(t, near, "boil")

	// The start counts.
	hot := flown(t, "tug", "cruise", "flight.start_coolant=250 degF", "flight.start_oil=200 degF")
	cold := flown(t, "tug", "cruise", "flight.start_coolant=240 degF", "flight.start_oil=200 degF")
	if d := cold.BoilMargin - hot.BoilMargin; math.Abs(d-10/1.8) > 1e-9 {
		t.Errorf("10 °F at the start change the margin by %g K", d)
	}

	// Its boiling point is that of the mixture at the outside pressure and the cap.
	r := traced(t, "tug", "hot_taxi")
	boil, out := channel(t, r, "boil_degC"), channel(t, r, "coolant_out_degC")
	least := math.Inf(1)
	for i := range boil {
		least = math.Min(least, boil[i]-out[i])
	}
	if d := least - r.BoilMargin; !(d >= -1e-9 && d < 0.05) {
		t.Errorf("margin %g K, sampled %g K", r.BoilMargin, least)
	}
}

// TestRunaway: a climb without cooling breaks off near the bounds of the model.
func TestRunaway(t *testing.T) {
	r := traced(t, "tug", "hot_tow", "inlets.chin.height=0.3 in")
	warned(t, r, "the flight breaks off in leg tow")
	warned(t, r, "boil")
	hot := channel(t, r, "coolant_out_degC")
	if end := hot[len(hot)-1]; math.Abs(end-160) > 0.01 || r.Status != sim.OverLimit {
		t.Errorf("ends at %g °C %s", end, r.Status)
	}
	if n := len(r.Legs); r.Legs[n-1].Name != "tow" || r.Incomplete != "tow" {
		t.Errorf("%v, incomplete from leg %q", r.Legs, r.Incomplete)
	}
	if p := r.Peaks[0]; !p.Exceeded || !(p.TimeToLimit > 100 && p.TimeToLimit < p.Time) {
		t.Errorf("%+v", p)
	}
}

// TestReversedCore: a strong inlet beside a weak one and a small exit push cowl
// air out through the core of the weak one.
func TestReversedCore(t *testing.T) {
	s := set{"inlets.chin.slipstream=1", "inlets.chin.recovery=1", "inlets.chin.low_flow_loss=0", "inlets.chin.height=12 in",
		"inlets.cheek_left.recovery=0.1", "inlets.cheek_left.slipstream=0", "exits.belly.height=3 in"}
	r := flown(t, "tug", "hot_tow", s...)
	warned(t, r, "air flows backwards through auxiliary at the peak")
	for _, e := range r.Exchangers {
		if e.Name == "auxiliary" && !e.Reversed || e.Name == "radiator" && e.Reversed {
			t.Errorf("%+v", e)
		}
	}
}

// TestLimitTime: the time to the limit is where the trajectory passes it, and
// the time at the start when it starts above.
func TestLimitTime(t *testing.T) {
	r := traced(t, "rotary", "hot_climb")
	p := r.Peaks[1]
	v, times := channel(t, r, "oil_in_degC"), channel(t, r, "time_s")
	i := slices.IndexFunc(v, func(x float64) bool { return x > p.Limit })
	if !p.Exceeded || i < 1 || !(times[i-1] <= p.TimeToLimit && p.TimeToLimit <= times[i]) {
		t.Errorf("%+v, sampled at %g s", p, times[max(i, 0)])
	}
	over := flown(t, "rotary", "hot_climb", "flight.start_oil=230 degF")
	if p := over.Peaks[1]; !p.Exceeded || p.TimeToLimit != 0 {
		t.Errorf("%+v", p)
	}
}

// TestReferenceEngine: light-aircraft engine manual, 84.5 kW with liquid heads
// and air-cooled barrels: 30 kW to the coolant, 9 kW to the oil, 6 kW from the
// barrels. Settled at full power on a hot day, coolant and oil at their working
// temperatures, the coolers of a whole plant take that within 20 %: what the
// metal passes on to oil and cowl must leave the shares of the manual standing.
func TestReferenceEngine(t *testing.T) {
	overlay := `
day: {elevation: 0 m, temperature: 30 degC}
engine: {rated_power: 84.5 kW, heat_to_coolant: 0.355, heat_to_oil: 0.107, heat_to_bay: 0.071}
` + legs("settled", "name: level, kind: level, speed: 90 mph, throttle: 100 %, for: 1 s")
	p := variant(t, "tug", overlay, "test", "exchangers.oil_cooler.open_share=0.35")
	p.Engine.Boosted, p.Engine.CriticalDensity = true, 0.1 // its full power on that day
	r := fly(t, p, sim.Settings{})
	if oil := r.Peaks[1].Value; !(oil > 90 && oil < 110) {
		t.Fatalf("oil at %.1f °C", oil)
	}
	w := r.Worst
	t.Logf("%.1f kW at %.1f °C, %.1f kW at %.1f °C", w.CoolantHeat/1e3, r.Peaks[0].Value, w.OilHeat/1e3, r.Peaks[1].Value)
	if math.Abs(w.CoolantHeat/30e3-1) > 0.2 || math.Abs(w.OilHeat/9e3-1) > 0.2 {
		t.Errorf("%.1f kW from the coolant and %.1f kW from the oil", w.CoolantHeat/1e3, w.OilHeat/1e3)
	}
}
