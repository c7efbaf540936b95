package plots

import (
	_ "embed"
	"fmt"
	"html"
	"io"
	"strings"
	"unicode/utf8"
)

// PageStyle is the CSS of pages that show figures and tables: light, dark and
// on paper, without anything from elsewhere. Its head lists the classes.
//
//go:embed page.css
var PageStyle string

// paperColumns is how many characters of a row go on paper in its usual size:
// 180 mm of letters 1.8 mm wide.
const paperColumns = 100

// brokenWords is how many characters of words stand on one line at most where
// there is little room.
const brokenWords = 24

// WriteHTML writes the table as HTML, within a part that scrolls sideways where
// the page is too narrow for it. The first column heads the rows. Missing cells
// at the end of a row stay empty; a row with more cells than the header has is
// an error.
func (t Table) WriteHTML(w io.Writer) error {
	for i, row := range t.Rows {
		if len(row) > len(t.Header) {
			return fmt.Errorf("table %q: row %d has %d cells under %d headers", t.Caption, i+1, len(row), len(t.Header))
		}
	}
	var b strings.Builder
	fmt.Fprintf(&b, "<div class=\"wide\" tabindex=\"0\" role=\"group\" aria-label=\"%s\">\n", escaped(t.label()))
	b.WriteString("<table" + class(t.columns() > paperColumns, "crowded") + ">\n")
	if t.Caption != "" {
		b.WriteString("<caption>" + escaped(t.Caption) + "</caption>\n")
	}
	b.WriteString("<thead>\n<tr>")
	for i, name := range t.Header {
		t.writeCell(&b, "col", i, name)
	}
	b.WriteString("</tr>\n</thead>\n<tbody>\n")
	for _, row := range t.Rows {
		t.writeRow(&b, row)
	}
	b.WriteString("</tbody>\n</table>\n</div>\n")
	_, err := io.WriteString(w, b.String())
	return err
}

// label names the part that scrolls.
func (t Table) label() string {
	if t.Caption == "" {
		return "Table"
	}
	return "Table: " + t.Caption
}

func (t Table) writeRow(b *strings.Builder, row []string) {
	b.WriteString("<tr>")
	for i := range t.Header {
		text, scope := "", ""
		if i < len(row) {
			text = row[i]
		}
		if i == 0 {
			scope = "row"
		}
		t.writeCell(b, scope, i, text)
	}
	b.WriteString("</tr>\n")
}

// writeCell writes a cell of column i, as a heading of its scope if it has scope
// and text.
func (t Table) writeCell(b *strings.Builder, scope string, i int, text string) {
	name, attribute := "td", ""
	if scope != "" && text != "" {
		name, attribute = "th", " scope=\""+scope+"\""
	}
	number, long := i >= t.Words, utf8.RuneCountInString(text) > brokenWords
	text = escaped(text)
	if !number {
		text = breakable(text)
	}
	attribute += class(number, "number") + class(!number && long, "long")
	b.WriteString("<" + name + attribute + ">" + text + "</" + name + ">")
}

// columns is about how many characters wide a row is: numbers stand on one line,
// words and headers may be broken.
func (t Table) columns() int {
	const gap = 2
	sum := 0
	for i, name := range t.Header {
		width := 0
		for word := range strings.FieldsSeq(name) {
			width = max(width, utf8.RuneCountInString(word))
		}
		for _, row := range t.Rows {
			if i >= len(row) {
				continue
			}
			n := utf8.RuneCountInString(row[i])
			if i < t.Words {
				n = min(n, brokenWords)
			}
			width = max(width, n)
		}
		sum += width + gap
	}
	return sum
}

// WriteHTML writes the figure as HTML: its drawing, which scrolls sideways
// rather than become too small to read, and its numbers, which open on demand.
func (f *Figure) WriteHTML(w io.Writer) error {
	var b strings.Builder
	title := escaped(f.title)
	fmt.Fprintf(&b, "<figure class=\"chart%s\">\n<div class=\"wide\" tabindex=\"0\" role=\"group\" aria-label=\"Chart: %s\">\n", f.shape(), title)
	if err := f.WriteSVG(&b); err != nil {
		return err
	}
	b.WriteString("</div>\n")
	if tables := f.Data(); len(tables) > 0 {
		b.WriteString("<details>\n<summary>Numbers of this chart<span class=\"unseen\">: " + title + "</span></summary>\n")
		for _, t := range tables {
			if err := t.WriteHTML(&b); err != nil {
				return err
			}
		}
		b.WriteString("</details>\n")
	}
	b.WriteString("</figure>\n")
	_, err := io.WriteString(w, b.String())
	return err
}

// shape is the further class of a figure that would be too small to read on half a
// page of paper.
func (f *Figure) shape() string {
	if f.height > 1.25*f.width {
		return " tall"
	}
	return ""
}

// escaped is text fit for HTML, in an element and within quotes.
func escaped(text string) string { return html.EscapeString(printable(text)) }

// breakable is escaped text that may go on in a new line after each dot of a
// path.
func breakable(text string) string {
	if !strings.Contains(text, ".") {
		return text
	}
	var b strings.Builder
	for i, r := range text {
		b.WriteRune(r)
		if r == '.' && i+1 < len(text) && 'a' <= text[i+1] && text[i+1] <= 'z' {
			b.WriteString("<wbr/>")
		}
	}
	return b.String()
}

// class is the attribute that gives an element a class, if it has it.
func class(has bool, name string) string {
	if !has {
		return ""
	}
	return " class=\"" + name + "\""
}
