package scenarios

import (
	"bytes"
	"math"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func written(t testing.TB, sc *Scenario) string {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, sc); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// reloaded is a scenario written and loaded again.
func reloaded(t testing.TB, sc *Scenario) *Scenario {
	t.Helper()
	text := written(t, sc)
	again, err := Load(Source{Name: "written.yaml", Text: []byte(text)})
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return again
}

// A scenario that is written and loaded again is the same, but for where its
// paths stand.
func TestWriteReloads(t *testing.T) {
	sc := mustLoad(t, good)
	again := reloaded(t, sc)
	if again.SHA256() != sc.SHA256() {
		t.Error("the hashes differ")
	}
	again.where, sc.where = nil, nil
	if !reflect.DeepEqual(again, sc) {
		t.Errorf("differs:\n%s", written(t, sc))
	}
	for _, want := range []string{
		"  # span_efficiency: default 0.75 ± 0.05 (light single, from memory, medium)\n",
		"  bay: {}\n",
		"    area: 20 in^2 ± 1 in^2\n",
		"notes: \"measured in the hangar: mostly\"\n",
		"      inlets.left.area: 25 in^2\n",
	} {
		if !strings.Contains(written(t, sc), want) {
			t.Errorf("%q is not in\n%s", want, written(t, sc))
		}
	}
}

func TestWriteCase(t *testing.T) {
	sc := mustLoad(t, good)
	taxi, err := sc.Case("taxi")
	if err != nil {
		t.Fatal(err)
	}
	if reloaded(t, taxi).SHA256() != taxi.SHA256() {
		t.Errorf("differs:\n%s", written(t, taxi))
	}
	// the spray of the file runs in a leg that this case does not fly
	cool, err := sc.Case("cool")
	if err != nil {
		t.Fatal(err)
	}
	if again := reloaded(t, cool); again.Spray != nil || again.Day != cool.Day {
		t.Errorf("differs:\n%s", written(t, cool))
	}
}

// A core moved to the other circuit keeps the liquid it was rated with.
func TestWriteMovedCore(t *testing.T) {
	sc, err := mustLoad(t, good).With([]Setting{{"exchangers.radiator.serves", "oil"}})
	if err != nil {
		t.Fatal(err)
	}
	again := reloaded(t, sc)
	if x := again.Exchangers["radiator"]; x.RatedWith != "coolant" || again.SHA256() != sc.SHA256() {
		t.Errorf("rated with %s:\n%s", x.RatedWith, written(t, sc))
	}
}

// Numbers that were computed, not read, survive to the last digits. A reading
// in °F has those of its own number, so that the largest value of the path is
// what rounding is measured by.
func TestWriteProperty(t *testing.T) {
	base := mustLoad(t, good)
	paths := []string{"inlets.left.area", "day.temperature", "oil.pump_flow", "engine.metal_heat_capacity", "exits.belly.jet_angle"}
	rapid.Check(t, func(rt *rapid.T) {
		c := base.Clone()
		for _, path := range paths {
			p := mustCompile(t, c, path)
			if err := p.Set(c, rapid.Float64Range(p.Lo, p.Hi).Draw(rt, path)); err != nil {
				rt.Fatal(err)
			}
		}
		again := reloaded(t, c)
		for _, path := range paths {
			p := mustCompile(t, c, path)
			a, _ := p.Get(c)
			b, _ := p.Get(again)
			if math.Abs(a.Value-b.Value) > 1e-15*max(math.Abs(p.Lo), math.Abs(p.Hi)) {
				rt.Errorf("%s: %v is read as %v", path, a.Value, b.Value)
			}
		}
	})
}

func TestQuoted(t *testing.T) {
	for text, want := range map[string]string{
		"coolant": "coolant", "13 in^2 ± 1 in^2": "13 in^2 ± 1 in^2", "-5 °C": "-5 °C", "no": `"no"`, "": `""`,
		"a: b": `"a: b"`, "50 %": "50 %", "x # y": `"x # y"`, "10..20 in^2:3": `"10..20 in^2:3"`, "two\nlines": `"two\nlines"`,
		"- x": `"- x"`, "...": `"..."`, "coolant, oil": `"coolant, oil"`,
	} {
		if got := quoted(text); got != want {
			t.Errorf("%q is written %s, want %s", text, got, want)
		}
	}
}

func TestSHA256(t *testing.T) {
	sc := mustLoad(t, good)
	for what, text := range map[string]string{
		"spelling":        edited(t, "elevation: 500 ft", "elevation: 6000 in"),
		"a default given": edited(t, "  elevation: 500 ft", "  elevation: 500 ft\n  humidity: 40 %"),
	} {
		if mustLoad(t, text).SHA256() != sc.SHA256() {
			t.Errorf("%s changes the hash", what)
		}
	}
	for what, text := range map[string]string{
		"value":   edited(t, "elevation: 500 ft", "elevation: 501 ft"),
		"doubt":   edited(t, "elevation: 500 ft", "elevation: 500 ft ± 1 ft"),
		"word":    edited(t, "place: pusher", "place: tractor"),
		"setting": edited(t, "inlets.left.recovery: 0.4", "inlets.left.recovery: 0.5"),
		"order of the circuit": edited(t, "  plate:\n    serves: oil\n    cooled_by: coolant\n    rating: {heat: 12 kW, temperature_difference: 40 K, air_flow: 0.8 kg/s, liquid_flow: 15 L/min}\n", "",
			"exchangers:\n", "exchangers:\n  plate:\n    serves: oil\n    cooled_by: coolant\n    rating: {heat: 12 kW, temperature_difference: 40 K, air_flow: 0.8 kg/s, liquid_flow: 15 L/min}\n"),
	} {
		if mustLoad(t, text).SHA256() == sc.SHA256() {
			t.Errorf("another %s does not change the hash", what)
		}
	}
}

func TestDefaults(t *testing.T) {
	sc := mustLoad(t, good)
	found := map[string]Default{}
	for _, d := range sc.Defaults() {
		found[d.Path] = d
	}
	want := Default{"aircraft.span_efficiency", "0.75 ± 0.05", "light single, from memory, medium"}
	if found[want.Path] != want {
		t.Errorf("%+v", found[want.Path])
	}
	if found["exits.slot.kind"].Text != "hole" {
		t.Error("default words are not listed")
	}
	for _, path := range []string{"aircraft.mass", "exits.belly.kind"} {
		if _, ok := found[path]; ok {
			t.Errorf("%s is given, not a default", path)
		}
	}
}
