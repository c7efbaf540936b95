package scenarios_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"hotclimb/sim"
	"hotclimb/sim/flight"
)

// TestClosedInlet: a shut inlet, a taped core, or both run; the core behind
// gets no outside air and gives next to no heat.
func TestClosedInlet(t *testing.T) {
	for name, s := range map[string]set{
		"inlet":  {"inlets.cheek_left.area=0 in^2"},
		"core":   {"exchangers.auxiliary.open_share=0"},
		"both":   {"inlets.cheek_left.area=0 in^2", "exchangers.auxiliary.open_share=0"},
		"widths": {"inlets.cheek_left.width=0 in", "inlets.cheek_left.height=3 in"},
	} {
		usual, shut := traced(t, "tug", "hot_tow"), traced(t, "tug", "hot_tow", s...)
		heat := slices.Max(channel(t, shut, "auxiliary_heat_W"))
		if before := slices.Max(channel(t, usual, "auxiliary_heat_W")); !(before > 5e3) || !(heat < 0.01*before) {
			t.Errorf("%s: %g W through the core, %g W before", name, heat, before)
		}
		rises(t, name+": coolant", usual.Peaks[0].Value, shut.Peaks[0].Value)
	}
	// All of them shut: it breaks off, with a clear word.
	r := flown(t, "tug", "hot_tow", "inlets.chin.height=0 in", "inlets.cheek_left.area=0 in^2", "inlets.cheek_right.area=0 in^2", "exits.belly.height=0 in")
	warned(t, r, "the flight breaks off in leg")
	if last := r.Legs[len(r.Legs)-1]; last.Name == "down" || r.Status != sim.OverLimit {
		t.Errorf("%v in leg %s", r.Status, last.Name)
	}
}

// warned checks that one warning holds a text.
func warned(t testing.TB, r *sim.Result, text string) {
	t.Helper()
	if !slices.ContainsFunc(r.Warnings, func(w string) bool { return strings.Contains(w, text) }) {
		t.Errorf("no warning that %q, but %q", text, r.Warnings)
	}
}

func notWarned(t testing.TB, r *sim.Result, text string) {
	t.Helper()
	if slices.ContainsFunc(r.Warnings, func(w string) bool { return strings.Contains(w, text) }) {
		t.Errorf("%q", r.Warnings)
	}
}

// TestTapedShare: with a share of the face taped over, heat falls all the way.
func TestTapedShare(t *testing.T) {
	var coolant []float64
	for _, share := range []string{"1", "0.8", "0.5", "0.2"} {
		coolant = append(coolant, cruising(t, "tug", "exchangers.radiator.open_share="+share).coolant)
	}
	rises(t, "coolant", coolant...)

	// Half a face is half a core: half of both sides, the same drop at half the flow.
	whole, half := plantOf(t, "tug", "cruise"), plantOf(t, "tug", "cruise", "exchangers.radiator.open_share=0.5")
	for i, e := range whole.Exchangers {
		if e.Name != "radiator" {
			continue
		}
		a, b := e.Core, half.Exchangers[i].Core
		nearly(t, "air side", b.Air.At(0.5, 50), a.Air.At(1, 50)/2, 1e-12)
		nearly(t, "liquid side", b.Liquid.At(1.5, 90), a.Liquid.At(1.5, 90)/2, 1e-12)
		one, _ := a.PressureDrop(1, 1.1, 1.0, 2e-5)
		other, _ := b.PressureDrop(0.5, 1.1, 1.0, 2e-5)
		nearly(t, "drop", other, one, 1e-12)
	}
}

// TestWind: on the ground the air comes with the wind; from behind, faster than
// the aircraft rolls, it goes through the cores backwards unless the propeller
// holds it.
func TestWind(t *testing.T) {
	still := set{"inlets.chin.slipstream=0", "inlets.cheek_left.slipstream=0", "inlets.cheek_right.slipstream=0"}
	radiator := func(wind string, s ...string) (first float64, r *sim.Result) {
		r = traced(t, "tug", "hot_taxi", append(s, "day.wind="+wind)...)
		return channel(t, r, "radiator_air_kg_s")[0], r
	}
	against, _ := radiator("15 mph", still...)
	calm, _ := radiator("0 mph", still...)
	behind, r := radiator("-15 mph", still...)
	if !(against > 0.05 && behind < -0.05 && math.Abs(calm) < 0.05) {
		t.Errorf("%g, %g and %g kg/s", against, calm, behind)
	}
	warned(t, r, "air flows backwards through radiator")
	blown, _ := radiator("-15 mph", "inlets.chin.slipstream=0.6")
	rises(t, "air with the propeller's help", behind, blown)

	speed := channel(t, r, "true_airspeed_m_s")
	if want := -15 * 0.44704; math.Abs(speed[0]-want) > 1e-9 {
		t.Errorf("%g m/s standing in a wind of %g m/s", speed[0], want)
	}
}

// TestPusherSuction: on the ground a propeller behind the exit draws the air.
func TestPusherSuction(t *testing.T) {
	var air []float64
	for _, suction := range []string{"0", "0.1", "0.25", "0.5"} {
		r := traced(t, "rotary", "hot_taxi", "exits.aft_ring.propeller_suction="+suction)
		air = append(air, channel(t, r, "radiator_air_kg_s")[30])
	}
	rises(t, "air while waiting", air...)
}

// TestServes: a cooler moved over takes heat out of the other circuit.
func TestServes(t *testing.T) {
	water, oil := traced(t, "tug", "hot_tow"), traced(t, "tug", "hot_tow", "exchangers.auxiliary.serves=oil")
	rises(t, "coolant", water.Peaks[0].Value, oil.Peaks[0].Value)
	rises(t, "oil, falling", -water.Peaks[1].Value, -oil.Peaks[1].Value)
	serves := map[*sim.Result]string{water: "coolant", oil: "oil"}
	for r, want := range serves {
		for _, e := range r.Exchangers {
			if e.Name == "auxiliary" && e.Serves != want {
				t.Errorf("serves %s, want %s", e.Serves, want)
			}
		}
		sum := channel(t, r, "heat_from_oil_W")
		one, other := channel(t, r, "oil_cooler_heat_W"), channel(t, r, "auxiliary_heat_W")
		for i := range sum {
			want := one[i]
			if r == oil {
				want += other[i]
			}
			if math.Abs(sum[i]-want) > 1e-6 {
				t.Fatalf("%g W out of the oil, the coolers take %g", sum[i], want)
			}
		}
	}
}

// halves splits the radiator of the rotary in two halves side by side, both in
// the liquid and in the air.
const halves = `
exchangers:
  radiator:
    width: 10 in
    rating: {heat: 54 kW ± 2.5 kW, liquid_flow: 65 L/min}
  radiator_right:
    serves: coolant
    from: armpit_left
    into: cowl
    liquid: parallel
    width: 10 in
    height: 12 in
    rating: {heat: 54 kW, temperature_difference: 80 K, air_speed: 9 m/s, liquid_flow: 65 L/min}
    bench:
      slow: {speed: 5 m/s, drop: 120 Pa}
      fast: {speed: 10 m/s, drop: 350 Pa}
`

// TestHalves: two half cores side by side are one core.
func TestHalves(t *testing.T) {
	for _, name := range []string{"hot_climb", "hot_taxi", "cruise"} {
		whole := fly(t, variant(t, "rotary", "title: whole\nexchangers: {radiator: {liquid: series}}", name), sim.Settings{RelTol: 1e-6})
		split := fly(t, variant(t, "rotary", halves, name), sim.Settings{RelTol: 1e-6})
		for i, p := range whole.Peaks {
			if d := split.Peaks[i].Value - p.Value; math.Abs(d) > 1e-6 {
				t.Errorf("%s: %s is off by %g K in halves", name, p.Channel, d)
			}
		}
		if d := split.Worst.CoolingDrag/whole.Worst.CoolingDrag - 1; math.Abs(d) > 1e-6 {
			t.Errorf("%s: drag is off by %g", name, d)
		}
	}
	// In series in the liquid they do about as well: the second is behind the first.
	series := strings.Replace(halves, "liquid: parallel", "liquid: series", 1)
	a := fly(t, variant(t, "rotary", halves, "hot_climb"), sim.Settings{})
	b := fly(t, variant(t, "rotary", series, "hot_climb"), sim.Settings{})
	if d := b.Peaks[0].Value - a.Peaks[0].Value; d == 0 || math.Abs(d) > 3 {
		t.Errorf("series: the coolant differs by %g K", d)
	}
}

// TestOpenBooks: a megawatt engine in a cowl that is all but shut heats its air
// beyond what the air field follows; the run says that it is not to be trusted.
func TestOpenBooks(t *testing.T) {
	p := plantOf(t, "seaplane", "hot_climb", "inlets.nose_ring.diameter=0.05126 ft", "engine.rated_power=1341 hp")
	p.Legs = []flight.Leg{{Name: "run_up", Kind: flight.RunUp, Throttle: 1, Duration: 60}}
	r, err := sim.Run(t.Context(), p, sim.Settings{Sample: 1})
	if err != nil {
		t.Fatal(err)
	}
	if !scorched(r) || !(r.EnergyResidual > 1e-6) {
		t.Fatalf("energy is off by %g", r.EnergyResidual)
	}
	warned(t, r, "unaccounted for")
	everyCase(t, func(t *testing.T, p *sim.Plant) { notWarned(t, fly(t, p, sim.Settings{}), "unaccounted for") })
}
