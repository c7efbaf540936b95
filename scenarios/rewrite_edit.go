package scenarios

import (
	"bytes"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"
)

// exchange puts another pair, or nothing, in place of that of a key of a mapping.
// On lines of its own the old one stays as a comment.
func (d *draft) exchange(mapping *yaml.Node, key, pair string) error {
	i := pairOf(mapping, key)
	if i < 0 {
		return errDiffers
	}
	old := edit{d.start(mapping.Content[i]), d.end(mapping.Content[i+1]), pair}
	switch {
	case flow(mapping) && pair == "":
		return d.apply(d.cut(old.from, old.to)...)
	case flow(mapping):
		return d.apply(old)
	}
	if before := d.text[d.lineStart(mapping.Content[i]):old.from]; len(bytes.Trim(before, " -")) > 0 {
		return errDiffers // a ? before the key
	}
	old.to = d.lineEnd(old.to)
	if pair != "" {
		old.text += d.newline + indent(mapping.Column)
	}
	old.text += d.asComment(old.from, old.to, mapping.Column)
	return d.apply(old)
}

// asComment is what stands between two offsets as comments that start at a
// column.
func (d *draft) asComment(from, to, column int) string {
	var b strings.Builder
	margin := ""
	for from < to {
		end := min(d.lineEnd(from), to)
		line := strings.TrimPrefix(string(d.text[from:end]), indent(column))
		if strings.TrimSpace(line) != "" {
			b.WriteString(margin + "# " + line)
		}
		margin, from = indent(column), end+lineBreak(d.text[end:to])
		b.Write(d.text[end:from])
	}
	return b.String()
}

func indent(column int) string { return strings.Repeat(" ", column-1) }

// cut takes an entry out of braces or brackets, with the comma behind it, or
// else that before it.
func (d *draft) cut(from, to int) []edit {
	comma := d.significant(to, "")
	if comma < len(d.text) && d.text[comma] == ',' {
		end := comma + 1
		for end < len(d.text) && d.text[end] == ' ' {
			end++
		}
		return []edit{{from, to, ""}, {comma, end, ""}}
	}
	if before := bytes.TrimRight(d.text[:from], " "); bytes.HasSuffix(before, []byte(",")) {
		from = len(before) - 1
	}
	return []edit{{from, to, ""}}
}

// insert adds keys to a mapping, each below the one before, and the text to the
// last of them.
func (d *draft) insert(at place, keys []string, text string) error {
	if at.node.Kind != yaml.MappingNode || at.of != nil {
		return errDiffers
	}
	anchor := at.anchor(keys[0])
	switch {
	case anchor == nil:
		open := d.start(at.node) + 1
		return d.apply(edit{open, open, inBraces(keys, text)})
	case flow(at.node):
		end := d.end(anchor)
		return d.apply(edit{end, end, ", " + inBraces(keys, text)})
	}
	column := at.node.Column
	end := d.behindComments(d.lineEnd(d.end(anchor)), column)
	var lines string
	if at.node == d.root && len(keys) > 1 {
		lines = d.newline // sections stand apart
	}
	for _, key := range keys {
		lines += d.newline + indent(column) + quoted(key) + ":"
		column += d.step()
	}
	return d.apply(edit{end, end, lines + " " + scalar(text)})
}

// inBraces are keys, each below the one before, with the text of the last, as
// they stand in braces.
func inBraces(keys []string, text string) string {
	pair := quoted(keys[len(keys)-1]) + ": " + scalar(text)
	for _, key := range slices.Backward(keys[:len(keys)-1]) {
		pair = quoted(key) + ": {" + pair + "}"
	}
	return pair
}

// anchor is the value behind which a new key shall stand: that of the last key
// declared before it, or the last one. It is nil in an empty section.
func (p place) anchor(key string) *yaml.Node {
	if len(p.node.Content) == 0 {
		return nil
	}
	best, rank := p.node.Content[len(p.node.Content)-1], -1
	if p.in == nil {
		return best
	}
	keys := p.in.keys()
	own := slices.Index(keys, key)
	for i := 0; i+1 < len(p.node.Content); i += 2 {
		if r := slices.Index(keys, p.node.Content[i].Value); r > rank && r < own {
			best, rank = p.node.Content[i+1], r
		}
	}
	return best
}

// behindComments goes on from the end of a line behind the lines of comments
// below it that stand further in than a column: they go on from the comment of
// that line.
func (d *draft) behindComments(end, column int) int {
	for {
		start := end + lineBreak(d.text[end:])
		next := d.lineEnd(start)
		line := d.text[start:next]
		text := bytes.TrimLeft(line, " ")
		if start == end || len(line)-len(text) < column || !bytes.HasPrefix(text, []byte("#")) {
			return end
		}
		end = next
	}
}

// step is how far the file indents.
func (d *draft) step() int {
	for i := 1; i < len(d.root.Content); i += 2 {
		if n := d.root.Content[i]; n.Kind == yaml.MappingNode && !flow(n) {
			return n.Column - d.root.Column
		}
	}
	return 2
}

// dropFit takes a path out of the fit, and the fit out of the file with its last
// path.
func (d *draft) dropFit(path string) error {
	if err := d.flush(); err != nil {
		return err
	}
	if err := d.read(); err != nil {
		return err
	}
	fit := d.root.Content[pairOf(d.root, "fit")+1]
	paths := fit.Content[pairOf(fit, "paths")+1]
	if len(paths.Content) == 1 {
		return d.exchange(d.root, "fit", "")
	}
	i := slices.IndexFunc(paths.Content, func(n *yaml.Node) bool { return n.Value == path })
	if i < 0 {
		return errDiffers
	}
	item := paths.Content[i]
	if flow(paths) {
		return d.apply(d.cut(d.start(item), d.end(item))...)
	}
	from, to := d.lineStart(item)+paths.Column-1, d.lineEnd(d.end(item))
	return d.apply(edit{from, to, d.asComment(from, to, paths.Column)})
}
