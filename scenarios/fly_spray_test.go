package scenarios_test

import (
	"math"
	"slices"
	"testing"

	"hotclimb/sim"
)

// waterDensity is that of the tank [kg/m³].
const waterDensity = 997.0

// when returns the time of the only event of a kind.
func when(t testing.TB, r *sim.Result, what string) float64 {
	t.Helper()
	var times []float64
	for _, e := range r.Events {
		if e.What == what {
			times = append(times, e.Time)
		}
	}
	if len(times) != 1 {
		t.Fatalf("%q at %v s", what, times)
	}
	return times[0]
}

// TestSprayCools: more water, cooler coolant; none is the plant without spray.
func TestSprayCools(t *testing.T) {
	var falling, used []float64
	for _, rate := range []string{"0 L/min", "0.2 L/min", "0.5 L/min", "0.8 L/min"} {
		r := flown(t, "tug", "hot_tow", "spray.rate="+rate, "spray.tank=3 gal")
		falling, used = append(falling, -r.Peaks[0].Value), append(used, r.WaterUsed)
	}
	rises(t, "coolant, falling", falling...)
	rises(t, "water used", used...)
	t.Logf("coolant %.1f, used %.2f", falling, used)

	plant := plantOf(t, "tug", "hot_tow")
	plant.Spray = nil
	if without := fly(t, plant, sim.Settings{}); without.Peaks[0].Value != -falling[0] {
		t.Errorf("%g °C without spray, %g °C with one turned off", without.Peaks[0].Value, -falling[0])
	}
}

// TestSprayHeat: the spray carries away no more than all its water could by
// evaporating, and something of that order.
func TestSprayHeat(t *testing.T) {
	wet := traced(t, "tug", "hot_tow", "spray.rate=0.8 L/min", "spray.tank=5 gal")
	dry := traced(t, "tug", "hot_tow")
	i := int(span(t, wet, "tow").Start) + 5
	more := channel(t, wet, "radiator_heat_W")[i] - channel(t, dry, "radiator_heat_W")[i]
	ceiling := 0.8 / 60e3 * waterDensity * 2.55e6 // all of it from 25 °C, see steam tables
	t.Logf("%.1f kW more of at most %.1f kW", more/1e3, ceiling/1e3)
	if !(more > 0.3*ceiling && more < ceiling) {
		t.Errorf("%g W more, all the water takes %g W", more, ceiling)
	}
}

// TestWetDrop: a wet core lets less air through.
func TestWetDrop(t *testing.T) {
	air := func(drop string) float64 {
		r := traced(t, "tug", "hot_tow", "spray.rate=0.8 L/min", "spray.tank=5 gal", "spray.wet_drop="+drop)
		return channel(t, r, "radiator_air_kg_s")[int(span(t, r, "tow").Start)+5]
	}
	rises(t, "air", air("2"), air("1.3"), air("1"))
}

// TestSprayTank: the tank runs dry after exactly tank over rate, and the water
// used is what was in it.
func TestSprayTank(t *testing.T) {
	p := plantOf(t, "tug", "hot_tow", "spray.rate=0.8 L/min", "spray.tank=4 L")
	r := fly(t, p, sim.Settings{Sample: 1})
	start := span(t, r, "tow").Start
	dry := when(t, r, "spray tank is dry")
	if d := (dry-start)*p.Spray.Rate - p.Spray.Tank; math.Abs(d) > 1e-9 {
		t.Errorf("dry at %.9g s: %g kg are missing", dry, d)
	}
	if d := r.WaterUsed - p.Spray.Tank; math.Abs(d) > 1e-9 {
		t.Errorf("used %g kg of %g", r.WaterUsed, p.Spray.Tank)
	}
	// Then the coolant warms up again.
	v := channel(t, r, "coolant_out_degC")
	i := int(dry)
	rises(t, "coolant", v[i], v[i+20])
	water := channel(t, r, "spray_water_kg")
	if water[0] != p.Spray.Tank || math.Abs(slices.Min(water)) > 1e-9 {
		t.Errorf("tank from %g to %g kg", water[0], slices.Min(water))
	}
}

// TestSprayAbove: it starts when the gauge passes the temperature, and runs for
// its time.
func TestSprayAbove(t *testing.T) {
	r := traced(t, "tug", "hot_tow", "spray.rate=0.8 L/min", "spray.tank=5 gal", "spray.above=215 degF", "spray.for=90 s")
	on, off := when(t, r, "spray starts"), when(t, r, "spray time is over")
	hot := channel(t, r, "coolant_out_degC")
	want := (215 - 32) / 1.8
	if i := int(on); !(hot[i] <= want && want <= hot[i]+1) {
		t.Errorf("starts at %g s, where the coolant has %g °C", on, hot[i])
	}
	if math.Abs(off-on-90) > 1e-9 {
		t.Errorf("runs for %.12g s", off-on)
	}
	if want := 0.8 / 60e3 * waterDensity * 90; math.Abs(r.WaterUsed-want) > 1e-9 {
		t.Errorf("used %g kg, want %g", r.WaterUsed, want)
	}
	if r := flown(t, "tug", "hot_tow", "spray.rate=0.8 L/min", "spray.above=280 degF"); r.WaterUsed != 0 {
		t.Errorf("used %g kg below the temperature", r.WaterUsed)
	}
	if r := flown(t, "tug", "hot_tow", "spray.rate=0.8 L/min", "spray.for=0 s"); r.WaterUsed != 0 {
		t.Errorf("used %g kg in no time", r.WaterUsed)
	}
	// Above it from the start of the leg: at once.
	r = traced(t, "tug", "hot_tow", "spray.rate=0.8 L/min", "spray.above=150 degF", "spray.for=60 s")
	if start, off := span(t, r, "tow").Start, when(t, r, "spray time is over"); math.Abs(off-start-60) > 1e-9 {
		t.Errorf("from %g to %g s", start, off)
	}
}

// TestSprayLeg: only in its leg, while some water is left.
func TestSprayLeg(t *testing.T) {
	r := traced(t, "tug", "hot_tow", "spray.rate=0.3 L/min", "spray.tank=20 L")
	tow := span(t, r, "tow")
	if want := 0.3 / 60e3 * waterDensity * (tow.End - tow.Start); math.Abs(r.WaterUsed-want) > 1e-9 {
		t.Errorf("used %g kg, want %g", r.WaterUsed, want)
	}
	water := channel(t, r, "spray_water_kg")
	if before := water[int(tow.Start)]; before != water[0] {
		t.Errorf("%g kg at the start, %g kg before the leg", water[0], before)
	}
}

// TestSprayOnOil: a sprayed oil cooler cools the oil, and its own sensor starts
// the spray.
func TestSprayOnOil(t *testing.T) {
	s := set{"spray.onto=oil_cooler", "spray.rate=0.4 L/min", "spray.above=230 degF"}
	dry, wet := flown(t, "tug", "hot_tow"), traced(t, "tug", "hot_tow", s...)
	rises(t, "oil, falling", -dry.Peaks[1].Value, -wet.Peaks[1].Value)
	oil := channel(t, wet, "oil_sump_degC")
	if i := int(when(t, wet, "spray starts")); math.Abs(oil[i]-(230-32)/1.8) > 1 {
		t.Errorf("starts at %g °C of oil", oil[i])
	}
	// Onto a core that is taped over it changes nothing for the better.
	taped := flown(t, "tug", "hot_tow", "spray.onto=auxiliary", "spray.rate=0.4 L/min", "exchangers.auxiliary.open_share=0")
	if !(taped.Peaks[0].Value > dry.Peaks[0].Value) {
		t.Errorf("%g °C with the core taped over", taped.Peaks[0].Value)
	}
}
