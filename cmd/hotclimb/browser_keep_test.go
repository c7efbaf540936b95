package main

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/chromedp"
	"hotclimb/scenarios"
)

// keep does what makes the page hand over a file, and returns the name that it
// offers and the text.
func (p *tab) keep(do func()) (name string, text []byte) {
	p.Helper()
	dir, yes := p.TempDir(), true
	began, done := make(chan *browser.EventDownloadWillBegin, 9), make(chan *browser.EventDownloadProgress, 9)
	if err := chromedp.ListenBrowser(p.ctx, func(event any) {
		switch e := event.(type) {
		case *browser.EventDownloadWillBegin:
			began <- e
		case *browser.EventDownloadProgress:
			if e.State != browser.DownloadProgressStateInProgress {
				done <- e
			}
		}
	}); err != nil {
		p.Fatal(err)
	}
	_, err := chromedp.CallBrowser(p.ctx, browser.SetDownloadBehavior, browser.SetDownloadBehaviorParams{
		Behavior: browser.SetDownloadBehaviorBehaviorAllowAndName, DownloadPath: dir, EventsEnabled: &yes,
		BrowserContextID: chromedp.FromContext(p.ctx).BrowserContextID,
	})
	if err != nil {
		p.Fatal(err)
	}
	do()
	ctx, cancel := context.WithTimeout(p.ctx, 3*tabPatience)
	defer cancel()
	select {
	case e := <-done:
		if e.State != browser.DownloadProgressStateCompleted {
			p.Fatalf("the file is not kept: %s", e.State)
		}
	case <-ctx.Done():
		p.Fatalf("no file is kept; the page says:\n%s", p.text("body"))
	}
	e := <-began
	text, err = os.ReadFile(filepath.Join(dir, e.GUID))
	if err != nil {
		p.Fatal(err)
	}
	return e.SuggestedFilename, text
}

// The scenario that is kept has all comments of the file, and run gives with it what
// the page shows.
func testKeepScenario(t *testing.T, browser context.Context) {
	p := openServed(t, browser, desk, "rotary", "--set", "day.elevation=1500 ft")
	p.slide("exits.aft_ring.area", 4)
	p.slide("day.temperature", 3)
	p.click(`label:has([data-change="bigger_oil_pump"])`)
	p.until(answered)
	p.holdsWhatRunPrints(words(p.text("#command"))[2:]...)
	name, text := p.keep(func() { p.click("#keep-scenario") })
	if name != "rotary.yaml" {
		t.Errorf("the file is called %s", name)
	}
	filed, _ := scenarios.Builtin("rotary")
	for line := range strings.Lines(string(filed.Text)) {
		if _, comment, ok := strings.Cut(line, "# "); ok && !strings.Contains(string(text), comment) {
			t.Errorf("the comment %q is gone", comment)
		}
	}
	file := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(file, text, 0o644); err != nil {
		t.Fatal(err)
	}
	for _, beside := range []string{"rotary_baseline.csv", "rotary_wide_ring.csv"} {
		copyBeside(t, file, filepath.Join("../../scenarios", beside))
	}
	p.holdsWhatRunPrints(file, "--case", "hot_climb")
	again := openServed(t, browser, desk, file)
	again.holdsWhatRunPrints(file, "--case", "hot_climb")
}

// copyBeside copies a file into the folder of another.
func copyBeside(t *testing.T, file, from string) {
	t.Helper()
	text, err := os.ReadFile(from)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(filepath.Dir(file), filepath.Base(from)), text, 0o644); err != nil {
		t.Fatal(err)
	}
}

// The scenario of a file with another laid over it is kept too.
func testKeepMerged(t *testing.T, browser context.Context) {
	over := filepath.Join(t.TempDir(), "winter.yaml")
	if err := os.WriteFile(over, []byte("day: {elevation: 900 ft, temperature: 20 degF}\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	p := openServed(t, browser, desk, "rotary", "--over", over)
	area := p.slide("exits.aft_ring.area", -4)
	p.showsCommand("rotary", "--over", over, "--case", "hot_climb", "--set", "exits.aft_ring.area="+area)
	_, text := p.keep(func() { p.click("#keep-scenario") })
	if !strings.HasPrefix(string(text), "# rotary with "+over+" laid over it.") {
		t.Errorf("the file does not say where it comes from:\n%.200s", text)
	}
	file := filepath.Join(t.TempDir(), "kept.yaml")
	if err := os.WriteFile(file, text, 0o644); err != nil {
		t.Fatal(err)
	}
	p.holdsWhatRunPrints(file, "--case", "hot_climb")
}

// The report that is kept is, to the byte, the one of the command; with a change it
// has the numbers that run prints with it.
func testKeepReport(t *testing.T, browser context.Context) {
	file := filepath.Join(scripts, "small.yaml")
	p := openServed(t, browser, desk, file)
	name, filed := p.keep(func() { p.click(`[data-study="report"]`) })
	if name != "report.html" {
		t.Errorf("the report is called %s", name)
	}
	dir := t.TempDir()
	printedBy(t, "report", file, "--out", dir)
	if same, err := os.ReadFile(filepath.Join(dir, "report.html")); err != nil || string(filed) != string(same) {
		t.Errorf("the report that is kept, of %d bytes, is not that of the command, of %d: %v", len(filed), len(same), err)
	}
	area := p.slide("inlets.chin.area", 5)
	_, changed := p.keep(func() { p.click(`[data-study="report"]`) })
	for _, peak := range below(t, printedBy(t, "run", file, "--case", "hot", "--set", "inlets.chin.area="+area), "peak ") {
		hottest := strings.Fields(peak)[2]
		if !strings.Contains(string(changed), ">"+hottest+"<") || strings.Contains(string(filed), ">"+hottest+"<") {
			t.Errorf("run prints %q: the peak is not in the report with the change, or in that without it", peak)
		}
	}
}
