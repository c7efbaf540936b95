package scenarios

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Files that are no scenario at all tell just that.
func TestNoScenario(t *testing.T) {
	many := "inlets:\n" + strings.Repeat("  a: {}\n", 1001)
	for _, row := range []struct{ name, text, want string }{
		{"empty", "", "base.yaml:1:1: the file is empty (hotclimb init writes one to start from)"},
		{"comment only", "# nothing\n", "base.yaml:1:1: the file is empty (hotclimb init writes one to start from)"},
		{"null", "~\n", "base.yaml:1:1: the file is empty (hotclimb init writes one to start from)"},
		{"a list", "- a\n", "base.yaml:1:1: the file is no scenario (it must hold sections such as aircraft: and engine:)"},
		{"a word", "tug\n", "base.yaml:1:1: the file is no scenario (it must hold sections such as aircraft: and engine:)"},
		{"too big", strings.Repeat("#\n", 2<<20+1), "base.yaml:1:1: the file is too big: 4194306 bytes, at most 4194304"},
		{"open quote", "title: \"a\nday: {}\n", "base.yaml:1:1: this cannot be read as YAML: a quote is not closed (look at indentation, colons and quotes here and on the line above)"},
		{"indentation", "day:\n  wind: 0 mph\n humidity: 0\ntitle: x\n", "base.yaml:3:1: this cannot be read as YAML: it is not in line with the keys above (look at indentation, colons and quotes here and on the line above)"},
		{"open brace", "day: {wind: 0 mph,\n  humidity: 0}\noil: {volume: 3 L\ntitle: x\n", "base.yaml:3:1: this cannot be read as YAML: a { is not closed or a comma is missing (look at indentation, colons and quotes here and on the line above)"},
		{"no text", "\x89PNG\r\n\x1a\n\x00\x00", "base.yaml:1:1: the file is no text (a scenario is a text file; hotclimb init writes one to start from)"},
		{"UTF-16", "\xff\xfet\x00i\x00", "base.yaml:1:1: the file is UTF-16 text (save it as UTF-8)"},
		{"too many names", many, "base.yaml:2:3: inlets: has 1001 entries, too many (at most 1000)"},
	} {
		_, err := Load(Source{Name: "base.yaml", Text: []byte(row.text)})
		if first, _, _ := strings.Cut(err.Error(), "\n"); first != row.want && !strings.Contains(err.Error(), row.want) {
			t.Errorf("%s:\n%v\nwant\n%s", row.name, err, row.want)
		}
	}
}

// A bomb of aliases is refused where it starts, at once.
func TestAliasBomb(t *testing.T) {
	text := "title: &a x\n"
	for c := 'b'; c <= 'z'; c++ {
		last := "*" + string(c-1)
		text += string(c) + ": &" + string(c) + " [" + strings.Repeat(last+", ", 9) + last + "]\n"
	}
	_, err := Load(Source{Name: "base.yaml", Text: []byte(text)})
	if err == nil || !strings.Contains(err.Error(), "base.yaml:1:8: title: anchors") {
		t.Error(err)
	}
}

// The mark some editors put before a text is no part of it.
func TestByteOrderMark(t *testing.T) {
	mustLoad(t, "\ufeff"+good)
}

// Lines may end as they do on Windows.
func TestCarriageReturns(t *testing.T) {
	sc := mustLoad(t, strings.ReplaceAll(good, "\n", "\r\n"))
	if sc.Title != "a pusher seaplane with two cores" {
		t.Errorf("title %q", sc.Title)
	}
}

func TestLoadFile(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	base, over := write("base.yaml", good), write("over.yaml", "title: over\ninlets: {left: {area: 9 in^2}}\n")
	sc, err := LoadFile(base, []string{over})
	if err != nil || sc.Title != "over" || sc.Inlets["left"].Area.Text != "9 in^2" {
		t.Errorf("%v", err)
	}
	if _, err = LoadFile(base, []string{filepath.Join(dir, "missing.yaml")}); err == nil {
		t.Error("a missing overlay is no error")
	}
	for name, want := range map[string]string{
		"Tug.yaml": "Tug.yaml: no such file and no built-in scenario (did you mean tug? built in: rotary, seaplane, tug)",
		"":         `"": no such file and no built-in scenario (built in: rotary, seaplane, tug)`,
	} {
		if _, err = LoadFile(name, nil); err == nil || err.Error() != want {
			t.Errorf("%q: %v", name, err)
		}
	}
	bad := write("bad.yaml", "inlets: {left: {area: 9 in}}\n")
	if _, err = LoadFile(base, []string{bad}); err == nil || !strings.HasPrefix(err.Error(), bad+":1:23: inlets.left.area: ") {
		t.Errorf("the fault does not point into the overlay: %v", err)
	}
}
