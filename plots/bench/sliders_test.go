package bench

import (
	"math"
	"slices"
	"strings"
	"testing"

	"hotclimb/scenarios"
)

// sliderOf is the slider of a path in a case, nil for none.
func sliderOf(s *server, path, name string) *Slider {
	for i := range s.sliders {
		if one := &s.sliders[i]; one.Path == path && slices.Contains(one.cases, name) {
			return one
		}
	}
	return nil
}

// TestSliders: which there are, and how far they go.
func TestSliders(t *testing.T) {
	rotary, tug, own := builtin(t, "rotary"), builtin(t, "tug"), smallBench(t)
	dry := own
	var err error
	if dry.Scenario, err = own.Scenario.With([]scenarios.Setting{{Path: "spray.rate", Text: "0 L/min"}}); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		b                    Bench
		name, path           string
		min, max, step, at   float64
		unit, text           string
		ofCase, group, label string
	}{
		// Bounds of the section size.
		{rotary, "hot_climb", "inlets.armpit_left.area", 45, 100, 0.5, 70, "in^2", "70 in²", "", groupOpenings, "armpit left (inlet)"},
		// Those of size before those of sweep.
		{rotary, "hot_climb", "exits.aft_ring.area", 50, 160, 1, 80, "in^2", "80 in²", "", groupOpenings, "aft ring (exit)"},
		// Those of sweep.
		{rotary, "hot_climb", "day.temperature", 85, 105, 0.2, 97, "degF", "97 °F", "hot_climb", groupAir, "air at the field"},
		// These do not hold where it stands in the cruise: 30 °F to both sides.
		{rotary, "cruise", "day.temperature", 44, 104, 0.5, 74, "degF", "74 °F", "cruise", groupAir, "air at the field"},
		{own, "cool", "day.temperature", 10, 70, 0.5, 40, "degF", "40 °F", "cool", groupAir, "air at the field"},
		// A quarter of the speed.
		{rotary, "hot_climb", "flight.legs.climb.speed", 84, 140, 0.5, 112, "mph", "112 mph", "hot_climb", groupClimb, "climb: airspeed"},
		// Full power, though the file does not say so.
		{rotary, "hot_climb", "flight.legs.climb.throttle", 40, 100, 0.5, 100, "%", "100 %", "hot_climb", groupClimb, "climb: power"},
		// A case without a climb: its level leg.
		{rotary, "cruise", "flight.legs.level.throttle", 40, 100, 0.5, 78, "%", "78 %", "cruise", groupClimb, "level: power"},
		// Half the opening and twice; twice the spray.
		{own, "cool", "inlets.chin.area", 25, 100, 0.5, 50, "in^2", "50 in²", "", groupOpenings, "chin (inlet)"},
		{own, "hot", "spray.rate", 0, 0.4, 0.002, 0.2, "L/min", "0.2 L/min", "", groupSpray, "spray water on the radiator"},
		// None runs: the tank of a gallon in three minutes is 1.262 L/min.
		{dry, "hot", "spray.rate", 0, 1.27, 0.01, 0, "L/min", "0 L/min", "", groupSpray, "spray water on the radiator"},
		{tug, "hot_tow", "spray.rate", 0, 1.2, 0.01, 0, "L/min", "0 L/min", "", groupSpray, "spray water on the radiator"},
	} {
		s, err := newServer(c.b)
		if err != nil {
			t.Fatal(err)
		}
		one := sliderOf(s, c.path, c.name)
		if one == nil {
			t.Errorf("%s in %s has no slider", c.path, c.name)
			continue
		}
		got := Slider{
			Path: one.Path, Case: one.Case, Group: one.Group, Label: one.Label, Unit: one.Unit,
			Min: one.Min, Max: one.Max, Step: one.Step, Value: one.Value, Text: one.Text,
		}
		want := Slider{
			Path: c.path, Case: c.ofCase, Group: c.group, Label: c.label, Unit: c.unit,
			Min: c.min, Max: c.max, Step: c.step, Value: c.at, Text: c.text,
		}
		if got.Path != want.Path || got.Case != want.Case || got.Min != want.Min || got.Max != want.Max || got.Step != want.Step ||
			got.Value != want.Value || got.Unit != want.Unit || got.Text != want.Text || got.Label != want.Label || got.Group != want.Group {
			t.Errorf("\ngot  %+v\nwant %+v", got, want)
		}
	}
}

// TestEverySlider: both ends, and every step near them, can be set; where it stands
// lies between them unless the file says otherwise; its ID is its own.
func TestEverySlider(t *testing.T) {
	for _, name := range []string{"rotary", "tug", "seaplane"} {
		s, err := newServer(builtin(t, name))
		if err != nil {
			t.Fatal(err)
		}
		ids := map[string]bool{}
		for i := range s.sliders {
			one := &s.sliders[i]
			if ids[one.ID] || one.ID == "" || strings.ContainsAny(one.ID, ". ") {
				t.Errorf("%s: ID %q", one.Path, one.ID)
			}
			ids[one.ID] = true
			if steps := (one.Max - one.Min) / one.Step; steps < mostSteps-1 || steps > 2.5*mostSteps+2 || math.Abs(steps-math.Round(steps)) > 1e-6 {
				t.Errorf("%s: %g steps", one.Path, steps)
			}
			if one.Value < one.Min || one.Value > one.Max {
				t.Errorf("%s stands at %g, beyond %g to %g", one.Path, one.Value, one.Min, one.Max)
			}
			k := s.filed[slices.IndexFunc(s.filed, func(k scenarios.CaseScenario) bool { return k.Name == one.cases[0] })]
			for _, x := range []float64{one.Min, one.Min + one.Step, one.Max - one.Step, one.Max} {
				value := strings.TrimSpace(scenarios.Exact(tidyBack(one, x), one.Unit, one.param.Dimension))
				if message, hint := one.param.Wrong(k.Scenario, value); message != "" {
					t.Errorf("%s at %s: %s (%s)", one.Path, value, message, hint)
				}
			}
		}
	}
}

// tidyBack is a value of a slider in SI.
func tidyBack(s *Slider, x float64) float64 {
	zero, one := s.show(0), s.show(1)
	return (x - zero) / (one - zero)
}

// TestDays: the air has the slider of how the day is given.
func TestDays(t *testing.T) {
	b := smallBench(t)
	for _, c := range []struct {
		path, value, slider string
		at                  float64
	}{
		{"day.isa_offset", "10 K", "day.isa_offset", 10},
		{"day.temperature", "20 degC", "day.temperature", 20},
		// 14 CFR 23.1043: 100 °F at sea level, 3.6 °F less for every 1000 ft; at 500 ft.
		{"day.hot_day", "part_23", "day.temperature", 98.2},
	} {
		sc, err := b.Scenario.WithCaseSettings([]scenarios.CaseSetting{{Case: "hot", Setting: scenarios.Setting{Path: c.path, Text: c.value}}})
		if err != nil {
			t.Fatal(err)
		}
		s, err := newServer(Bench{Scenario: sc})
		if err != nil {
			t.Fatal(err)
		}
		one := sliderOf(s, c.slider, "hot")
		if one == nil || math.Abs(one.Value-c.at) > 0.01 || one.Case != "hot" || one.Min >= one.Value || one.Max <= one.Value {
			t.Errorf("%s=%s: %+v", c.path, c.value, one)
		}
	}
}

// TestShutOpening: an opening that is shut can be opened.
func TestShutOpening(t *testing.T) {
	sc, err := smallBench(t).Scenario.With([]scenarios.Setting{{Path: "exits.belly.area", Text: "0.01 in^2"}})
	if err != nil {
		t.Fatal(err)
	}
	sc.Exits["belly"].Area.Value = 0
	k := readyCase{CaseScenario: scenarios.CaseScenario{Scenario: sc}}
	list := openings(k)
	if w := list[len(list)-1]; w.path != "exits.belly.area" || w.lo != 0 || w.hi != newOpening {
		t.Errorf("%+v", w)
	}
}

// TestControls: they follow the edits, each in its case.
func TestControls(t *testing.T) {
	h := handler(t, builtin(t, "tug"))
	text := func(m moved, path string) string {
		for _, c := range m.Controls {
			if c.Path == path {
				return c.Text
			}
		}
		return ""
	}
	const edits = `"edits":[{"path":"exits.belly.height","value":"6 in"},{"path":"flight.legs.tow.speed","value":"75 mph","case":"hot_tow"},` +
		`{"path":"exchangers.auxiliary.serves","value":"oil"}]`
	tow := move(t, h, 200, `{"case":"hot_tow",`+edits+`}`)
	cruise := move(t, h, 200, `{"case":"cruise",`+edits+`}`)
	if got := text(tow, "flight.legs.tow.speed"); got != "75 mph" {
		t.Errorf("the tow at %q", got)
	}
	if got := text(cruise, "flight.legs.tow.speed"); got != "" {
		t.Errorf("a tow in the cruise at %q", got)
	}
	if got := text(cruise, "flight.legs.level.speed"); got != "115 mph" {
		t.Errorf("the cruise at %q", got)
	}
	// 10.5 in^2 an inch: what the file has as width and height is shown as area.
	filed := text(move(t, h, 200, `{"case":"hot_tow"}`), "exits.belly.area")
	if now := text(tow, "exits.belly.area"); now == filed || !strings.HasSuffix(now, " in²") {
		t.Errorf("the exit of %q, lower, has %q", filed, now)
	}
	if tow.Cores["auxiliary"] != "oil" || cruise.Cores["auxiliary"] != "oil" || tow.Cores["radiator"] != "coolant" {
		t.Errorf("the cores serve %v and %v", tow.Cores, cruise.Cores)
	}
}
