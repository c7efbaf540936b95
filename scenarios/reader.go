package scenarios

import (
	"fmt"
	"regexp"
	"strings"

	"go.yaml.in/yaml/v3"
)

// tree is a section as written: values are string, []string or tree. A list of
// named items is a tree too, by name, so that an overlay merges item by item;
// their order is kept apart.
type tree = map[string]any

// reader walks the nodes of the files along the fields of a scenario and
// gathers every fault.
type reader struct {
	file   string
	rank   int // of the file
	faults Faults

	where positions      // where each path stands, in the last file that sets it
	order map[string]int // when each path was first met, over all files
	first map[string]int // rank of the file in which that was
	bad   badPaths       // paths with a fault
}

// tell adds a fault at a place of the file.
func (r *reader) tell(line, column int, path, message, hint string) {
	r.faults = append(r.faults, Fault{r.file, max(line, 1), max(column, 1), path, message, hint, r.rank})
	if path != "" {
		r.bad[path] = true
	}
}

func (r *reader) tellAt(n *yaml.Node, path, message, hint string) {
	r.tell(n.Line, n.Column, path, message, hint)
}

// note keeps where a path stands.
func (r *reader) note(n *yaml.Node, path string) {
	r.where[path] = position{r.file, r.rank, n.Line, n.Column}
	if _, ok := r.order[path]; !ok {
		r.order[path], r.first[path] = len(r.order), r.rank
	}
}

// plain tells nodes that use more of YAML than a scenario needs.
func (r *reader) plain(n *yaml.Node, path string) bool {
	switch {
	case n.Kind == yaml.AliasNode || n.Anchor != "" || n.ShortTag() == "!!merge":
		r.tellAt(n, path, anchors, writeOut)
	case n.Style&yaml.TaggedStyle != 0:
		r.tellAt(n, path, "tags such as "+n.Tag+" are not used in scenario files", "remove it")
	default:
		return true
	}
	return false
}

// section reads the keys of a section.
func (r *reader) section(n *yaml.Node, fs *fields, path string) tree {
	t := tree{}
	r.pairs(n, path, func(key, value *yaml.Node, at string) {
		f, ok := fs.byKey[key.Value]
		if !ok {
			r.unknownKey(key, fs, path)
			return
		}
		r.note(key, at)
		if read := r.value(value, f, at); read != nil {
			t[f.key] = read
		}
	})
	r.alternatives(fs, path, t)
	return t
}

// pairs visits the pairs of a mapping, each key once.
func (r *reader) pairs(n *yaml.Node, path string, visit func(key, value *yaml.Node, at string)) {
	seen := map[string]*yaml.Node{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i], n.Content[i+1]
		if !r.plain(key, path) {
			continue
		}
		if key.Kind != yaml.ScalarNode {
			r.tellAt(key, path, "a key must be a plain word", "")
			continue
		}
		at := join(path, key.Value)
		if first := seen[key.Value]; first != nil {
			r.tellAt(key, at, fmt.Sprintf("given twice, first on line %d", first.Line), "keep one")
			continue
		}
		seen[key.Value] = key
		visit(key, value, at)
	}
}

// unknownKey tells a key that no field has. Its likely field counts as bad, so
// that it is not missed as well.
func (r *reader) unknownKey(key *yaml.Node, fs *fields, path string) {
	hint := didYouMean(key.Value, fs.keys())
	if strings.Contains(key.Value, ".") {
		hint = "a path is no key: write its parts as keys, each indented below the one before"
	}
	r.tellAt(key, join(path, key.Value), "unknown key", hint)
	if near := nearest(key.Value, fs.keys()); near != "" {
		r.bad[join(path, near)] = true
	}
}

// alternatives tells fields of one section that exclude each other.
func (r *reader) alternatives(fs *fields, path string, t tree) {
	told := map[string]bool{}
	for _, f := range fs.list {
		if t[f.key] == nil || told[f.group] {
			continue
		}
		for _, rival := range f.rivals {
			if t[rival.key] != nil && !told[f.group] {
				told[f.group] = true
				r.rivals(path, f.key, rival.key)
			}
		}
	}
}

// rivals tells two keys that exclude each other, at the later one.
func (r *reader) rivals(path, a, b string) {
	at := r.where[join(path, a)]
	if other := r.where[join(path, b)]; other.line > at.line || other.line == at.line && other.column > at.column {
		at = other
	}
	r.tell(at.line, at.column, path, "given twice: "+a+" and "+b, "keep one")
}

var goodName = regexp.MustCompile(`^[a-z][a-z0-9_]*$`)

// name checks the name of a section.
func (r *reader) name(n *yaml.Node, path string) bool {
	if goodName.MatchString(n.Value) {
		return true
	}
	r.tellAt(n, path, fmt.Sprintf("%q is no good name", n.Value), "use small letters, digits and _, a letter first")
	return false
}
