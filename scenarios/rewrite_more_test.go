package scenarios

import (
	"errors"
	"strings"
	"testing"
)

// TestRewritePlaces holds where new lines stand: behind the key declared before
// them, its comment and what goes on of it.
func TestRewritePlaces(t *testing.T) {
	for _, row := range []struct {
		change     []string
		path, text string
		want       string
	}{
		{
			nil, "day.humidity", "30 %",
			"  temperature: 95 degF\n  humidity: 30 %\nflight:\n",
		},
		{
			[]string{"  maximum: 235 degF\n", "  maximum: 235 degF  # as the maker\n                     # says\n                     # so\n"}, "coolant.sensor", "engine_in",
			"  maximum: 235 degF  # as the maker\n                     # says\n                     # so\n  sensor: engine_in\n  caution: 220 degF\n",
		},
		{
			[]string{"day:\n", "# the day\nday:\n"}, "gauges.oil.bias", "1 K",
			"  leg: hold\n\ngauges:\n  oil:\n    bias: 1 K\n# the day\nday:\n",
		},
		{
			[]string{"day:\n  elevation: 500 ft\n", "day:\n    elevation: 500 ft\n", "  temperature: 95 degF\n", "    temperature: 95 degF\n"}, "day.humidity", "30 %",
			"    temperature: 95 degF\n    humidity: 30 %\n",
		},
	} {
		text := rewritten(t, edited(t, row.change...), []CaseSetting{{"", Setting{row.path, row.text}}})
		if !strings.Contains(text, row.want) {
			t.Errorf("%s stands elsewhere:\n%s", row.path, text)
		}
	}
}

// TestRewriteInCases holds that settings that the sections of the file cannot
// hold go into the cases: here the file alone has a caution above the new
// maximum, and a change of it would have one.
func TestRewriteInCases(t *testing.T) {
	file := edited(t, "  - name: cool\n", "  - name: cool\n    set: {coolant.caution: 190 degF}\n",
		"      inlets.left.recovery: 0.4\n", "      inlets.left.recovery: 0.4\n      coolant.caution: 195 degF\n")
	list := []CaseSetting{{"", Setting{"coolant.maximum", "210 degF"}}}
	if got, want := changedLines(file, rewritten(t, file, list)), `
-    set: {coolant.caution: 190 degF}
+    set: {coolant.caution: 190 degF, coolant.maximum: 210 degF}
+      coolant.maximum: 210 degF
`; got != want[1:] {
		t.Errorf("got\n%s", got)
	}
}

// TestRewriteRefuses tells files and settings that cannot be written.
func TestRewriteRefuses(t *testing.T) {
	alone := string(Starter()) + `
changes:
  - name: hotter
    set: {coolant.caution: 225 degF}
`
	for _, row := range []struct {
		name, file, path, text string
		faults                 bool
		want                   string
	}{
		{"a file with faults", edited(t, "oil:\n  volume: 4 L", "oil:\n  volume: 4"), "oil.volume", "5 L", true, "oil.volume: 4 has no unit"},
		{"an unknown path", good, "oil.volum", "5 L", true, "oil.volum: unknown path: there is no volum (did you mean oil.volume?)"},
		{"a coefficient of correlation", good, "correlations.a.value", "0.5", true, "correlations.a.value: unknown path: correlations cannot be set"},
		{"no scenario", "- a\n", "oil.volume", "5 L", true, "the file is no scenario (it must hold sections such as aircraft: and engine:)"},
		{
			"what a change could not follow", alone, "coolant.maximum", "222 degF", false,
			"the file cannot hold these settings, for with them it has a fault: changes.hotter.set: with these settings coolant.caution: 225 degF is not below coolant.maximum, 222 degF",
		},
		{
			"a form beyond it", strings.Replace(string(Starter()), "    diameter: 4 in\n", "    ? diameter\n    : 4 in\n", 1), "inlets.cheek.area", "21 in^2", false,
			"the settings cannot be written into this file without writing it anew: change it by hand",
		},
	} {
		t.Run(row.name, func(t *testing.T) {
			text, err := Rewrite([]byte(row.file), []CaseSetting{{"", Setting{row.path, row.text}}})
			if err == nil || text != nil {
				t.Fatalf("it is written:\n%s", text)
			}
			if !strings.HasPrefix(err.Error(), row.want) {
				t.Errorf("%v", err)
			}
			if _, ok := err.(Faults); ok != row.faults {
				t.Errorf("%T", err)
			}
		})
	}
}

// FuzzRewrite: whatever the file and the settings, Rewrite returns an error or a
// file with the cases of WithCaseSettings, and the same when it is asked again.
func FuzzRewrite(f *testing.F) {
	for _, write := range writings {
		f.Add([]byte(write(good)), "", "day.temperature", "80 degF", "day.isa_offset", "9 K")
	}
	f.Add([]byte(strings.ReplaceAll(good, "\n", "\u2028")), "taxi", "notes", "a\n b", "title", "'")
	f.Add([]byte(edited(f, "    width: 5 in\n", "    ? width\n    : 5 in\n")), "cool", "inlets.right.area", "9 in^2", "title", "- a")
	f.Fuzz(func(t *testing.T, file []byte, name, path, text, path2, text2 string) {
		list := []CaseSetting{{name, Setting{path, text}}, {"", Setting{path2, text2}}}
		written, err := Rewrite(file, list)
		var faults Faults
		before, bad := Load(Source{Text: file})
		switch {
		case bad != nil && !errors.As(err, &faults):
			t.Fatalf("%v, want %v", err, bad)
		case err != nil && err.Error() == "":
			t.Fatal("it is refused without a word")
		case err == nil:
			rewritten(t, string(file), list)
			sameCases(t, all(t, mustLoad(t, string(written))), all(t, mustWith(t, before, list...)))
		}
	})
}
