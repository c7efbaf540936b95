package scenarios

import (
	"reflect"
	"sync"
	"testing"

	"hotclimb/sim"
	"pgregory.net/rapid"
)

// setting is a number or a word for a parameter.
type setting struct {
	Param
	value float64
	word  string
}

// drawAny draws a value from the range of a parameter, most often near the one it
// has, so that some are refused.
func drawAny(rt *rapid.T, sc *Scenario, p Param) setting {
	s := setting{Param: p}
	switch n, known := p.Get(sc); {
	case !p.IsNumber() && len(p.Words) > 0:
		s.word = rapid.SampledFrom(p.Words).Draw(rt, p.Path)
	case !p.IsNumber():
		s.word = "a line"
	case known && rapid.IntRange(0, 5).Draw(rt, "anywhere") > 0:
		s.value = n.Value * rapid.Float64Range(0.7, 1.4).Draw(rt, p.Path)
	default:
		s.value = rapid.Float64Range(p.Lo, p.Hi).Draw(rt, p.Path)
	}
	return s
}

// whole sets in a scenario of its own, and builds that.
func whole(base *Scenario, list []setting) (*Scenario, *sim.Plant, error) {
	sc, err := base.Edit(func(c *Scenario) error {
		for _, s := range list {
			set := func() error { return s.Set(c, s.value) }
			if !s.IsNumber() {
				set = func() error { return s.SetText(c, s.word) }
			}
			if err := set(); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return nil, nil, err
	}
	plant, err := sc.Build()
	return sc, plant, err
}

// varied sets in a variant of a template, and builds that.
func varied(t *Template, list []setting) (*Scenario, *sim.Plant, error) {
	v, err := t.Vary(func(v *Variant) error {
		for _, s := range list {
			set := func() error { return v.Set(s.Param, s.value) }
			if !s.IsNumber() {
				set = func() error { return v.SetText(s.Param, s.word) }
			}
			if err := set(); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return nil, nil, err
	}
	plant, err := v.Build()
	return v.Scenario(), plant, err
}

// everyCase are the effective scenarios of all cases of many files.
func everyCase(t testing.TB) (cases []*Scenario) {
	files := append(everyBuiltin(t), mustLoad(t, good), withFins(t))
	for _, file := range []struct {
		name string
		set  []Setting
	}{
		{"scenarios/highwing", nil},
		{"scenarios/highwing", []Setting{{"exchangers.oil_second.from", "oil_cooler"}}}, // a place between cores and one before an exit
		{"script/small", nil},
	} {
		sc, err := LoadFile("../testdata/"+file.name+".yaml", nil)
		if err == nil {
			sc, err = sc.With(file.set)
		}
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, sc)
	}
	for _, file := range files {
		for _, k := range all(t, file) {
			cases = append(cases, k.Scenario)
		}
	}
	return cases
}

// TestVariantIsTheWhole holds that a variant is the scenario and the plant that
// come from setting, filling, checking and building all anew, or the same error;
// that nothing of it depends on the variants before; and that a template stays as
// it was made.
func TestVariantIsTheWhole(t *testing.T) {
	bases := everyCase(t)
	templates := make([]*Template, len(bases))
	for i, base := range bases {
		templates[i] = base.Template()
	}
	built, refused := 0, 0
	rapid.Check(t, func(rt *rapid.T) {
		i := rapid.IntRange(0, len(bases)-1).Draw(rt, "case")
		base, paths := bases[i], bases[i].Paths()
		numbers := rapid.IntRange(0, 3).Draw(rt, "numbers alone") > 0
		list := make([]setting, 0, 12)
		for range rapid.IntRange(0, cap(list)).Draw(rt, "settings") {
			p := mustCompile(t, base, rapid.SampledFrom(paths).Draw(rt, "path"))
			if !numbers || p.IsNumber() {
				list = append(list, drawAny(rt, base, p))
			}
		}
		want, wantPlant, wantErr := whole(base, list)
		got, plant, err := varied(templates[i], list)
		if same(wantErr, err) != "" {
			rt.Fatalf("%s", same(wantErr, err))
		}
		if err != nil {
			refused++
			return
		}
		built++
		if !reflect.DeepEqual(got, want) {
			rt.Errorf("another scenario")
		}
		if !reflect.DeepEqual(plant, wantPlant) {
			rt.Errorf("another plant: %+v, want %+v", plant, wantPlant)
		}
	})
	for i, base := range bases {
		if !reflect.DeepEqual(templates[i], base.Template()) {
			t.Errorf("template %d has changed", i)
		}
	}
	t.Logf("%d built, %d refused", built, refused)
	if refused > 3*built {
		t.Errorf("too few are built: %d of %d", built, built+refused)
	}
}

// same says how two errors differ, "" when they do not.
func same(want, got error) string {
	switch {
	case want == nil && got == nil:
		return ""
	case want == nil:
		return "refused: " + got.Error()
	case got == nil:
		return "accepted, though " + want.Error()
	case want.Error() != got.Error():
		return got.Error() + ", want " + want.Error()
	}
	return ""
}

// TestVariantOfEachNumber sets every number of every case alone: no section is
// forgotten that one is used in.
func TestVariantOfEachNumber(t *testing.T) {
	for _, base := range everyCase(t) {
		template := base.Template()
		for _, path := range base.Paths() {
			p := mustCompile(t, base, path)
			if !p.IsNumber() {
				continue
			}
			list := []setting{{Param: p, value: p.Lo + 0.4*(p.Hi-p.Lo)}}
			if n, known := p.Get(base); known && n.Value != 0 {
				list[0].value = n.Value * 0.97
			}
			_, want, wantErr := whole(base, list)
			_, got, err := varied(template, list)
			if differ := same(wantErr, err); differ != "" {
				t.Errorf("%s: %s: %s", base.Title, path, differ)
			}
			if !reflect.DeepEqual(got, want) {
				t.Errorf("%s: %s: another plant", base.Title, path)
			}
		}
	}
}

// TestTemplateStandsAlone: what happens to a scenario after a template was made of
// it does not show, and a template may have faults that a variant mends.
func TestTemplateStandsAlone(t *testing.T) {
	sc := everyCase(t)[0]
	want, _ := sc.Build()
	template := sc.Template()
	p := mustCompile(t, sc, "engine.rated_power")
	if err := p.Set(sc, 2*want.Engine.RatedPower); err != nil {
		t.Fatal(err)
	}
	if _, got, err := varied(template, nil); err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("%v: %+v", err, got)
	}
	caution, maximum := mustCompile(t, sc, "oil.caution"), mustCompile(t, sc, "oil.maximum")
	if err := caution.Set(sc, 150); err != nil {
		t.Fatal(err)
	}
	template = sc.Template() // the caution is above the maximum
	if _, _, err := varied(template, nil); err == nil {
		t.Error("the faults of a template are not told")
	}
	if _, _, err := varied(template, []setting{{Param: maximum, value: 160}}); err != nil {
		t.Errorf("a mended one: %v", err)
	}
}

// TestVariantsSideBySide is for the race detector.
func TestVariantsSideBySide(t *testing.T) {
	sc := hotTow(t)
	template := sc.Template()
	want := make([]*sim.Plant, 4)
	var group sync.WaitGroup
	for i, path := range []string{"exits.belly.height", "inlets.chin.height", "coolant.maximum", "flight.start"} {
		p := mustCompile(t, sc, path)
		list := []setting{{Param: p, word: "settled"}}
		if n, ok := p.Get(sc); ok {
			list[0].value = 0.99 * n.Value
		}
		group.Go(func() {
			for range 20 {
				_, plant, err := varied(template, list)
				if err != nil {
					t.Error(err)
				}
				if want[i] == nil {
					want[i] = plant
				}
				if !reflect.DeepEqual(plant, want[i]) {
					t.Errorf("%s: another plant", path)
				}
			}
		})
	}
	group.Wait()
}

// hotTow is the tug in its first case.
func hotTow(t testing.TB) *Scenario {
	tug, err := LoadFile("tug", nil)
	if err != nil {
		t.Fatal(err)
	}
	sc, err := tug.Case("hot_tow")
	if err != nil {
		t.Fatal(err)
	}
	return sc
}

// settings are the numbers of some paths as a template has them, or of all.
func (t *Template) settings(paths ...string) (list []setting) {
	if paths == nil {
		paths = t.scenario.Paths()
	}
	for _, path := range paths {
		p, err := t.scenario.Compile(path)
		if err != nil {
			panic(err)
		}
		if n, known := p.Get(t.scenario); known && p.steps[0].field.key != "gauges" {
			list = append(list, setting{Param: p, value: n.Value})
		}
	}
	return list
}

// A variant copies, checks and builds no more than it must. The numbers are exact.
func TestAllocationsOfAVariant(t *testing.T) {
	template := hotTow(t).Template()
	for _, k := range []struct {
		name string
		list []setting
		want float64
	}{
		{"nothing", nil, 3},
		{"two openings", template.settings("exits.belly.height", "inlets.chin.height"), 35},
		{"a core", template.settings("exchangers.radiator.rating.heat"), 98},
		{"the day", template.settings("day.temperature"), 4},
	} {
		got := testing.AllocsPerRun(100, func() {
			if _, _, err := varied(template, k.list); err != nil {
				t.Fatal(err)
			}
		})
		if got != k.want {
			t.Errorf("%s: %v allocations, want %v", k.name, got, k.want)
		}
	}
}

// BenchmarkVariant is what a row of a study costs before it is flown: with two
// openings set, and with every number that is known.
func BenchmarkVariant(b *testing.B) {
	template := hotTow(b).Template()
	for name, list := range map[string][]setting{
		"two openings": template.settings("exits.belly.height", "inlets.chin.height"),
		"a core":       template.settings("exchangers.radiator.rating.heat"),
		"every number": template.settings(),
	} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, _, err := varied(template, list); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	b.Run("anew", func(b *testing.B) {
		list := template.settings("exits.belly.height", "inlets.chin.height")
		b.ReportAllocs()
		for b.Loop() {
			if _, _, err := whole(template.scenario, list); err != nil {
				b.Fatal(err)
			}
		}
	})
}

func withFins(t testing.TB) *Scenario {
	return mustLoad(t, edited(t, "    conductance: {air: 400 W/K, air_flow: 0.4 kg/s, liquid: 2 kW/K, liquid_flow: 40 L/min}",
		"    geometry: {fin: louvered, depth: 30 mm, fin_pitch: 1.5 mm, fin_height: 8 mm, fin_thickness: 0.1 mm, louver_pitch: 1.2 mm, louver_length: 6 mm, louver_angle: 27 deg, tube_height: 2 mm}"))
}
