package main

import (
	"bytes"
	"testing"

	"github.com/jedib0t/go-pretty/v6/table"
	"hotclimb/plots"
	"hotclimb/plots/report"
)

// TestTelling: what a page says as text becomes paragraphs, lists and tables.
func TestTelling(t *testing.T) {
	p := tellingPage(plots.US)
	p.line("One sentence that")
	p.line("  is broken <here>.")
	p.line("")
	p.line("Another one:")
	p.item("%6s  a thing", "first")
	p.item("a thing more,")
	p.goesOn("which goes on")
	p.entry("label", "%d", 3)
	p.entry("", "and more")
	p.labelled(4, "why:", "because")
	p.line("After the list.")
	p.note("A note.")
	p.beware("of this")
	p.headline("Part")
	p.heads("  A table of\n  two lines:")
	p.line("")
	p.table(1, table.Row{"", "coolant\nup °F", "\ndown"}, []table.Row{{"a", 1, "-2"}, {"b", 3, "4", "extra"}})
	p.heads("No table follows:")
	p.note("but a note")
	var got, want bytes.Buffer
	if err := report.WriteBlocks(&got, p.blocks()...); err != nil {
		t.Fatal(err)
	}
	if err := report.WriteBlocks(&want,
		report.Text("One sentence that is broken <here>."), report.Text("Another one:"),
		report.List("first a thing", "a thing more, which goes on", "label: 3; and more", "why: because"),
		report.Text("After the list."), report.Text("A note."), report.Note("Mind: of this"), report.Heading("Part"),
		report.Numbers(plots.Table{
			Caption: "A table of two lines", Words: 1, Header: []string{"", "coolant up °F", "coolant down", ""},
			Rows: [][]string{{"a", "1", "-2"}, {"b", "3", "4", "extra"}},
		}),
		report.Text("No table follows:"), report.Text("but a note"),
	); err != nil {
		t.Fatal(err)
	}
	if got.String() != want.String() {
		t.Errorf("got\n%s\nwant\n%s", &got, &want)
	}
	if p.Len() > 0 {
		t.Errorf("text was written too: %s", p)
	}
}
