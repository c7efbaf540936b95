package scenarios

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"
)

// kindOf says what each shape looks like, for faults.
var kindOf = map[shape]struct {
	node yaml.Kind
	want string
}{
	shapeNumber:   {yaml.ScalarNode, "a number with its unit"},
	shapeText:     {yaml.ScalarNode, "a word or a line of text"},
	shapeTexts:    {yaml.SequenceNode, "a list of words, as in [one, two]"},
	shapeSettings: {yaml.MappingNode, "paths with their values, as in inlets.left.area: 13 in^2"},
	shapeSection:  {yaml.MappingNode, "keys of its own, indented below it"},
	shapeNamed:    {yaml.MappingNode, "names, indented below it, each with keys of its own"},
	shapeItems:    {yaml.SequenceNode, "a list, each item starting with - name:"},
}

// value reads the value of a field; nil when it has a fault.
func (r *reader) value(n *yaml.Node, f *field, path string) any {
	if !r.plain(n, path) || !r.shaped(n, f, path) {
		return nil
	}
	switch f.shape {
	case shapeSection:
		return r.section(n, f.sub, path)
	case shapeNamed:
		return r.named(n, f, path)
	case shapeItems:
		return r.items(n, f, path)
	case shapeSettings:
		return r.settings(n, path)
	case shapeTexts:
		return r.texts(n, path)
	}
	r.note(n, path)
	return r.scalar(n, f, path)
}

// shaped tells a node of another kind than its field wants.
func (r *reader) shaped(n *yaml.Node, f *field, path string) bool {
	want := kindOf[f.shape]
	if n.Kind == want.node && !isNull(n) {
		return r.fewEnough(n, path)
	}
	switch {
	case isNull(n) && want.node == yaml.MappingNode:
		r.tellAt(n, path, "has nothing in it", "write {} to take every default, or remove it")
	case isNull(n):
		r.tellAt(n, path, "has no value", "give "+want.want+", or remove it")
	default:
		r.tellAt(n, path, "must be "+want.want, "")
	}
	return false
}

// mostEntries is the greatest number of names or items in one place, and
// mostCorrelations that of correlations, which go with the square of the numbers
// of a fit: those of 150. They keep the time to check any file short.
const (
	mostEntries      = 1000
	mostCorrelations = 150 * 149 / 2
)

func (r *reader) fewEnough(n *yaml.Node, path string) bool {
	entries, most := len(n.Content), mostEntries
	if n.Kind == yaml.MappingNode {
		entries /= 2
	}
	if path == "correlations" {
		most = mostCorrelations
	}
	if entries > most {
		r.tellAt(n, path, fmt.Sprintf("has %d entries, too many", entries), fmt.Sprintf("at most %d", most))
	}
	return entries <= most
}

// named reads sections by name.
func (r *reader) named(n *yaml.Node, f *field, path string) any {
	t := tree{}
	section := &field{shape: shapeSection, sub: f.sub}
	r.pairs(n, path, func(key, value *yaml.Node, at string) {
		r.note(key, at)
		good := r.name(key, at)
		if read := r.value(value, section, at); read != nil && good {
			t[key.Value] = read
		}
	})
	return t
}

// items reads a list of sections, each with its name.
func (r *reader) items(n *yaml.Node, f *field, path string) any {
	t := tree{}
	section := &field{shape: shapeSection, sub: f.sub}
	for i, item := range n.Content {
		name := itemName(item)
		at := join(path, fmt.Sprintf("#%d", i+1))
		if name != nil && goodName.MatchString(name.Value) {
			at = join(path, name.Value)
		}
		switch read := r.value(item, section, at); {
		case read == nil:
		case name == nil:
			r.tellAt(item, at, "has no name", "start it with name:")
		case !r.name(name, at):
		case t[name.Value] != nil:
			r.tellAt(name, at, "name used twice", "")
		default:
			r.note(item, at)
			t[name.Value] = read
		}
	}
	return t
}

// itemName is the node of an item's name, nil without one.
func itemName(item *yaml.Node) *yaml.Node {
	if item.Kind != yaml.MappingNode {
		return nil
	}
	for i := 0; i+1 < len(item.Content); i += 2 {
		if item.Content[i].Value == "name" && item.Content[i+1].Kind == yaml.ScalarNode {
			return item.Content[i+1]
		}
	}
	return nil
}

// settings reads paths and their values; the paths are compiled later.
func (r *reader) settings(n *yaml.Node, path string) any {
	t := tree{}
	line := &field{shape: shapeText}
	r.pairs(n, path, func(key, value *yaml.Node, at string) {
		r.note(key, at)
		if key.Value == "" || strings.ToLower(key.Value) != key.Value {
			r.tellAt(key, at, "is no path", "paths have small letters, as inlets.left.area")
			return
		}
		if read := r.value(value, line, at); read != nil {
			t[key.Value] = read
		}
	})
	return t
}

// texts reads a list of words.
func (r *reader) texts(n *yaml.Node, path string) any {
	list := []string{}
	word := &field{shape: shapeText}
	for _, item := range n.Content {
		at := join(path, item.Value)
		if !r.plain(item, path) || !r.shaped(item, word, path) {
			continue
		}
		if slices.Contains(list, item.Value) {
			r.tellAt(item, at, "given twice", "keep one")
			continue
		}
		r.note(item, at)
		list = append(list, item.Value)
	}
	return list
}

// scalar checks a number or a word and returns it as written.
func (r *reader) scalar(n *yaml.Node, f *field, path string) any {
	if message, hint := f.wrong(n.Value); message != "" {
		r.tellAt(n, path, message, hint)
		return nil
	}
	return n.Value
}

// wrong says what is wrong with the text of a number or a word.
func (f *field) wrong(value string) (message, hint string) {
	if f.shape == shapeText {
		switch {
		case strings.TrimSpace(value) == "":
			return "has no value", "give one, or remove it"
		case f.words != nil && !slices.Contains(f.words, value):
			return fmt.Sprintf("%q is not one of its words", value), knownWords(value, f.words)
		}
		return "", ""
	}
	n, err := Parse(value, f.dim)
	if err != nil {
		return err.Error(), ""
	}
	return f.outside(n)
}

// leastPercent is the least number out of range that is taken for a percentage
// without its sign.
const leastPercent = 5

// outside says when a number is out of range, in the unit it was written in.
// The slack is for limits that are rounded in that unit.
func (f *field) outside(n Number) (message, hint string) {
	slack := 1e-12 * max(math.Abs(f.lo), math.Abs(f.hi))
	if f.lo-slack <= n.Value && n.Value <= f.hi+slack {
		return "", ""
	}
	show := func(v float64) string { return Format(v, n.Unit, f.dim) }
	hint = show(f.lo) + " to " + show(f.hi)
	if f.dim == ratio && n.Unit == "" && n.Value >= leastPercent && n.Value/100 <= f.hi {
		hint = "did you mean " + show(n.Value) + " %? " + hint
	}
	return show(n.Value) + " is out of range", hint
}

func knownWords(word string, words []string) string {
	hint := "one of " + strings.Join(words, ", ")
	if near := nearest(word, words); near != "" {
		hint = "did you mean " + near + "? " + hint
	}
	return hint
}
