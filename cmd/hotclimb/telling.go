package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"hotclimb/plots"
	"hotclimb/plots/report"
)

// telling is a page in the making as blocks of a report, in place of text: the
// same sentences and tables, without the breaks of lines.
type telling struct {
	blocks []report.Block
	lines  []string // of a paragraph that may go on
	items  []string // of a list that may go on
	title  string   // of the table that follows
}

// tellingPage is a page that tells a report what it says.
func tellingPage(u plots.Units) *page {
	return &page{screen: newScreen(io.Discard), units: u, told: &telling{}}
}

// blocks are what a page has told.
func (p *page) blocks() []report.Block {
	p.told.end()
	return p.told.blocks
}

// end ends the paragraph and the list, and says a title that no table followed.
func (t *telling) end() {
	if t.title != "" && len(t.lines)+len(t.items) > 0 {
		t.blocks = append(t.blocks, report.Text(t.title+":"))
		t.title = ""
	}
	if len(t.lines) > 0 {
		t.blocks = append(t.blocks, report.Text(strings.Join(t.lines, " ")))
	}
	if len(t.items) > 0 {
		t.blocks = append(t.blocks, report.List(t.items...))
	}
	t.lines, t.items = nil, nil
}

// add takes a block as it is.
func (t *telling) add(b report.Block) {
	t.end()
	t.blocks = append(t.blocks, b)
}

// line takes a line of a paragraph; an empty one ends it.
func (t *telling) line(text string) {
	text = unbroken(text)
	if text == "" || len(t.items) > 0 {
		t.end()
	}
	if text != "" {
		t.lines = append(t.lines, text)
	}
}

// sentence takes a paragraph.
func (t *telling) sentence(text string) {
	t.end()
	t.line(text)
	t.end()
}

// item takes a labelled item of a list. Without a label it goes on with the last
// one.
func (t *telling) item(label, text string) {
	if last := len(t.items) - 1; label == "" && last >= 0 {
		t.items[last] += joint(t.items[last], text) + unbroken(text)
		return
	}
	if label != "" {
		label = strings.TrimSuffix(unbroken(label), ":") + ": "
	}
	t.newItem(label + text)
}

// joint is what stands between two lines of an item.
func joint(before, text string) string {
	if strings.ContainsAny(before[len(before)-1:], ",;:.") || strings.HasPrefix(text, "(") {
		return " "
	}
	return "; "
}

// newItem takes an item of a list.
func (t *telling) newItem(text string) {
	if len(t.lines) > 0 {
		t.end()
	}
	t.items = append(t.items, unbroken(text))
}

// table takes a table.
func (t *telling) table(words int, header table.Row, rows []table.Row) {
	title := t.title
	t.title = ""
	t.end()
	n := plots.Table{Caption: title, Words: words, Header: headers(header)}
	for _, r := range rows {
		n.Rows = append(n.Rows, cells(r))
	}
	for _, r := range n.Rows {
		for len(n.Header) < len(r) {
			n.Header = append(n.Header, "")
		}
	}
	t.add(report.Numbers(n))
}

// headers are those of a table, each on one line. One that leaves its first line to
// the column before it takes that.
func headers(row table.Row) []string {
	list := cells(row)
	group := ""
	for i, text := range list {
		first, rest, two := strings.Cut(text, "\n")
		if !two {
			continue
		}
		if first != "" {
			group = first
		}
		list[i] = unbroken(group + " " + rest)
	}
	return list
}

func cells(row table.Row) []string {
	list := make([]string, len(row))
	for i, cell := range row {
		list[i] = fmt.Sprint(cell)
	}
	return list
}

// unbroken is a text on one line, its words one space apart.
func unbroken(text string) string { return strings.Join(strings.Fields(text), " ") }
