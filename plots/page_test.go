package plots

import (
	"encoding/xml"
	"errors"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// markup reads the elements of a fragment, each as its name, attributes and
// text, and fails when it is not well formed.
func markup(t *testing.T, fragment string) []string {
	t.Helper()
	var list []string
	for d := xml.NewDecoder(strings.NewReader(fragment)); ; {
		token, err := d.Token()
		if err == io.EOF {
			return list
		}
		if err != nil {
			t.Fatalf("%v in:\n%s", err, fragment)
		}
		switch token := token.(type) {
		case xml.StartElement:
			text := token.Name.Local
			for _, a := range token.Attr {
				text += " " + a.Name.Local + "=" + a.Value
			}
			list = append(list, "<"+text+">")
		case xml.CharData:
			if text := strings.TrimSpace(string(token)); text != "" {
				list = append(list, text)
			}
		}
	}
}

func tableHTML(t *testing.T, table Table) string {
	t.Helper()
	var b strings.Builder
	if err := table.WriteHTML(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestTableOfWordsAndNumbers(t *testing.T) {
	got := markup(t, tableHTML(t, Table{
		Caption: "Margins", Words: 2, Header: []string{"case", "by", "margin °F"},
		Rows: [][]string{{"hot_climb", "oil", "-8.5"}, {"cruise"}},
	}))
	want := []string{
		"<div class=wide tabindex=0 role=group aria-label=Table: Margins>", "<table>", "<caption>", "Margins",
		"<thead>", "<tr>", "<th scope=col>", "case", "<th scope=col>", "by", "<th scope=col class=number>", "margin °F",
		"<tbody>", "<tr>", "<th scope=row>", "hot_climb", "<td>", "oil", "<td class=number>", "-8.5",
		"<tr>", "<th scope=row>", "cruise", "<td>", "<td class=number>",
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

func TestTableWithoutWordsOrCaption(t *testing.T) {
	got := strings.Join(markup(t, tableHTML(t, Table{Header: []string{"min", "°F"}, Rows: [][]string{{"0", "85"}}})), "")
	want := "<div class=wide tabindex=0 role=group aria-label=Table><table><thead><tr>" +
		"<th scope=col class=number>min<th scope=col class=number>°F" +
		"<tbody><tr><th scope=row class=number>0<td class=number>85"
	if got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

func TestEmptyCellsHeadNothing(t *testing.T) {
	got := strings.Join(markup(t, tableHTML(t, Table{Words: 1, Header: []string{"", "°F"}, Rows: [][]string{{"oil", "210"}, {"", "215"}}})), "")
	want := "<thead><tr><td><th scope=col class=number>°F<tbody><tr><th scope=row>oil<td class=number>210<tr><td><td class=number>215"
	if !strings.Contains(got, want) {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

func TestLongWordsAreMarked(t *testing.T) {
	html := tableHTML(t, Table{Words: 2, Header: []string{"a", "b", "c"}, Rows: [][]string{{"x", strings.Repeat("°", 24), strings.Repeat("1", 25)}, {"x", strings.Repeat("°", 25), "1"}}})
	if strings.Count(html, `<td class="long">`) != 1 || !strings.Contains(html, `<td class="long">`+strings.Repeat("°", 25)) {
		t.Errorf("not the one long text is marked:\n%s", html)
	}
}

func TestTableTooWideForPaperIsMarked(t *testing.T) {
	row := func(cells int, text string) Table {
		table := Table{Header: make([]string, cells), Rows: [][]string{make([]string, cells)}}
		for i := range cells {
			table.Rows[0][i] = text
		}
		return table
	}
	words := row(3, strings.Repeat("word ", 20))
	words.Words = 3
	headed := row(10, "")
	for i := range headed.Header {
		headed.Header[i] = "air through it"
	}
	// 10 columns of 8 and 2, 11 of them; words that may be broken; headers that may.
	for want, tables := range map[bool][]Table{false: {row(10, "12345.78"), words, headed}, true: {row(11, "12345.78"), row(3, words.Rows[0][0])}} {
		for i, table := range tables {
			if got := strings.Contains(tableHTML(t, table), `<table class="crowded">`); got != want {
				t.Errorf("table %d: marked %v, want %v", i, got, want)
			}
		}
	}
}

func TestPathsMayBeBrokenAfterTheirDots(t *testing.T) {
	html := tableHTML(t, Table{Words: 1, Header: []string{"a", "b"}, Rows: [][]string{{"exits.aft_ring.area 1.5 in. end.", "x.y"}}})
	for _, want := range []string{">exits.<wbr/>aft_ring.<wbr/>area 1.5 in. end.</th>", ">x.y</td>"} {
		if !strings.Contains(html, want) {
			t.Errorf("no %s in %s", want, html)
		}
	}
}

func TestTableEscapes(t *testing.T) {
	evil := "\"><script>alert('1')</script>\x00&"
	list := markup(t, tableHTML(t, Table{Caption: evil, Words: 1, Header: []string{evil, evil}, Rows: [][]string{{evil, evil}}}))
	shown := "\"><script>alert('1')</script> &"
	count := 0
	for _, item := range list {
		if strings.HasPrefix(item, "<script") {
			t.Errorf("text became an element: %s", item)
		}
		if item == shown || strings.Contains(item, "aria-label=Table: "+shown) {
			count++
		}
	}
	if count != 6 { // the label, the caption, two headers and two cells
		t.Errorf("%d of 6 texts are whole in %q", count, list)
	}
}

func TestRowWiderThanTheHeaderIsRefused(t *testing.T) {
	table := Table{Caption: "Margins", Header: []string{"a"}, Rows: [][]string{{"1"}, {"1", "2"}}}
	err := table.WriteHTML(io.Discard)
	if err == nil || !strings.Contains(err.Error(), `"Margins": row 2 has 2 cells under 1 headers`) {
		t.Errorf("error %v", err)
	}
	if err := figureOf(table).WriteHTML(io.Discard); err == nil {
		t.Error("a figure hides the fault of its table")
	}
}

// TestTallFigures: on paper they may take more than half a page.
func TestTallFigures(t *testing.T) {
	for _, c := range []struct {
		height vg.Length
		tall   bool
	}{{100, false}, {125, false}, {126, true}} {
		var b strings.Builder
		f := figureOf()
		f.width, f.height = 100, c.height
		if err := f.WriteHTML(&b); err != nil {
			t.Fatal(err)
		}
		if got := strings.HasPrefix(b.String(), `<figure class="chart tall">`); got != c.tall {
			t.Errorf("%g high on 100: %.40s", float64(c.height), b.String())
		}
	}
}

// figureOf is a blank figure with tables.
func figureOf(tables ...Table) *Figure {
	return &Figure{title: "Oil & coolant", about: "Nothing.", width: 540, height: 100, paint: func(draw.Canvas) {}, data: tables}
}

func TestFigureIsFollowedByItsNumbers(t *testing.T) {
	var b strings.Builder
	table := Table{Caption: "Temperatures", Header: []string{"min", "°F"}, Rows: [][]string{{"0", "85"}}}
	if err := figureOf(table, table).WriteHTML(&b); err != nil {
		t.Fatal(err)
	}
	got := strings.Join(markup(t, b.String()), "\n")
	for _, part := range []string{
		"<figure class=chart>\n<div class=wide tabindex=0 role=group aria-label=Chart: Oil & coolant>\n<svg ",
		"<title>\nOil & coolant\n<desc>\nNothing.",
		"<details>\n<summary>\nNumbers of this chart\n<span class=unseen>\n: Oil & coolant\n<div class=wide",
	} {
		if !strings.Contains(got, part) {
			t.Errorf("no\n%s\nin\n%s", part, got)
		}
	}
	if n := strings.Count(got, "<table>"); n != 2 || strings.Index(got, "<table>") < strings.Index(got, "<svg ") {
		t.Errorf("%d of 2 tables after the drawing:\n%s", n, got)
	}
	b.Reset()
	if err := figureOf().WriteHTML(&b); err != nil || strings.Contains(b.String(), "<details>") {
		t.Errorf("a figure without numbers opens on nothing: %v\n%s", err, b.String())
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestPartsOfAPageReturnWriteErrors(t *testing.T) {
	if err := (Table{}).WriteHTML(full{}); err == nil {
		t.Error("the table hides the error")
	}
	if err := figureOf().WriteHTML(full{}); err == nil {
		t.Error("the figure hides the error")
	}
}

// luminance is the relative luminance of "#rrggbb": Web Content Accessibility
// Guidelines 2.1, W3C 2018, "relative luminance".
func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	n, err := strconv.ParseUint(hex[1:], 16, 32)
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		c := float64(n>>(16-8*i)&0xFF) / 255
		if c <= 0.03928 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		sum += weight * c
	}
	return sum
}

// contrast is the contrast ratio of two colours: WCAG 2.1, "contrast ratio".
func contrast(t *testing.T, a, b string) float64 {
	light, dark := luminance(t, a), luminance(t, b)
	if light < dark {
		light, dark = dark, light
	}
	return (light + 0.05) / (dark + 0.05)
}

// TestColoursOfPagesStandOut holds text to 4.5 to 1 (WCAG 2.1, 1.4.3) and the
// edges of controls and the focus to 3 to 1 (1.4.11) in light, dark and print.
func TestColoursOfPagesStandOut(t *testing.T) {
	blocks := regexp.MustCompile(`(?s):root \{(.*?)\}`).FindAllStringSubmatch(PageStyle, -1)
	if len(blocks) != 3 {
		t.Fatalf("%d sets of colours, want light, dark and print", len(blocks))
	}
	colours := map[string]string{}
	for i, name := range []string{"light", "dark", "print"} {
		for _, c := range regexp.MustCompile(`--(\w+): (#[0-9a-f]{6});`).FindAllStringSubmatch(blocks[i][1], -1) {
			colours[c[1]] = c[2]
		}
		for front, least := range map[string]float64{
			"ink": 4.5, "quiet": 4.5, "link": 4.5, "within": 4.5, "caution": 4.5, "over": 4.5, "edge": 3, "focus": 3,
		} {
			for _, back := range []string{"paper", "card"} {
				if got := contrast(t, colours[front], colours[back]); got < least {
					t.Errorf("%s: %s on %s has %.2f to 1, want %g", name, front, back, got, least)
				}
			}
		}
	}
}

func TestPageStyleAsksForNothingFromElsewhere(t *testing.T) {
	for _, word := range []string{"@import", "url(", "http:", "https:", "</"} {
		if strings.Contains(PageStyle, word) {
			t.Errorf("the style holds %s", word)
		}
	}
}
