package scenarios

import (
	"bytes"
	"errors"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// FuzzLoad: whatever the bytes, Load returns a scenario or faults that each
// have a place; a scenario survives being written and loaded again.
func FuzzLoad(f *testing.F) {
	f.Add([]byte(good), []byte(""))
	f.Add([]byte(good), []byte("inlets: {left: {diameter: 5 in}}\n"))
	f.Add([]byte(good), []byte("flight:\n  legs:\n    - {name: dive, kind: descend, speed: 90 mph, for: 3 min}\n"))
	f.Add([]byte(good), []byte("title: a\n---\ntitle: b\n"))
	for _, row := range slices.Concat(readingRows, cowlRows, studyRows, recordRows) {
		f.Add([]byte(edited(f, row.change...)), []byte("title: overlay\n"))
	}
	f.Add([]byte("a: &a [*a, *a]\n"), []byte("? [a]\n: b\n"))
	f.Add([]byte("inlets: {\"\": {}, a.b: {}, ~: {}}\ncases: [~, {name: ~}, {name: [a]}, {name: a, name: b}]\n"), []byte("{"))
	f.Fuzz(func(t *testing.T, base, overlay []byte) {
		files := []Source{{Name: "base.yaml", Text: base}}
		if len(overlay) > 0 {
			files = append(files, Source{Name: "over.yaml", Text: overlay})
		}
		sc, err := Load(files...)
		if err != nil {
			checkPlaces(t, err, base, overlay)
			return
		}
		var b bytes.Buffer
		if err := Write(&b, sc); err != nil {
			t.Fatal(err)
		}
		again, err := Load(Source{Name: "written.yaml", Text: b.Bytes()})
		if err != nil {
			t.Fatalf("%v\n%s", err, b.Bytes())
		}
		if again.SHA256() != sc.SHA256() {
			t.Errorf("differs after writing:\n%s", b.Bytes())
		}
		if c := sc.Clone(); !reflect.DeepEqual(c, sc) {
			t.Error("a clone differs")
		}
	})
}

// checkPlaces checks that every fault stands in one of the files.
func checkPlaces(t *testing.T, err error, base, overlay []byte) {
	var faults Faults
	if !errors.As(err, &faults) || len(faults) == 0 {
		t.Fatalf("%T: %v", err, err)
	}
	lines := map[string]int{"base.yaml": 1 + bytes.Count(base, []byte("\n")), "over.yaml": 1 + bytes.Count(overlay, []byte("\n"))}
	for _, f := range faults {
		if f.Line < 1 || f.Column < 1 || f.Message == "" || lines[f.File] == 0 {
			t.Errorf("%+v", f)
		}
	}
}

// Lines deleted, doubled, swapped or given another value never break the
// loader either; unlike single bytes they mostly leave good YAML.
func TestLoadMangled(t *testing.T) {
	values := []string{"", " {}", " []", " 5", " 5 m", " coolant", " [a, b]", " {a: b}", " ~", " left", " 1 in^2..2 in^2:3"}
	rapid.Check(t, func(rt *rapid.T) {
		lines := strings.SplitAfter(good, "\n")
		for range rapid.IntRange(1, 5).Draw(rt, "edits") {
			i := rapid.IntRange(0, len(lines)-1).Draw(rt, "line")
			switch rapid.IntRange(0, 3).Draw(rt, "edit") {
			case 0:
				lines[i] = ""
			case 1:
				lines[i] += lines[i]
			case 2:
				j := rapid.IntRange(0, len(lines)-1).Draw(rt, "other")
				lines[i], lines[j] = lines[j], lines[i]
			case 3:
				key, _, _ := strings.Cut(lines[i], ":")
				lines[i] = key + ":" + rapid.SampledFrom(values).Draw(rt, "value") + "\n"
			}
		}
		text := strings.Join(lines, "")
		if sc, err := Load(Source{Name: "base.yaml", Text: []byte(text)}); err != nil {
			checkPlaces(t, err, []byte(text), nil)
		} else if reloaded(t, sc).SHA256() != sc.SHA256() {
			t.Errorf("differs after writing:\n%s", text)
		}
	})
}
