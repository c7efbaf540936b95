package scenarios

import (
	"cmp"
	"embed"
	"fmt"
	"os"
	"slices"
	"strings"
)

// Source is the text of one scenario file and the name it goes by in faults.
type Source struct {
	Name string
	Text []byte

	embedded bool // built-in
}

//go:embed rotary.yaml seaplane.yaml tug.yaml rotary_baseline.csv rotary_wide_ring.csv
var builtin embed.FS

// BuiltinNames are the names of the built-in scenarios, sorted.
func BuiltinNames() []string {
	entries, err := builtin.ReadDir(".")
	if err != nil {
		return nil
	}
	var names []string
	for _, e := range entries {
		if name, ok := strings.CutSuffix(e.Name(), ".yaml"); ok {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return names
}

// Builtin returns the built-in scenario of a name.
func Builtin(name string) (Source, bool) {
	text, err := builtin.ReadFile(name + ".yaml")
	return Source{name + ".yaml", text, true}, err == nil
}

// LoadFile loads a scenario from a file, or a built-in one by its name, with
// overlay files on top of it.
func LoadFile(path string, overlays []string) (*Scenario, error) {
	base, err := open(path)
	if err != nil {
		return nil, err
	}
	sources := []Source{base}
	for _, overlay := range overlays {
		text, err := os.ReadFile(overlay)
		if err != nil {
			return nil, err
		}
		sources = append(sources, Source{Name: overlay, Text: text})
	}
	return Load(sources...)
}

// open reads a file; a name that is no file may be that of a built-in scenario.
func open(path string) (Source, error) {
	text, err := os.ReadFile(path)
	if err == nil {
		return Source{Name: path, Text: text}, nil
	}
	if s, ok := Builtin(path); ok {
		return s, nil
	}
	if !os.IsNotExist(err) {
		return Source{}, err
	}
	return Source{}, noSuchFile(path)
}

// noSuchFile offers the built-in scenario most like a name, or all of them.
func noSuchFile(path string) error {
	word := strings.ToLower(strings.TrimSuffix(strings.TrimSuffix(path, ".yaml"), ".yml"))
	hint := "built in: " + strings.Join(BuiltinNames(), ", ")
	if near := nearest(word, BuiltinNames()); near != "" {
		hint = "did you mean " + near + "? " + hint
	}
	return fmt.Errorf("%s: no such file and no built-in scenario (%s)", cmp.Or(path, `""`), hint)
}
