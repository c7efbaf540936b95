package report_test

import (
	"errors"
	"io"
	"net/url"
	"slices"
	"strings"
	"testing"

	"hotclimb/plots"
	"hotclimb/plots/report"
	"hotclimb/scenarios"
	"hotclimb/sim"
)

func TestPageAsksForNothing(t *testing.T) {
	page := written(t, sample(t))
	for _, p := range parts(t, page) {
		if slices.Contains([]string{"script", "link", "img", "iframe", "object", "form", "input", "base"}, p.name) {
			t.Errorf("the page holds a %s", p.name)
		}
		for name, value := range p.attributes {
			if strings.HasPrefix(name, "on") || name == "src" || name == "href" && !strings.HasPrefix(value, "#") {
				t.Errorf("%s has %s=%q", p.name, name, value)
			}
		}
	}
	rest := strings.ReplaceAll(page, `xmlns="http://www.w3.org/2000/svg"`, "")
	for _, word := range []string{"http://www", "https://www", "url(http", "@import"} {
		if strings.Contains(rest, word) {
			t.Errorf("the page holds %s", word)
		}
	}
	policy := `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:;`
	if !strings.Contains(page, policy) || strings.Index(page, policy) > strings.Index(page, "<style>") {
		t.Error("no policy ahead of the style")
	}
}

func TestPageIsOneDocument(t *testing.T) {
	page := written(t, sample(t))
	if !strings.HasPrefix(page, "<!doctype html>\n<html lang=\"en\">") {
		t.Errorf("begins with %.60q", page)
	}
	all := parts(t, page)
	for name, want := range map[string]int{"html": 1, "head": 1, "body": 1, "main": 1, "nav": 1, "h1": 1, "header": 1, "footer": 1, "style": 1} {
		if got := len(named(all, name)); got != want {
			t.Errorf("%d of %s, want %d", got, name, want)
		}
	}
	titles := named(all, "title")
	if got := titles[0].text; got != "Rotary pusher with a ring exit – cooling report" {
		t.Errorf("title %q", got)
	}
}

func TestHeadingsNestAndTellTheSections(t *testing.T) {
	level, outline := 0, ""
	for _, p := range parts(t, written(t, sample(t))) {
		if len(p.name) == 2 && p.name[0] == 'h' && p.name[1] >= '1' && p.name[1] <= '6' {
			next := int(p.name[1] - '0')
			if next > level+1 {
				t.Errorf("%s %q after level %d", p.name, p.text, level)
			}
			level = next
			outline += p.name + " " + p.text + "\n"
		}
	}
	want := "h1 Rotary pusher with a ring exit\nh2 Temperatures\nh2 Which change buys most\nh3 Single changes\n" +
		"h3 What to mind\nh2 Inputs as written\nh2 Cautions\n"
	if outline != want {
		t.Errorf("got\n%s\nwant\n%s", outline, want)
	}
}

func TestAnchorsAreUniqueAndLinksArrive(t *testing.T) {
	r := sample(t)
	text := []report.Block{report.Text("x")}
	for _, title := range []string{"Answer", "Cautions", "Contents", "!?", "Öl & Wasser", "Temperatures"} {
		r.Sections = append(r.Sections, report.Section{Title: title, Blocks: text})
	}
	all := parts(t, written(t, r))
	ids := map[string]bool{}
	for _, p := range all {
		if id, ok := p.attributes["id"]; ok {
			if ids[id] || id == "" || strings.ContainsAny(id, " \t\n") {
				t.Errorf("anchor %q is bad or stands twice", id)
			}
			ids[id] = true
		}
	}
	for _, id := range []string{"answer", "answer-2", "cautions", "cautions-2", "contents", "contents-2", "part", "öl-wasser", "temperatures-2"} {
		if !ids[id] {
			t.Errorf("no anchor %q", id)
		}
	}
	links := 0
	for _, p := range named(all, "a") {
		links++
		target, err := url.PathUnescape(strings.TrimPrefix(p.attributes["href"], "#"))
		if err != nil || !ids[target] {
			t.Errorf("the link %q leads nowhere: %v", p.text, err)
		}
	}
	if links != 2+9+1+9 { // to the answer and the cautions, the contents, and back to them
		t.Errorf("%d links", links)
	}
}

func TestAnswerComesFirst(t *testing.T) {
	r := sample(t)
	page := written(t, r)
	last := strings.Index(page, "<body>")
	for _, text := range []string{
		"<h1>" + r.Title, `<p class="status over">over limit</p>`, r.Answer[0], r.Answer[1], "prove them by flight test",
		`<nav id="contents" class="contents onscreen"`, `<section id="temperatures">`, `<section id="cautions"`, r.Cautions[1],
		"Made by hotclimb test from the scenario <code>0123456789ab</code>.",
	} {
		next := strings.Index(page[last:], text)
		if next < 0 {
			t.Fatalf("%q does not come after position %d", text, last)
		}
		last += next
	}
}

func TestStatusIsMarked(t *testing.T) {
	for status, want := range map[sim.Status]string{
		sim.WithinLimits: `<p class="status within">within limits</p>`,
		sim.Caution:      `<p class="status caution">caution</p>`,
		sim.OverLimit:    `<p class="status over">over limit</p>`,
	} {
		if page := written(t, &report.Report{Status: status}); !strings.Contains(page, want) {
			t.Errorf("no %s", want)
		}
	}
}

func TestFiguresAreFollowedByTheirNumbers(t *testing.T) {
	all := parts(t, written(t, sample(t)))
	figures := 0
	for i, p := range all {
		if p.name != "figure" {
			continue
		}
		figures++
		var order []string
		for _, q := range all[i+1:] {
			if len(q.within) <= len(p.within) {
				break
			}
			if q.name == "svg" || q.name == "details" || q.name == "table" {
				order = append(order, q.name)
			}
		}
		if len(order) < 3 || order[0] != "svg" || order[1] != "details" || order[2] != "table" {
			t.Errorf("figure %d holds %v", figures, order)
		}
	}
	if figures != 2 {
		t.Errorf("%d figures", figures)
	}
}

func TestTablesNameTheirColumnsAndRows(t *testing.T) {
	all := parts(t, written(t, sample(t)))
	if len(named(all, "table")) == 0 || len(named(all, "table")) != len(named(all, "caption")) {
		t.Errorf("%d tables, %d captions", len(named(all, "table")), len(named(all, "caption")))
	}
	for _, p := range named(all, "th") {
		want := "row"
		if slices.Contains(p.within, "thead") {
			want = "col"
		}
		if p.attributes["scope"] != want {
			t.Errorf("%q has the scope %q", p.text, p.attributes["scope"])
		}
	}
}

func TestWordsOfTheUserStayWords(t *testing.T) {
	evil := "</title><script>alert(\"1\")</script>' & \x00\xff"
	shown := "</title><script>alert(\"1\")</script>' &  \uFFFD"
	r := &report.Report{
		Title: evil, Status: sim.Status(evil), Answer: []string{evil}, Cautions: []string{evil}, Hash: evil, Tool: evil, Version: evil,
		Sections: []report.Section{{Title: evil, Blocks: []report.Block{
			report.Heading(evil), report.Text(evil), report.List(evil), report.Note(evil), report.Verbatim(evil),
			report.Folded(evil, report.Text("x")), report.Numbers(plots.Table{Caption: evil, Words: 1, Header: []string{evil}}),
		}}},
	}
	whole := map[string]int{}
	for _, p := range parts(t, written(t, r)) {
		if p.name == "script" {
			t.Error("text became a script")
		}
		if strings.Contains(strings.TrimSpace(p.text), strings.TrimSpace(shown)) {
			whole[p.name]++
		}
	}
	for _, name := range []string{"title", "h1", "h2", "h3", "p", "li", "pre", "summary", "caption", "th"} {
		if whole[name] == 0 {
			t.Errorf("the text is not whole in any %s", name)
		}
	}
}

func TestFileStandsAsWritten(t *testing.T) {
	file, _ := scenarios.Builtin("rotary")
	for _, text := range []string{string(file.Text), "\n\n\tfirst lines\r\n & <last>"} {
		var b strings.Builder
		if err := report.WriteBlocks(&b, report.Verbatim(text)); err != nil {
			t.Fatal(err)
		}
		got := named(parts(t, b.String()), "pre")[0].text
		// A page drops the line break right after the tag.
		want := "\n" + strings.ReplaceAll(text, "\r", " ")
		if got != want {
			t.Errorf("got %.80q, want %.80q", got, want)
		}
	}
}

func TestBlocksOfAClassHoldAllOfTheirs(t *testing.T) {
	var b strings.Builder
	table := plots.Table{Words: 1, Header: []string{"path", "value"}, Rows: [][]string{{"oil.volume", "3 L"}}}
	drawn := figure(t)(plots.Tornado([]plots.Gain{{Name: "exit_ring", Coolant: 3.8, Oil: 4.8}}, plots.US, plots.Caption{}))
	if err := report.WriteBlocks(&b, report.Listing(table), report.One(drawn), report.Text("after")); err != nil {
		t.Fatal(err)
	}
	var classes []string
	for _, p := range parts(t, "<body>"+b.String()+"</body>") {
		if around := strings.Join(p.within, " "); p.name == "figure" && around != "body div" || p.name == "table" && around != "body div div" && !slices.Contains(p.within, "figure") {
			t.Errorf("a %s is within %s", p.name, around)
		}
		if p.name == "p" && len(p.within) != 1 {
			t.Errorf("the text is within %s", p.within)
		}
		if class := p.attributes["class"]; class == "listing" || class == "one" {
			classes = append(classes, class)
		}
	}
	if !slices.Equal(classes, []string{"listing", "one"}) {
		t.Errorf("classes %s", classes)
	}
}

func TestPageIsSmallAndTheSameEveryTime(t *testing.T) {
	one, two := written(t, sample(t)), written(t, sample(t))
	if one != two {
		t.Error("the same report gave other bytes")
	}
	if len(one) > 250_000 { // under 1 MB with four times as much in it
		t.Errorf("%d bytes", len(one))
	}
	t.Logf("%d bytes", len(one))
}

func TestEmptyReport(t *testing.T) {
	page := written(t, &report.Report{})
	for _, word := range []string{"<nav", "<h2", "<code>", "status", "<title> "} {
		if body := page[strings.Index(page, "</style>"):]; strings.Contains(body, word) {
			t.Errorf("an empty report holds %s", word)
		}
	}
	parts(t, page)
}

type full struct{ written int }

func (f *full) Write(p []byte) (int, error) {
	f.written += len(p)
	return 0, errors.New("disk full")
}

func TestFaultsComeBack(t *testing.T) {
	bad := plots.Table{Caption: "wide", Rows: [][]string{{"1"}}}
	for name, b := range map[string]report.Block{
		"a block is missing": nil, "a figure is missing": report.One(nil), `table "wide"`: report.Folded("f", report.Numbers(bad)),
	} {
		r := &report.Report{Sections: []report.Section{{Title: "Sizes", Blocks: []report.Block{b}}}}
		var out full
		err := r.WriteHTML(&out)
		if err == nil || !strings.Contains(err.Error(), name) || !strings.Contains(err.Error(), `section "Sizes"`) {
			t.Errorf("%s: %v", name, err)
		}
		if out.written > 0 {
			t.Errorf("%s: part of the page was written", name)
		}
	}
	if err := (&report.Report{}).WriteHTML(&full{}); err == nil || !strings.Contains(err.Error(), "disk full") {
		t.Errorf("full disk: %v", err)
	}
	for _, b := range []report.Block{report.Text("x"), report.Folded("f"), report.Listing(plots.Table{}), report.Numbers(plots.Table{}), report.Verbatim("")} {
		if err := report.WriteBlocks(&full{}, b); err == nil {
			t.Errorf("%T hides that the disk is full", b)
		}
	}
}

func BenchmarkWriteHTML(b *testing.B) {
	r := sample(b)
	b.ReportAllocs()
	for b.Loop() {
		if err := r.WriteHTML(io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}
