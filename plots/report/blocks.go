package report

import (
	"errors"
	"fmt"
	"html"
	"io"
	"strings"
	"unicode"

	"hotclimb/plots"
)

// Block is a piece of a section, in the order of reading.
type Block interface {
	writeHTML(w io.Writer) error
}

// WriteBlocks writes blocks as HTML that stands below a heading of the second
// level.
func WriteBlocks(w io.Writer, blocks ...Block) error {
	for _, b := range blocks {
		if b == nil {
			return errors.New("writing a page: a block is missing")
		}
		if err := b.writeHTML(w); err != nil {
			return err
		}
	}
	return nil
}

// fragment is a block whose HTML is known.
type fragment string

func (f fragment) writeHTML(w io.Writer) error {
	_, err := io.WriteString(w, string(f))
	return err
}

// Heading begins a part of a section.
func Heading(text string) Block { return element("h3", "", text) }

// Text is paragraphs.
func Text(paragraphs ...string) Block {
	var all fragment
	for _, p := range paragraphs {
		all += element("p", "", p)
	}
	return all
}

// Note is a paragraph that the reader must not miss: a warning.
func Note(text string) Block { return element("p", ` class="note"`, text) }

// List is items in no order; no item gives nothing.
func List(items ...string) Block {
	if len(items) == 0 {
		return fragment("")
	}
	all := fragment("<ul>\n")
	for _, item := range items {
		all += element("li", "", item)
	}
	return all + "</ul>\n"
}

// element is escaped text within an element.
func element(name, attributes, text string) fragment {
	return fragment("<" + name + attributes + ">" + html.EscapeString(plain(text)) + "</" + name + ">\n")
}

// Verbatim is text with its line breaks and columns: a file, commands.
func Verbatim(text string) Block {
	// The line break after the tag is no part of the text.
	return fragment("<pre class=\"wide\" tabindex=\"0\" role=\"group\" aria-label=\"As written\">\n" +
		html.EscapeString(clean(text, "\n\t")) + "</pre>\n")
}

// Drawing is a figure with its numbers folded below it.
func Drawing(f *plots.Figure) Block { return drawing{f} }

type drawing struct{ figure *plots.Figure }

func (d drawing) writeHTML(w io.Writer) error {
	if d.figure == nil {
		return errors.New("writing a page: a figure is missing")
	}
	return d.figure.WriteHTML(w)
}

// One is a drawing that fills about half a page of paper: what is said of it goes on
// the same page.
func One(f *plots.Figure) Block { return within{"one", []Block{Drawing(f)}} }

// Listing is a long table of few words a row, in two columns on paper.
func Listing(t plots.Table) Block { return within{"listing", []Block{Numbers(t)}} }

// within is blocks of a class of their own.
type within struct {
	class  string
	blocks []Block
}

func (b within) writeHTML(w io.Writer) error {
	if _, err := fmt.Fprintf(w, "<div class=\"%s\">\n", b.class); err != nil {
		return err
	}
	if err := WriteBlocks(w, b.blocks...); err != nil {
		return err
	}
	_, err := io.WriteString(w, "</div>\n")
	return err
}

// Numbers is a table.
func Numbers(t plots.Table) Block { return numbers(t) }

type numbers plots.Table

func (n numbers) writeHTML(w io.Writer) error { return plots.Table(n).WriteHTML(w) }

// Folded is blocks that the reader opens. While closed only its title is
// printed, with a word that there is more.
func Folded(title string, blocks ...Block) Block { return folded{title, blocks} }

type folded struct {
	title  string
	blocks []Block
}

func (f folded) writeHTML(w io.Writer) error {
	if _, err := fmt.Fprintf(w, "<details class=\"folded\">\n<summary>%s</summary>\n", html.EscapeString(plain(f.title))); err != nil {
		return err
	}
	if err := WriteBlocks(w, f.blocks...); err != nil {
		return err
	}
	_, err := io.WriteString(w, "</details>\n")
	return err
}

// plain is text on one line that HTML can carry.
func plain(text string) string { return clean(text, "") }

// clean replaces what HTML cannot carry, but for some control characters.
func clean(text, kept string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) && !strings.ContainsRune(kept, r) {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(text, "\uFFFD"))
}
