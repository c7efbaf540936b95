package main

import (
	"bytes"
	"context"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"hotclimb/plots"
)

// serveFor serves as the command does, until the test ends, and returns the address.
func serveFor(t *testing.T, args ...string) string {
	t.Helper()
	ctx, cancel := context.WithCancel(context.Background())
	s := startServing(t, ctx, args...)
	t.Cleanup(func() {
		cancel()
		if status := s.wait(); status != exitDone {
			t.Errorf("serve %v: exit status %d\n%s", args, status, s.stderr)
		}
	})
	return s.address
}

// openServed serves a scenario and opens its page, and waits until it works.
func openServed(t *testing.T, browser context.Context, v view, args ...string) *tab {
	t.Helper()
	p := openTab(t, browser, serveFor(t, args...), v)
	p.until(answered)
	return p
}

// reopen opens an address of the same page anew.
func (p *tab) reopen(address string) {
	p.Helper()
	p.do("open "+address, chromedp.Navigate("about:blank"), chromedp.Navigate(address))
	p.until(answered)
}

// answered is true when nothing that a page asked for is under way, and the last
// answer has been put into the page.
const answered = `window.underWay === 0`

// countRequests runs before the scripts of every page. What is asked for is under way
// until the page has had its turn with the text of the answer.
const countRequests = `
window.underWay = 0;
const ask = window.fetch;
window.fetch = async (...args) => {
  const over = () => setTimeout(() => window.underWay--, 0);
  window.underWay++;
  let response;
  try { response = await ask(...args); } catch (error) { over(); throw error; }
  if (String(args[0]).startsWith("/study/")) { over(); return response; }
  for (const read of ["json", "text"]) {
    const own = response[read].bind(response);
    response[read] = () => { const text = own(); text.finally(over); return text; };
  }
  return response;
};`

// spaces are those between columns.
var spaces = regexp.MustCompile(`\s+`)

// squeezed is a text with its columns one space apart.
func squeezed(text string) string { return strings.TrimSpace(spaces.ReplaceAllString(text, " ")) }

// printedBy is what a command prints, line by line, with columns one space apart.
func printedBy(t *testing.T, args ...string) []string {
	t.Helper()
	var stdout, stderr bytes.Buffer
	if status := app(context.Background(), args, &stdout, &stderr); status != exitDone && status != exitOverLimit {
		t.Fatalf("%v: exit status %d\n%s", args, status, &stderr)
	}
	var lines []string
	for line := range strings.Lines(stdout.String()) {
		lines = append(lines, squeezed(line))
	}
	return lines
}

// below are the lines below the one that starts with a head, to the next empty one.
func below(t *testing.T, lines []string, head string) []string {
	t.Helper()
	i := slices.IndexFunc(lines, func(line string) bool { return strings.HasPrefix(line, head) })
	if i < 0 {
		t.Fatalf("no line starts with %q:\n%s", head, strings.Join(lines, "\n"))
	}
	lines = lines[i+1:]
	if end := slices.Index(lines, ""); end >= 0 {
		lines = lines[:end]
	}
	return lines
}

// rows are the rows of all tables in a place, cells one space apart.
func (p *tab) rows(place string) []string {
	p.Helper()
	return see[[]string](p, fmt.Sprintf(`[...document.querySelectorAll(%q)].map((row) =>
		[...row.cells].map((cell) => cell.textContent.trim()).join(" ").replace(/\s+/g, " ").trim())`, place+" tr"))
}

// holdsWhatRunPrints fails unless the page shows, character by character, what run
// prints with the flags: temperatures, margins and times, what every core does, what
// the cooling costs.
func (p *tab) holdsWhatRunPrints(args ...string) {
	p.Helper()
	lines, rows := printedBy(p.T, append([]string{"run"}, args...)...), p.rows("#result")
	peaks, cores := below(p.T, lines, "peak "), below(p.T, lines, "at least margin serves ")
	if len(peaks) != 2 || len(cores) == 0 {
		p.Fatalf("run %v is not understood:\n%s", args, strings.Join(lines, "\n"))
	}
	for _, row := range slices.Concat(peaks, cores) {
		if !slices.Contains(rows, row) {
			p.Errorf("run %q prints %q; the page has no such row:\n%s", args, row, strings.Join(rows, "\n"))
		}
	}
	text := squeezed(p.text("#result"))
	for _, entry := range []string{"boil margin ", "cooling drag "} {
		i := slices.IndexFunc(lines, func(line string) bool { return strings.HasPrefix(line, entry) })
		if want := strings.TrimPrefix(lines[max(i, 0)], entry); i < 0 || !strings.Contains(text, want) {
			p.Errorf("run %q prints %q after %q; the page has not:\n%s", args, want, entry, text)
		}
	}
}

// control is the selector of what a path is set with.
func control(path string) string { return fmt.Sprintf(`.control[data-path="%s"]`, path) }

// value is what the field of a path shows.
func (p *tab) value(path string) string {
	p.Helper()
	return see[string](p, fmt.Sprintf(`document.querySelector(%q).value`, control(path)+" .value"))
}

// slide moves the slider of a path by some steps with the keys, and returns the
// value that it then has.
func (p *tab) slide(path string, steps int) string {
	p.Helper()
	key := kb.ArrowRight
	if steps < 0 {
		key, steps = kb.ArrowLeft, -steps
	}
	before := p.value(path)
	p.focus(control(path) + " input[type=range]")
	p.press(strings.Repeat(key, steps))
	p.until(answered)
	after := p.value(path)
	if after == before {
		p.Fatalf("%d steps did not move %s from %s", steps, path, before)
	}
	return after
}

// typeInto types a text into a field in place of what is there, and ends it by Tab.
func (p *tab) typeInto(selector, text string) {
	p.Helper()
	p.focus(selector)
	see[bool](p, fmt.Sprintf(`document.querySelector(%q).select() ?? true`, selector))
	p.press(text + kb.Tab)
	p.until(answered)
}

// showsCommand fails unless the page shows the command that does the same, and the
// numbers that this prints. Units may be written in other ways.
func (p *tab) showsCommand(args ...string) {
	p.Helper()
	got := words(p.text("#command"))
	want := append([]string{name, "run"}, args...)
	for i := range want {
		want[i] = plots.Pretty(want[i])
	}
	pretty := make([]string, len(got))
	for i := range got {
		pretty[i] = plots.Pretty(got[i])
	}
	if !slices.Equal(pretty, want) {
		p.Fatalf("the page shows the command\n%q, not\n%q", got, want)
	}
	p.holdsWhatRunPrints(got[2:]...)
}
