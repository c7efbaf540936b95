package main

import (
	"context"
	"errors"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"hotclimb/plots/bench"
)

// serveWatched serves a scenario, and tells how each study ended on the server.
func serveWatched(t *testing.T, file string, c *common) (address string, ended chan error) {
	t.Helper()
	c.workers = 2
	p := &program{out: newScreen(t.Output()), err: newScreen(t.Output())}
	b, err := p.bench(file, c)
	if err != nil {
		t.Fatal(err)
	}
	ended = make(chan error, 9)
	for i := range b.Studies {
		run := b.Studies[i].Run
		b.Studies[i].Run = func(ctx context.Context, job bench.Job) error {
			err := run(ctx, job)
			ended <- err
			return err
		}
	}
	handler, err := bench.Handler(*b)
	if err != nil {
		t.Fatal(err)
	}
	s := httptest.NewUnstartedServer(nil)
	s.Config = bench.Server(handler)
	s.Start()
	t.Cleanup(s.Close)
	return s.URL, ended
}

// A sweep that is cancelled stops on the server, and makes room for the next.
func testCancel(t *testing.T, browser context.Context) {
	over := filepath.Join(t.TempDir(), "fine.yaml")
	fine := "sweep:\n  vary:\n    exits.aft_ring.area: 60 in^2..120 in^2:90\n    day.temperature: 85 degF..105 degF:90\n"
	if err := os.WriteFile(over, []byte(fine), 0o644); err != nil {
		t.Fatal(err)
	}
	address, ended := serveWatched(t, "rotary", &common{over: []string{over}})
	p := openTab(t, browser, address, desk)
	p.until(answered)
	for range 3 { // more than may run at a time
		p.click(`[data-study="sweep"]`)
		p.until(`document.querySelector("#study-progress").value > 0 && !document.querySelector("#study-run").hidden`)
		if got := p.text("#study-count"); !strings.Contains(got, " of ") {
			t.Errorf("the progress is told as %q", got)
		}
		p.click("#study-cancel")
		p.until(`document.querySelector("#study-said").textContent.includes("cancelled")`)
		select {
		case err := <-ended:
			if !errors.Is(err, context.Canceled) {
				t.Errorf("the cancelled sweep ended with %v", err)
			}
		case <-time.After(tabPatience):
			t.Fatal("the cancelled sweep goes on")
		}
		p.until(`document.querySelector("#study-run").hidden`)
	}
	p.holdsWhatRunPrints("rotary", "--over", over, "--case", "hot_climb")
}

// A sizing that runs to its end shows what size prints for the same scenario.
func testSizing(t *testing.T, browser context.Context) {
	small, err := os.ReadFile(filepath.Join(scripts, "small.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "sized.yaml")
	section := "size:\n  vary:\n    inlets.chin.area: 30 in^2..120 in^2\n    exits.belly.area: 40 in^2..200 in^2\n"
	if err := os.WriteFile(file, append(small, section...), 0o644); err != nil {
		t.Fatal(err)
	}
	p := openServed(t, browser, desk, file)
	area := p.slide("exits.belly.area", 2)
	const focused = `document.activeElement.id || document.activeElement.closest(".control")?.dataset.path`
	p.click(`[data-study="size"]`)
	p.untilWithin(longPatience, `!document.querySelector("#study-result").hidden`)
	if got := see[string](p, focused); got != "study-result-title" {
		t.Errorf("the focus is on %q, not on the result", got)
	}
	lines, rows := printedBy(t, "size", file, "--set", "exits.belly.area="+area), p.rows("#study-result-body")
	for _, row := range slices.Concat(below(t, lines, "as filed least to build")[:4], below(t, lines, "margins °F coolant")) {
		if !slices.Contains(rows, row) {
			t.Errorf("size prints %q; the page has no such row:\n%s", row, strings.Join(rows, "\n"))
		}
	}
	p.click(`[data-study="size"]`)
	p.focus("#other-path") // whoever works on is not called away when it ends
	p.untilWithin(longPatience, `document.querySelector("#study-said").textContent.includes("done")`)
	if got := see[string](p, focused); got != "other-path" {
		t.Errorf("the end of the study took the focus to %q", got)
	}
}
