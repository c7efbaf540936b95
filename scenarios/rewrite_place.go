package scenarios

import (
	"bytes"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"
)

// findLines finds where lines start, and how they end, as YAML counts them.
func (d *draft) findLines() {
	d.newline = "\n"
	d.lines = []int{len(d.text) - len(bytes.TrimPrefix(d.text, []byte("\ufeff")))}
	for i := d.lines[0]; i < len(d.text); {
		size := lineBreak(d.text[i:])
		if size == 0 {
			i++
			continue
		}
		if len(d.lines) == 1 {
			d.newline = string(d.text[i : i+size])
		}
		i += size
		d.lines = append(d.lines, i)
	}
}

// lineBreak is the length of the line break with which a text starts, 0 without
// one.
func lineBreak(text []byte) int {
	for _, b := range []string{"\r\n", "\n", "\r", "\u0085", "\u2028", "\u2029"} {
		if bytes.HasPrefix(text, []byte(b)) {
			return len(b)
		}
	}
	return 0
}

// lineEnd is the offset of the end of the line that holds an offset, before its
// line break.
func (d *draft) lineEnd(at int) int {
	for at < len(d.text) && lineBreak(d.text[at:]) == 0 {
		at++
	}
	return at
}

// lineStart is the offset at which the line of a node starts.
func (d *draft) lineStart(n *yaml.Node) int { return d.lines[n.Line-1] }

// start is the offset of a node.
func (d *draft) start(n *yaml.Node) int {
	at := d.lineStart(n)
	for range n.Column - 1 {
		_, size := utf8.DecodeRune(d.text[at:])
		at += size
	}
	return at
}

// end is the offset behind the last character of a node.
func (d *draft) end(n *yaml.Node) int {
	switch {
	case n.Kind == yaml.ScalarNode:
		return d.scalarEnd(n)
	case flow(n):
		at := d.start(n) + 1
		if len(n.Content) > 0 {
			at = d.end(n.Content[len(n.Content)-1])
		}
		if closing := d.significant(at, ","); closing < len(d.text) {
			return closing + 1
		}
		return len(d.text)
	}
	return d.end(n.Content[len(n.Content)-1])
}

// scalarEnd finds the closing quote, or follows the characters of the value, of
// which YAML only folds the space between.
func (d *draft) scalarEnd(n *yaml.Node) int {
	at := d.start(n)
	switch {
	case n.Style&yaml.DoubleQuotedStyle != 0:
		for at++; at < len(d.text) && d.text[at] != '"'; at++ {
			if d.text[at] == '\\' {
				at++
			}
		}
		return min(at+1, len(d.text))
	case n.Style&yaml.SingleQuotedStyle != 0:
		for at++; at < len(d.text); at++ {
			if d.text[at] != '\'' {
				continue
			}
			if at+1 == len(d.text) || d.text[at+1] != '\'' {
				return at + 1
			}
			at++
		}
		return len(d.text)
	case n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0:
		at = d.lineEnd(at)
	}
	for _, c := range n.Value {
		if blank(c) {
			continue
		}
		for at < len(d.text) {
			found, size := utf8.DecodeRune(d.text[at:])
			at += size
			if !blank(found) {
				break
			}
		}
	}
	return at
}

// blank says that YAML may fold a character between words, or break a line there.
func blank(c rune) bool {
	switch c {
	case ' ', '\t', '\n', '\r', '\u0085', '\u2028', '\u2029':
		return true
	}
	return false
}

// significant is the offset of the first character from an offset on that is no
// space, no comment and none of those skipped.
func (d *draft) significant(at int, skipped string) int {
	for at < len(d.text) {
		c, size := utf8.DecodeRune(d.text[at:])
		switch {
		case c == '#':
			at = d.lineEnd(at)
		case blank(c) || bytes.ContainsRune([]byte(skipped), c):
			at += size
		default:
			return at
		}
	}
	return at
}

// headerComment is the comment behind the | or > with which a value starts, with
// the space before it.
func (d *draft) headerComment(value *yaml.Node) string {
	if value.Style&(yaml.LiteralStyle|yaml.FoldedStyle) == 0 {
		return ""
	}
	from := d.start(value)
	header := d.text[from:d.lineEnd(from)]
	if i := bytes.IndexByte(header, '#'); i >= 0 {
		return " " + string(bytes.TrimRight(header[i:], " \t"))
	}
	return ""
}
