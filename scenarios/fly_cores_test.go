package scenarios_test

import (
	"math"
	"strings"
	"testing"

	"hotclimb/scenarios"
	"hotclimb/sim"
)

// edited builds a case of a built-in scenario whose text is changed: what
// stands from one marker up to the next is replaced.
func edited(t testing.TB, file, from, to, by, name string) *sim.Plant {
	t.Helper()
	base, _ := scenarios.Builtin(file)
	text := string(base.Text)
	i := strings.Index(text, from)
	j := i + strings.Index(text[max(i, 0):], to)
	if i < 0 || j < i {
		t.Fatalf("no %q before %q in %s", from, to, file)
	}
	sc, err := scenarios.Load(scenarios.Source{Name: file, Text: []byte(text[:i] + by + text[j:])})
	if err != nil {
		t.Fatal(err)
	}
	c, err := sc.Case(name)
	if err != nil {
		t.Fatal(err)
	}
	p, err := c.Build()
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// louvered is a radiator core like geometry A of the core tests.
func louvered(pitch string) string {
	return `geometry:
      fin: louvered
      depth: 32 mm
      fin_pitch: ` + pitch + `
      fin_height: 8 mm
      fin_thickness: 0.08 mm
      louver_pitch: 1.2 mm
      louver_length: 6.5 mm
      louver_angle: 28 deg
      tube_height: 2 mm
    `
}

// TestCoresFromGeometry: cores computed from fins and tubes fly like rated
// ones: within a third of their heat, keeping all books, the same with either
// formula; and denser fins move more heat for less air.
func TestCoresFromGeometry(t *testing.T) {
	from := func(pitch string) *sim.Plant {
		return edited(t, "tug", "rating:\n      heat: 78 kW", "liquid_drop: 3.0 psi", louvered(pitch), "hot_tow")
	}
	rated, fine, coarse := traced(t, "tug", "hot_tow"), fly(t, from("1.3 mm"), sim.Settings{Sample: 1}), fly(t, from("2.2 mm"), sim.Settings{Sample: 1})
	i := 400
	q, r := channel(t, fine, "radiator_heat_W")[i], channel(t, rated, "radiator_heat_W")[i]
	t.Logf("%.1f kW from geometry, %.1f kW from the rating; coolant %.1f and %.1f °C", q/1e3, r/1e3, fine.Peaks[0].Value, rated.Peaks[0].Value)
	if math.Abs(q/r-1) > 1./3 {
		t.Errorf("%g W from geometry, %g W from a rating", q, r)
	}
	rises(t, "air", channel(t, fine, "radiator_air_kg_s")[i], channel(t, coarse, "radiator_air_kg_s")[i])
	rises(t, "coolant", fine.Peaks[0].Value, coarse.Peaks[0].Value)
	exact := fly(t, from("1.3 mm"), sim.Settings{RelTol: 1e-7, Method: sim.Explicit})
	compare(t, exact, fly(t, from("1.3 mm"), sim.Settings{RelTol: 1e-6}), 1e-3)
	compare(t, exact, fine, 0.01)
}

// TestOffsetStrip: an oil cooler of offset strips flies and keeps the books.
func TestOffsetStrip(t *testing.T) {
	strips := `geometry:
      fin: offset_strip
      depth: 50 mm
      fin_pitch: 1.5 mm
      fin_height: 6 mm
      fin_thickness: 0.1 mm
      louver_pitch: 3.2 mm
      tube_height: 3 mm
`
	p := edited(t, "tug", "rating:\n      heat: 20 kW", "\ncompartments", strips, "hot_tow")
	r := fly(t, p, sim.Settings{})
	usual := flown(t, "tug", "hot_tow")
	t.Logf("oil %.1f °C, %.1f °C from the rating", r.Peaks[1].Value, usual.Peaks[1].Value)
	if d := r.Peaks[1].Value - usual.Peaks[1].Value; !(math.Abs(d) < 40) {
		t.Errorf("oil at %g °C, %g °C with the rated cooler", r.Peaks[1].Value, usual.Peaks[1].Value)
	}
}

// TestBenchBeatsGeometry: a measured pressure drop stands beside a geometry.
func TestBenchBeatsGeometry(t *testing.T) {
	air := func(slow, fast string) float64 {
		core := louvered("1.3 mm") + "bench: {slow: {speed: 5 m/s, drop: " + slow + "}, fast: {speed: 10 m/s, drop: " + fast + "}}\n    "
		p := edited(t, "tug", "rating:\n      heat: 78 kW", "liquid_drop: 3.0 psi", core, "cruise")
		return channel(t, fly(t, p, sim.Settings{Sample: 60}), "radiator_air_kg_s")[0]
	}
	rises(t, "air", air("400 Pa", "1300 Pa"), air("80 Pa", "220 Pa"))
}

// TestStackedCores: a core behind another in the air gets what leaves that,
// T_a + Q/(ṁ·cp), and its own heat suffers.
func TestStackedCores(t *testing.T) {
	side, stacked := traced(t, "tug", "hot_tow"), traced(t, "tug", "hot_tow", "exchangers.oil_cooler.from=radiator", "leaks.cowl_seams.from=cheek_right")
	names := []string{"radiator_heat_W", "radiator_air_kg_s", "behind_radiator_degC", "outside_degC"}
	var v [4][]float64
	for i, name := range names {
		v[i] = channel(t, stacked, name)
	}
	for i := range v[0] {
		if want := v[3][i] + v[0][i]/(v[1][i]*1006); math.Abs(v[2][i]-want) > 1e-3 {
			t.Fatalf("%g °C behind the radiator after %d s, want %g", v[2][i], i, want)
		}
	}
	rises(t, "oil", side.Peaks[1].Value, stacked.Peaks[1].Value)
}
