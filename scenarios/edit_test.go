package scenarios

import (
	"errors"
	"math"
	"strings"
	"testing"
)

// TestEdit sets a number in a copy: defaults follow, the original stays.
func TestEdit(t *testing.T) {
	sc := mustLoad(t, good)
	before := sc.SHA256()
	p := mustCompile(t, sc, "inlets.left.area")
	c, err := sc.Edit(func(c *Scenario) error { return p.Set(c, 0.03) })
	if err != nil {
		t.Fatal(err)
	}
	if n, _ := p.Get(c); n.Value != 0.03 {
		t.Errorf("the copy has %v", n.Value)
	}
	if sc.SHA256() != before {
		t.Error("the original has changed")
	}
	with, err := sc.With([]Setting{{"inlets.left.area", "0.03 m^2"}})
	if err != nil || c.Title != with.Title {
		t.Fatal(err)
	}
	a, _ := c.Build()
	b, _ := with.Build()
	if a.Air.Branches[0].Inlet.Area != b.Air.Branches[0].Inlet.Area {
		t.Error("a number and its text make different plants")
	}
}

func TestEditFaults(t *testing.T) {
	sc := mustLoad(t, good)
	own := errors.New("no")
	if _, err := sc.Edit(func(*Scenario) error { return own }); !errors.Is(err, own) {
		t.Errorf("the error of the change is lost: %v", err)
	}
	p := mustCompile(t, sc, "coolant.caution")
	_, err := sc.Edit(func(c *Scenario) error { return p.Set(c, 149) })
	if err == nil || !strings.Contains(err.Error(), "coolant.caution") {
		t.Errorf("a caution above the limit passes: %v", err)
	}
}

func TestOpenings(t *testing.T) {
	sc, err := LoadFile("rotary", nil)
	if err != nil {
		t.Fatal(err)
	}
	want := []Opening{
		{"inlets.armpit_left", false, 70 * squareInch},
		{"inlets.armpit_right", false, 28 * squareInch},
		{"exits.aft_ring", true, 80 * squareInch},
	}
	got := sc.Openings()
	if len(got) != len(want) {
		t.Fatalf("%+v", got)
	}
	for i, o := range got {
		if o.Path != want[i].Path || o.Exit != want[i].Exit || math.Abs(o.Area-want[i].Area) > 1e-12 {
			t.Errorf("%+v, want %+v", o, want[i])
		}
	}
}

func TestColumn(t *testing.T) {
	sc := mustLoad(t, good)
	for path, want := range map[string]string{
		"inlets.left.area":      "inlets.left.area_m2",
		"inlets.left.recovery":  "inlets.left.recovery",
		"day.temperature":       "day.temperature_degC",
		"exchangers.aux.serves": "exchangers.aux.serves",
		"coolant.pump_flow":     "coolant.pump_flow_m3_s",
		"engine.rated_speed":    "engine.rated_speed_rad_s",
	} {
		if got := mustCompile(t, sc, path).Column(); got != want {
			t.Errorf("%s: %s, want %s", path, got, want)
		}
	}
}

// TestMade holds that the tag made has one of its words and stands on numbers
// alone, and that the openings of the built-in scenarios carry it.
func TestMade(t *testing.T) {
	words := map[string]bool{"": true, "opening": true, "duct": true, "core": true, "pump": true, "spray": true, "setting": true}
	for _, name := range BuiltinNames() {
		sc, err := LoadFile(name, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, path := range sc.Paths() {
			p := mustCompile(t, sc, path)
			if !words[p.Made] || p.Made != "" && !p.IsNumber() {
				t.Errorf("%s: made %q", path, p.Made)
			}
			opening := strings.HasPrefix(path, "inlets.") || strings.HasPrefix(path, "exits.")
			if opening && (strings.HasSuffix(path, ".area") || strings.HasSuffix(path, ".width")) && p.Made != "opening" {
				t.Errorf("%s is an opening, but made %q", path, p.Made)
			}
		}
	}
}

// TestDrawnPointsNeedNoCount holds that a sweep of drawn points takes bounds.
func TestDrawnPointsNeedNoCount(t *testing.T) {
	sc := mustLoad(t, edited(t, "15..30 in^2:4", "15..30 in^2", "  cases: [taxi]", "  cases: [taxi]\n  design: sobol\n  points: 64"))
	if sc.Sweep.Design != "sobol" || sc.Sweep.Points.Value != 64 || sc.Sweep.Seed.Value != 1 {
		t.Errorf("%+v", sc.Sweep)
	}
}

// TestIn tells paths of other cases from those that are there, given or not.
func TestIn(t *testing.T) {
	sc := mustLoad(t, good)
	cases, err := sc.EffectiveCases(nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	there := map[string]int{}
	for _, path := range []string{"flight.legs.climb.speed", "inlets.left.diameter", "exchangers.aux.serves"} {
		p := mustCompile(t, sc, path)
		for _, k := range cases {
			_, err := k.Scenario.Compile(path)
			if p.In(k.Scenario) != (err == nil) {
				t.Errorf("%s in %s: %v, but %v", path, k.Name, p.In(k.Scenario), err)
			}
			if err == nil {
				there[path]++
			}
		}
	}
	if there["flight.legs.climb.speed"] == len(cases) || there["inlets.left.diameter"] != len(cases) {
		t.Errorf("%v of %d cases", there, len(cases))
	}
}
