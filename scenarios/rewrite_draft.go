package scenarios

import (
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"
)

// draft is the text of a scenario file that is being edited. Its nodes say where
// things stand in the text; changes of single values wait, for they move nothing
// that is looked up by another.
type draft struct {
	text    []byte
	waiting []edit
	root    *yaml.Node // nil when the text has changed since it was read
	lines   []int      // offsets at which they start
	newline string
}

// edit puts a text in place of what stands between two offsets.
type edit struct {
	from, to int
	text     string
}

// read makes the nodes of the text.
func (d *draft) read() error {
	if d.root != nil {
		return nil
	}
	var doc yaml.Node
	if err := yaml.Unmarshal(d.text, &doc); err != nil || len(doc.Content) == 0 || doc.Content[0].Kind != yaml.MappingNode {
		return errDiffers
	}
	d.root = doc.Content[0]
	d.findLines()
	return nil
}

// apply applies edits of the text as it was read.
func (d *draft) apply(edits ...edit) error {
	slices.SortStableFunc(edits, func(a, b edit) int { return a.from - b.from })
	var text []byte
	at := 0
	for _, e := range edits {
		if e.from < at || e.to < e.from {
			return errDiffers
		}
		text = append(append(text, d.text[at:e.from]...), e.text...)
		at = e.to
	}
	d.text = append(text, d.text[at:]...)
	d.root = nil
	return nil
}

// flush applies what waits.
func (d *draft) flush() error {
	if len(d.waiting) == 0 {
		return nil
	}
	edits := d.waiting
	d.waiting = nil
	return d.apply(edits...)
}

// put gives a number or a word where the target wants it.
func (d *draft) put(t target) error {
	at, missing, err := d.find(t.steps)
	if err != nil {
		return err
	}
	if pair := pairOf(at.node, t.key); pair >= 0 && len(missing) == 0 {
		d.change(at.node.Content[pair+1], t.text)
		return nil
	}
	if len(d.waiting) > 0 {
		if err := d.flush(); err != nil {
			return err
		}
		return d.put(t)
	}
	if len(missing) > 0 {
		return d.insert(at, append(missing, t.key), t.text)
	}
	return d.replace(at, t)
}

// find goes along steps as far as the file has them.
func (d *draft) find(steps []string) (at place, missing []string, err error) {
	if err := d.read(); err != nil {
		return place{}, nil, err
	}
	at = place{d.root, root(), nil}
	for i, step := range steps {
		next, ok := at.below(step)
		if !ok {
			return at, slices.Clone(steps[i:]), nil
		}
		at = next
	}
	return at, nil, nil
}

// change lets the change of a value wait, in place of an earlier one.
func (d *draft) change(value *yaml.Node, text string) {
	e := edit{d.start(value), d.end(value), scalar(text) + d.headerComment(value)}
	d.waiting = slices.DeleteFunc(d.waiting, func(old edit) bool { return old.from == e.from })
	if value.Value != text {
		d.waiting = append(d.waiting, e)
	}
}

// replace puts a target in place of the first key that it excludes, and drops the
// others. Without any it is new.
func (d *draft) replace(at place, t target) error {
	var rivals []string // in the order of the file
	for i := 0; i+1 < len(at.node.Content); i += 2 {
		if key := at.node.Content[i].Value; slices.Contains(t.rivals, key) {
			rivals = append(rivals, key)
		}
	}
	if len(rivals) == 0 {
		return d.insert(at, []string{t.key}, t.text)
	}
	if err := d.exchange(at.node, rivals[0], quoted(t.key)+": "+scalar(t.text)); err != nil {
		return err
	}
	for _, key := range rivals[1:] {
		at, missing, err := d.find(t.steps)
		if err != nil || len(missing) > 0 {
			return errDiffers
		}
		if err := d.exchange(at.node, key, ""); err != nil {
			return err
		}
	}
	return nil
}

// place is a section of the file, or the names or the list in one.
type place struct {
	node *yaml.Node
	in   *fields // of the section; nil among settings
	of   *field  // of which this holds the names or the list, nil in a section
}

// below goes on to a key of a section or to a name.
func (p place) below(step string) (place, bool) {
	next := place{in: p.in}
	if p.of != nil {
		next.in = p.of.sub
	} else if f := p.in.byKey[step]; f != nil {
		switch f.shape {
		case shapeNamed, shapeItems:
			next.of = f
		default:
			next.in = f.sub
		}
	}
	if p.node.Kind == yaml.SequenceNode {
		i := slices.IndexFunc(p.node.Content, func(item *yaml.Node) bool {
			name := itemName(item)
			return name != nil && name.Value == step
		})
		if i < 0 {
			return p, false
		}
		next.node = p.node.Content[i]
		return next, true
	}
	pair := pairOf(p.node, step)
	if pair < 0 {
		return p, false
	}
	next.node = p.node.Content[pair+1]
	return next, true
}

// pairOf is the index of a key in a mapping, -1 without it.
func pairOf(mapping *yaml.Node, key string) int {
	for i := 0; i+1 < len(mapping.Content); i += 2 {
		if mapping.Content[i].Value == key {
			return i
		}
	}
	return -1
}

// flow says that a mapping or a list is written in braces or brackets.
func flow(n *yaml.Node) bool { return n.Style&yaml.FlowStyle != 0 }

// scalar is a text as YAML reads it back, plain where it can be.
func scalar(text string) string {
	if quoted(text) == text || text == "" {
		return quoted(text)
	}
	var doc yaml.Node
	if strings.TrimSpace(text) == text && yaml.Unmarshal([]byte("{a: "+text+"}"), &doc) == nil && len(doc.Content) == 1 {
		if m := doc.Content[0]; len(m.Content) == 2 {
			if n := m.Content[1]; n.Kind == yaml.ScalarNode && n.Value == text && n.Style == 0 && n.ShortTag() == "!!str" && n.Anchor == "" {
				return text
			}
		}
	}
	return quoted(text)
}
