package scenarios

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func mustCompile(t testing.TB, sc *Scenario, path string) Param {
	t.Helper()
	p, err := sc.Compile(path)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestParam(t *testing.T) {
	sc := mustLoad(t, good)
	p := mustCompile(t, sc, "inlets.left.area")
	if p.Unit != "in^2" || p.Dimension != DimensionOf[Area]() || p.Lo != 0 || p.Hi != 1 || p.Doc != "throat area" {
		t.Errorf("%+v", p)
	}
	n, ok := p.Get(sc)
	if !ok || !closeTo(n.Value, 20*0.0254*0.0254) || n.Doubt == 0 {
		t.Errorf("Get: %+v, %v", n, ok)
	}
	if err := p.Set(sc, 0.02); err != nil {
		t.Error(err)
	}
	if n, _ := p.Get(sc); n.Value != 0.02 || n.Doubt != 0 || !n.Written || n.Unit != "in^2" {
		t.Errorf("after Set: %+v", n)
	}
	if err := p.SetText(sc, "13 ± 2 in^2"); err != nil || p.Text(sc) != "13 ± 2 in^2" {
		t.Errorf("SetText: %v, %s", err, p.Text(sc))
	}
	serves := mustCompile(t, sc, "exchangers.aux.serves")
	if !slices.Equal(serves.Words, []string{"coolant", "oil"}) || serves.IsNumber() {
		t.Errorf("%+v", serves)
	}
	if err := serves.SetText(sc, "oil"); err != nil || sc.Exchangers["aux"].Serves != "oil" {
		t.Errorf("SetText of a word: %v", err)
	}
	if _, ok := serves.Get(sc); ok {
		t.Error("a word has a number")
	}
	from := mustCompile(t, sc, "exchangers.aux.from")
	if !slices.Contains(from.Words, "left") || slices.Contains(from.Words, "belly") {
		t.Errorf("names for from: %v", from.Words)
	}
}

// Setting one way to give a thing clears the others.
func TestParamClearsAlternatives(t *testing.T) {
	sc := mustLoad(t, good)
	if err := mustCompile(t, sc, "inlets.right.area").Set(sc, 0.01); err != nil {
		t.Fatal(err)
	}
	if r := sc.Inlets["right"]; r.Width.Known || r.Height.Known || !r.Area.Known {
		t.Errorf("%+v", r)
	}
	if err := mustCompile(t, sc, "day.hot_day").SetText(sc, "cs_22"); err != nil {
		t.Fatal(err)
	}
	if sc.Day.Temperature.Known {
		t.Error("hot_day has left the temperature")
	}
	if err := mustCompile(t, sc, "day.isa_offset").Set(sc, 20); err != nil {
		t.Fatal(err)
	}
	if sc.Day.HotDay != "" {
		t.Error("isa_offset has left the hot day")
	}
}

func TestParamFaults(t *testing.T) {
	sc := mustLoad(t, good)
	for _, row := range []struct{ path, text, want string }{
		{"inlets.left.area", "13 in", "inlets.left.area: 13 in is a length; area takes in^2, ft^2, cm^2, m^2"},
		{"inlets.left.area", "2000 in^2", "inlets.left.area: 2000 in^2 is out of range (0 in^2 to 1550 in^2)"},
		{"exchangers.aux.serves", "water", `exchangers.aux.serves: "water" is not one of its words (one of coolant, oil)`},
		{"exits.belly.from", "bey", `exits.belly.from: "bey" is the name of nothing in compartments (did you mean bay?)`},
		{"inlets.chni.area", "", "inlets.chni.area: unknown path: there is no chni in inlets (did you mean inlets.left.area?)"},
		{"inlets.left.aera", "", "inlets.left.aera: unknown path: there is no aera (did you mean inlets.left.area?)"},
		{"inlets.left.diffuser", "", "inlets.left.diffuser: unknown path: inlets.left.diffuser is a section, not a number or a word (did you mean inlets.left.diffuser.loss, inlets.left.diffuser.angle or inlets.left.diffuser.length?)"},
		{"inlets.right.diffuser.angle", "", "inlets.right.diffuser.angle: unknown path: this scenario has no section inlets.right.diffuser (did you mean inlets.left.diffuser.angle?)"},
		{"flight.legs.climb.name", "", "flight.legs.climb.name: unknown path: flight.legs.climb.name cannot be set (did you mean flight.legs.climb.kind, flight.legs.climb.speed or flight.legs.climb.power?)"},
		{"changes.bigger.set.x", "", "changes.bigger.set.x: unknown path: set holds no single number or word (did you mean changes.bigger.weight, changes.bigger.arm or changes.bigger.cost?)"},
		{"", "", "unknown path: it is empty"},
	} {
		p, err := sc.Compile(row.path)
		if err == nil {
			err = p.SetText(sc, row.text)
		}
		if err == nil || err.Error() != row.want {
			t.Errorf("%s = %s:\n%v\nwant\n%s", row.path, row.text, err, row.want)
		}
	}
	if err := mustCompile(t, sc, "inlets.left.area").Set(sc, 3); err == nil {
		t.Error("Set takes a value out of range")
	}
	if err := mustCompile(t, sc, "exchangers.aux.serves").Set(sc, 3); err == nil {
		t.Error("Set takes a number for a word")
	}
	spray := mustCompile(t, sc, "spray.rate")
	sc.Spray = nil
	if err := spray.Set(sc, 0); err == nil || !strings.Contains(err.Error(), "no section spray") {
		t.Errorf("a path into an absent section: %v", err)
	}
}

// Every path that is listed compiles, and back to the same path.
func TestPaths(t *testing.T) {
	sc := mustLoad(t, good)
	paths := sc.Paths()
	for _, path := range paths {
		if p := mustCompile(t, sc, path); p.Path != path || p.Doc == "" {
			t.Errorf("%s: %+v", path, p)
		}
	}
	for _, path := range []string{
		"inlets.left.area", "flight.legs.climb.speed", "cases.cool.day.isa_offset", "exchangers.aux.serves",
		"exchangers.radiator.bench.low.drop", "aircraft.airspeed_error.slow.indicated", "tests.june.points.top.time",
	} {
		if !slices.Contains(paths, path) {
			t.Errorf("%s is not listed", path)
		}
	}
}

// Whatever is set in a copy, the base stays as it was, and a copy of the copy
// equals it.
func TestCloneProperty(t *testing.T) {
	base, untouched := mustLoad(t, good), mustLoad(t, good)
	paths := base.Paths()
	rapid.Check(t, func(t *rapid.T) {
		c := base.Clone()
		for _, path := range rapid.SliceOfN(rapid.SampledFrom(paths), 1, 20).Draw(t, "paths") {
			p, err := base.Compile(path)
			if err != nil {
				t.Fatal(err)
			}
			if p.IsNumber() {
				err = p.Set(c, rapid.Float64Range(p.Lo, p.Hi).Draw(t, path))
			} else {
				err = p.SetText(c, rapid.SampledFrom(p.Words).Draw(t, path))
			}
			if err != nil {
				t.Fatal(err)
			}
		}
		if rapid.Bool().Draw(t, "refill") {
			c.Refill()
		}
		if d := c.Clone(); !reflect.DeepEqual(c, d) || c.SHA256() != d.SHA256() {
			t.Error("a clone differs")
		}
	})
	if !reflect.DeepEqual(base, untouched) {
		t.Error("the base has changed")
	}
}
