package main

import (
	"bytes"
	"context"
	"errors"
	"html"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// studied lays all studies of a report over small.yaml, and tested the flights.
const studied = `
title: two-seater <script>alert("x")</script> & friend
changes:
  - name: wider_exit
    title: Belly exit <opened> "wide"
    set: {exits.belly.area: 110 in^2}
    weight: 0.4 lb
    cost: 30
    hours: 6
  - {name: faster, set: {flight.legs.climb.speed: 95 mph}}
size:
  vary: {exits.belly.area: 40 in^2..140 in^2}
  coolant_margin: 5 ddegF
  oil_margin: 5 ddegF
sweep:
  vary: {exits.belly.area: 60 in^2..100 in^2:3, day.temperature: 85 degF..105 degF:3}
`

const tested = `
tests:
  - name: first
    speed: 90 mph
    outside: 62 degF
    points:
      a: {time: 0 s, altitude: 600 ft, coolant: 185 degF, oil: 180 degF}
      b: {time: 120 s, altitude: 1900 ft, coolant: 196 degF, oil: 188 degF}
      c: {time: 240 s, altitude: 3200 ft, coolant: 199 degF, oil: 196 degF}
  - name: second
    set: {exits.belly.area: 84 in^2}
    speed: 92 mph
    outside: 60 degF
    points:
      a: {time: 0 s, altitude: 600 ft, coolant: 184 degF}
      b: {time: 120 s, altitude: 1900 ft, coolant: 195 degF}
      c: {time: 240 s, altitude: 3200 ft, coolant: 198 degF}
fit: {paths: [exits.belly.area, aircraft.parasite_drag]}
`

// inFolder goes to a new folder with small.yaml and the studies over it.
func inFolder(t *testing.T) {
	t.Helper()
	small, err := os.ReadFile(filepath.Join(scripts, "small.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	for name, text := range map[string]string{"small.yaml": string(small), "studied.yaml": studied, "tested.yaml": tested} {
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// reported is the report that a command writes on small.yaml.
func reported(t *testing.T, want int, args ...string) string {
	t.Helper()
	var stdout, stderr bytes.Buffer
	if status := app(context.Background(), append([]string{"report", "small.yaml"}, args...), &stdout, &stderr); status != want {
		t.Fatalf("%q: exit status %d, want %d\n%s", args, status, want, &stderr)
	}
	name, _, _ := strings.Cut(stdout.String(), ": ")
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

var (
	hidden = regexp.MustCompile(`(?s)<style>.*?</style>|<svg.*?</svg>`)
	tags   = regexp.MustCompile(`<[^>]*>`)
)

// words are what a page says, one space apart, without colons, which labels have
// on pages alone.
func wordsOf(text string) string {
	return strings.ToLower(strings.Join(strings.Fields(strings.ReplaceAll(text, ":", " ")), " "))
}

func pageWords(page string) string {
	return wordsOf(html.UnescapeString(tags.ReplaceAllString(hidden.ReplaceAllString(strings.ReplaceAll(page, "<wbr/>", ""), " "), " ")))
}

// ofTerminal are lines of commands that no page has: of charts, of headers, which
// have no digits, and on other cases; and the count of flights, of which charts take
// more.
var ofTerminal = regexp.MustCompile(`[|+]--|\||[0-9] \+[oc=]|against min:s|^[0-9: ]+$|^lb +hour|^Searched|Other cases|^[^0-9]*$`)

// ofFlags are remarks on flags, which no page has.
var ofFlags = regexp.MustCompile(` \(--[^)]*\)`)

// TestReportSaysWhatCommandsSay: every line with a number that a command prints
// stands in the report.
func TestReportSaysWhatCommandsSay(t *testing.T) {
	inFolder(t)
	over := []string{"--over", "studied.yaml", "--over", "tested.yaml"}
	whole := reported(t, exitOverLimit, over...)
	page := pageWords(whole)
	for _, args := range [][]string{
		{"run"}, {"rank"}, {"size", "--trade"}, {"limits"}, {"correct"}, {"compare"}, {"fit"},
	} {
		saysLines(t, page, slices.Concat(args, []string{"small.yaml"}, over))
	}
	last := 0
	for _, title := range []string{
		"All cases", "Both temperatures over time", "Where the air and the heat go", "Which change buys most",
		"How large the openings must be", "What the pilot must know", "Test flights: was it the change?",
		"Test flights corrected to a hot day", "What the test flights teach about the numbers", "Inputs", "Warnings", "Cautions",
	} {
		at := strings.Index(whole, "<h2>"+title+"</h2>")
		if at < last {
			t.Errorf("section %q is missing or out of place", title)
		}
		last = max(last, at)
	}
	if said := regexp.MustCompile(`.{40}\s--[a-z].{20}|.{40}\(--[a-z].{20}`).FindString(page); said != "" {
		t.Errorf("the page tells of flags of a command: %q", said)
	}
	if !strings.Contains(page, "test climbs have hazards") {
		t.Error("the cautions of test flights are missing")
	}
}

// saysLines looks on a page for every line with a number that a command prints, and
// for its warnings.
func saysLines(t *testing.T, page string, args []string) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	if status := app(context.Background(), args, &stdout, &stderr); status != exitDone && status != exitOverLimit {
		t.Fatalf("%q: exit status %d\n%s", args, status, &stderr)
	}
	lines := 0
	for line := range strings.Lines(stdout.String()) {
		if line = strings.TrimSpace(line); ofTerminal.MatchString(line) {
			continue
		}
		lines++
		if !strings.Contains(page, wordsOf(ofFlags.ReplaceAllString(line, ""))) {
			t.Errorf("%s says, and the page does not: %s", args[0], line)
		}
	}
	if lines < 3 {
		t.Errorf("%s: only %d lines were looked for", args[0], lines)
	}
	for line := range strings.Lines(stderr.String()) {
		if _, text, ok := strings.Cut(line, "warning: "); ok && !strings.Contains(page, wordsOf(text)) {
			t.Errorf("%s warns, and the page does not: %s", args[0], line)
		}
	}
}

// TestReportPage: what it says of its own, the same by any number of workers, and
// nothing that leads out of it.
func TestReportPage(t *testing.T) {
	inFolder(t)
	page := reported(t, exitOverLimit, "--over", "studied.yaml", "--workers", "1")
	if two := reported(t, exitOverLimit, "--over", "studied.yaml", "--workers", "2"); page != two {
		t.Error("two workers write another report than one")
	}
	if n := len(page); n > 1e6 {
		t.Errorf("%d bytes", n)
	}
	for _, never := range []string{"<script", "https://", "@import", "url("} {
		if strings.Contains(page, never) {
			t.Errorf("the page has %q", never)
		}
	}
	if rest := strings.ReplaceAll(page, `xmlns="http://www.w3.org/2000/svg"`, ""); strings.Contains(strings.ReplaceAll(rest, `xmlns:xlink="http://www.w3.org/1999/xlink"`, ""), "http://") {
		t.Error("the page leads somewhere")
	}
	given, folded, _ := strings.Cut(page, "<details class=\"folded\">\n<summary>In use without being written</summary>")
	if path := "<th scope=\"row\">exits.<wbr/>belly.<wbr/>discharge</th>"; strings.Contains(given, path) || !strings.Contains(folded, path) {
		t.Error("defaults are not folded away")
	}
	if path := "<th scope=\"row\">exits.<wbr/>belly.<wbr/>area</th>"; !strings.Contains(given, path) {
		t.Error("what is given is folded away")
	}
	text := pageWords(page)
	for _, says := range []string{
		"on a 105 °f day this climb (hot) reaches the coolant limit after ",
		"the cheapest cure is wider_exit (belly exit <opened> \"wide\") cost 30, 6 hours, 0.4 lb, and leaves ",
		"as it is, cool is unlimited up to ", "exits.belly.area 80 in² ± 3 in² free area",
		"case hot exits.belly.area 40 in²", "size exits.belly.area 40 in²..140 in²", "an estimate, not a cooling test.", "parasite_drag is taken free of cooling drag",
	} {
		if !strings.Contains(text, says) {
			t.Errorf("the report does not say %q", says)
		}
	}
}

// TestReportWithoutParts: what a scenario has no section for, what fails and what is
// left out.
func TestReportWithoutParts(t *testing.T) {
	inFolder(t)
	const brokenLog = "tests:\n  - {name: lost, log: nowhere.csv, columns: {time: T, coolant: \"C [degF]\"}}\n"
	if err := os.WriteFile("broken.yaml", []byte(brokenLog), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		status int
		args   []string
		says   []string
		never  []string
	}{
		{exitOverLimit, []string{"--without", "limits"},
			[]string{"; the scenario lists no changes.", "no section changes", "no section size, so no openings were sought."},
			[]string{"pilot must know", "test flights", "unlimited"}},
		{exitOverLimit, []string{"--over", "broken.yaml", "--without", "rank", "--without", "size", "--without", "limits"},
			[]string{"; what cures it was not looked for.", "cannot read nowhere.csv"}, []string{"buys most"}},
		{exitDone, []string{"--case", "cool", "--without", "rank"},
			[]string{"on a 40 °f day this climb (cool) keeps its limits", "cool is unlimited up to"}, []string{"all 2 cases", "buys most", "above a caution"}},
		{exitOverLimit, []string{"--over", "studied.yaml", "--without", "tests", "--without", "limits", "--set", "display=si"},
			[]string{"on a 40.6 °c day", "cost 30, 6 hours, 0.18 kg", "in hot the coolant boils: it passes its boiling point by "}, []string{"°f day", "test climbs"}},
		{exitFailed, []string{"--case", "cool", "--set", "flight.legs.climb.to_altitude=40000 ft", "--without", "rank", "--without", "size", "--without", "limits"},
			[]string{"this climb (cool) keeps its limits as far as it was flown: ", "in cool, leg climb did not reach its end"}, []string{"boils: it passes"}},
	} {
		text := pageWords(reported(t, c.status, c.args...))
		for _, says := range c.says {
			if !strings.Contains(text, wordsOf(says)) {
				t.Errorf("%q: the report does not say %q", c.args, says)
			}
		}
		for _, never := range c.never {
			if strings.Contains(text, never) {
				t.Errorf("%q: the report says %q", c.args, never)
			}
		}
	}
}

// TestReportStopsAmongParts: an end of the context is no part that fails.
func TestReportStopsAmongParts(t *testing.T) {
	inFolder(t)
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	f := &reportFlags{common: common{workers: 1}, without: []string{sizePart, limitsPart}}
	r, err := f.prepareReport(ctx, "small.yaml")
	if err != nil {
		t.Fatal(err)
	}
	steps := 0
	err = r.find(ctx, func() {
		if steps++; steps > r.flown.flights() {
			cancel()
		}
	})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("after %d steps: %v", steps, err)
	}
}

// TestReportStops: an end of the context leaves no file.
func TestReportStops(t *testing.T) {
	inFolder(t)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	var stdout, stderr bytes.Buffer
	if status := app(ctx, []string{"report", "small.yaml"}, &stdout, &stderr); status != exitFailed || stdout.Len() > 0 {
		t.Errorf("exit status %d, %s%s", status, &stdout, &stderr)
	}
	if _, err := os.Stat("small_report.html"); err == nil {
		t.Error("there is a report")
	}
}
