package scenarios

import (
	"math"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// all are the cases of a scenario; it must have no faults.
func all(t rapid.TB, sc *Scenario) []CaseScenario {
	t.Helper()
	cases, err := sc.EffectiveCases(nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	return cases
}

// sameCases checks that the cases of two lists are the same, with all words,
// values and doubts.
func sameCases(t rapid.TB, got, want []CaseScenario) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%d cases, want %d", len(got), len(want))
	}
	for i := range got {
		if got[i].Name != want[i].Name || got[i].Title != want[i].Title || got[i].Scenario.SHA256() != want[i].Scenario.SHA256() {
			t.Errorf("case %s is not the same", want[i].Name)
		}
	}
}

func mustWith(t rapid.TB, sc *Scenario, list ...CaseSetting) *Scenario {
	t.Helper()
	written, err := sc.WithCaseSettings(list)
	if err != nil {
		t.Fatal(err)
	}
	return written
}

// Settings of every case come to what EffectiveCases makes of them.
func TestWithCaseSettingsOfAll(t *testing.T) {
	sc, untouched := mustLoad(t, good), mustLoad(t, good)
	for _, settings := range [][]Setting{
		nil,
		{{"inlets.left.area", "25 in^2"}, {"day.elevation", "1000 ft"}},
		{{"flight.legs.hold.for", "5 min"}, {"inlets.left.recovery", "0.6"}},
		{{"cases.cool.day.isa_offset", "10 K"}, {"exchangers.aux.serves", "oil"}},
		{{"cases.cool.day.isa_offset", "10 K"}, {"day.temperature", "90 degF"}},
	} {
		var list []CaseSetting
		for _, s := range settings {
			list = append(list, CaseSetting{"", s})
		}
		want, err := sc.EffectiveCases(nil, settings)
		if err != nil {
			t.Fatal(err)
		}
		sameCases(t, all(t, mustWith(t, sc, list...)), want)
	}
	if !reflect.DeepEqual(sc, untouched) {
		t.Error("the base has changed")
	}
}

// A setting of one case is one of EffectiveCases for it alone; the others stay.
func TestWithCaseSettingsOfOne(t *testing.T) {
	sc := mustLoad(t, good)
	own := []Setting{{"day.temperature", "70 degF"}, {"inlets.left.area", "30 in^2"}}
	want := all(t, sc)
	changed, err := sc.EffectiveCases([]string{"cool"}, own)
	if err != nil {
		t.Fatal(err)
	}
	want[0] = changed[0]
	sameCases(t, all(t, mustWith(t, sc, CaseSetting{"cool", own[0]}, CaseSetting{"cool", own[1]})), want)
}

// The later of two settings holds, whichever of them is of one case, and also
// where they exclude each other.
func TestWithCaseSettingsLater(t *testing.T) {
	sc := mustLoad(t, good)
	set := func(name, path, text string) CaseSetting { return CaseSetting{name, Setting{path, text}} }
	for _, c := range []struct{ list, want []CaseSetting }{
		{
			[]CaseSetting{set("", "oil.volume", "5 L"), set("", "oil.volume", "6 L")},
			[]CaseSetting{set("", "oil.volume", "6 L")},
		},
		{
			[]CaseSetting{set("taxi", "oil.volume", "5 L"), set("", "oil.volume", "6 L")},
			[]CaseSetting{set("", "oil.volume", "6 L")},
		},
		{
			[]CaseSetting{set("", "oil.volume", "6 L"), set("taxi", "oil.volume", "5 L")},
			[]CaseSetting{set("cool", "oil.volume", "6 L"), set("taxi", "oil.volume", "5 L")},
		},
		{
			[]CaseSetting{set("", "inlets.right.width", "6 in"), set("", "inlets.right.height", "6 in"), set("", "inlets.right.area", "33 in^2")},
			[]CaseSetting{set("", "inlets.right.area", "33 in^2")},
		},
		{
			[]CaseSetting{set("taxi", "inlets.right.area", "33 in^2"), set("", "inlets.right.width", "6 in")},
			[]CaseSetting{set("", "inlets.right.width", "6 in")},
		},
		{
			[]CaseSetting{set("", "day.temperature", "80 degF"), set("taxi", "day.isa_offset", "3 K")},
			[]CaseSetting{set("taxi", "day.isa_offset", "3 K"), set("cool", "day.temperature", "80 degF")},
		},
		{ // the wrong one is as if it were not there
			[]CaseSetting{set("", "oil.volume", "5 ft"), set("", "oil.volume", "6 L")},
			[]CaseSetting{set("", "oil.volume", "6 L")},
		},
	} {
		got := mustWith(t, sc, c.list...)
		sameCases(t, all(t, got), all(t, mustWith(t, sc, c.want...)))
		if again := mustWith(t, sc, c.list...); again.SHA256() != got.SHA256() {
			t.Errorf("%v: differs from time to time", c.list)
		}
	}
}

func TestWithCaseSettingsFaults(t *testing.T) {
	sc := mustLoad(t, good)
	for _, c := range []struct {
		list []CaseSetting
		want []string
	}{
		{
			[]CaseSetting{{"taxy", Setting{"oil.volume", "5 L"}}, {"taxy", Setting{"oil.volume", "6 L"}}},
			[]string{"there is no case taxy (did you mean taxi?)"},
		},
		{
			[]CaseSetting{{"cool", Setting{"flight.legs.hold.for", "5 min"}}},
			[]string{"flight.legs.hold.for: unknown path: there is no hold in flight.legs (did you mean flight.legs.climb.for?)"},
		},
		{
			[]CaseSetting{{"taxi", Setting{"cases.cool.day.isa_offset", "5 K"}}},
			[]string{"cases.cool.day.isa_offset: unknown path: there is no cool in cases"},
		},
		{
			[]CaseSetting{{"", Setting{"correlations.a.value", "0.5"}}},
			[]string{"correlations.a.value: unknown path: correlations cannot be set"},
		},
	} {
		_, err := sc.WithCaseSettings(c.list)
		checkFaults(t, err, c.want)
	}
}

// Faults of settings of every case are those that EffectiveCases tells.
func TestWithCaseSettingsSameFaults(t *testing.T) {
	sc := mustLoad(t, good)
	for _, settings := range [][]Setting{
		{{"inlets.left.aera", "25 in^2"}, {"oil.volume", "6"}},
		{{"oil.volume", "6"}, {"inlets.left.area", "25 m"}},
		{{"coolant.maximum", "200 degF"}},
		{{"cases.cool.day.isa_offset", "200 K"}},
		{{"exchangers.aux.serves", "petrol"}, {"flight.legs.hold.for", "-1 s"}},
		{{"changes.bigger.weight", "1 lb"}},
		{{"", "1"}},
	} {
		var list []CaseSetting
		for _, s := range settings {
			list = append(list, CaseSetting{"", s})
		}
		_, want := sc.EffectiveCases(nil, settings)
		if _, got := sc.WithCaseSettings(list); want == nil || !reflect.DeepEqual(got, want) {
			t.Errorf("%v: %v, want %v", settings, got, want)
		}
	}
}

// A scenario without cases takes settings of its one case and of every case.
func TestWithCaseSettingsWithoutCases(t *testing.T) {
	sc, err := Load(Source{Name: "starter.yaml", Text: Starter()})
	if err != nil {
		t.Fatal(err)
	}
	want, err := sc.With([]Setting{{"oil.volume", "6 qt"}, {"day.isa_offset", "20 K"}})
	if err != nil {
		t.Fatal(err)
	}
	got := mustWith(t, sc, CaseSetting{"flight", Setting{"oil.volume", "6 qt"}}, CaseSetting{"", Setting{"day.isa_offset", "20 K"}})
	if got.SHA256() != want.SHA256() {
		t.Error("differs from With")
	}
}

// drawSettings are up to n settings of a scenario with values in range, most of
// them near those it has.
func drawSettings(rt *rapid.T, cases []CaseScenario, n int) []CaseSetting {
	list := make([]CaseSetting, rapid.IntRange(1, n).Draw(rt, "settings"))
	for i := range list {
		k := rapid.SampledFrom(cases).Draw(rt, "case")
		p, err := k.Scenario.Compile(rapid.SampledFrom(k.Scenario.Paths()).Draw(rt, "path"))
		if err != nil {
			rt.Fatal(err)
		}
		list[i].Path, list[i].Text = p.Path, drawText(rt, k.Scenario, p)
		if rapid.Bool().Draw(rt, "one case") {
			list[i].Case = k.Name
		}
	}
	return list
}

// drawText is a value for a parameter.
func drawText(rt *rapid.T, sc *Scenario, p Param) string {
	if !p.IsNumber() {
		return rapid.SampledFrom(p.Words).Draw(rt, "word")
	}
	n, known := p.Get(sc)
	if !known {
		n = Number{Value: p.Lo + (p.Hi-p.Lo)*rapid.Float64Range(0, 1).Draw(rt, "part"), Unit: p.Unit}
	}
	n.Value = min(max(n.Value*rapid.Float64Range(0.97, 1.03).Draw(rt, "factor"), p.Lo), p.Hi)
	if p.Whole {
		n.Value = math.Round(n.Value)
	}
	if rapid.Bool().Draw(rt, "without doubt") {
		n.Doubt = 0
	}
	return n.Exact(p.Dimension)
}

// TestWithCaseSettingsRandom holds that each case is that of EffectiveCases with
// the settings that hold in it.
func TestWithCaseSettingsRandom(t *testing.T) {
	fewer(t, "40")
	bases := everyBuiltin(t)
	accepted, refused := 0, 0
	rapid.Check(t, func(rt *rapid.T) {
		sc := rapid.SampledFrom(bases).Draw(rt, "scenario")
		cases := all(rt, sc)
		list := drawSettings(rt, cases, 4)
		written, err := sc.WithCaseSettings(list)
		quick, same := sc.CasesWith(cases, list)
		if !reflect.DeepEqual(err, same) {
			rt.Fatalf("WithCaseSettings has %v, CasesWith %v", err, same)
		}
		sameCases(rt, all(rt, sc), cases) // as before
		if err != nil {
			refused++
			return
		}
		accepted++
		got := all(rt, written)
		sameCases(rt, quick, got)
		for i, k := range cases {
			var own []Setting
			for _, s := range list {
				if s.Case == k.Name || s.Case == "" && slices.Contains(k.Scenario.Paths(), s.Path) {
					own = append(own, s.Setting)
				}
			}
			want, err := sc.EffectiveCases([]string{k.Name}, k.Scenario.holding(own))
			if err != nil {
				rt.Fatal(err)
			}
			sameCases(rt, got[i:i+1], want)
		}
	})
	t.Logf("%d accepted, %d refused", accepted, refused)
	if refused > 3*accepted {
		t.Errorf("too few are accepted: %d of %d", accepted, accepted+refused)
	}
}

func everyBuiltin(t testing.TB) []*Scenario {
	var list []*Scenario
	for _, name := range BuiltinNames() {
		sc, err := LoadFile(name, nil)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, sc)
	}
	return list
}
