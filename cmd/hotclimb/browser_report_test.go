package main

import (
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
)

// testReport holds of the report what is held of the served page, opened from a disk
// without any network.
func testReport(t *testing.T, browser context.Context) {
	dir := t.TempDir()
	printedBy(t, "report", "rotary", "--out", dir)
	file := filepath.Join(dir, "report.html")
	holdsReadme(t, file)
	address := "file://" + file
	for _, v := range views() {
		t.Run(v.String(), func(t *testing.T) {
			p := openTab(t, browser, address, v)
			p.fits(v)
			p.readable(v)
			see[bool](p, unfold)
			p.fits(v)
			if v == desk {
				p.readable(v)
			}
			if n := len(p.asked); n != 1 {
				t.Errorf("the report asked for %d files: %q", n, p.asked)
			}
		})
	}
	t.Run("printed", func(t *testing.T) { testPrinted(t, browser, address) })
}

// quoted finds what the README quotes of the report.
var quoted = regexp.MustCompile(`(?m)(?:^> .*\n)+`)

// holdsReadme checks that a report is as small as it should be and begins as the README
// says.
func holdsReadme(t *testing.T, file string) {
	page, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	if len(page) > 1e6 {
		t.Errorf("the report has %d bytes, wants 1 MB at most", len(page))
	}
	text := strings.Join(strings.Fields(strings.ReplaceAll(string(page), "</p>", "")), " ")
	quote := strings.Join(strings.Fields(strings.ReplaceAll(string(quoted.Find(readme)), "\n> ", " ")), " ")
	quote = strings.TrimPrefix(quote, "> ")
	if quote == "" || !strings.Contains(strings.ReplaceAll(text, "<p>", ""), quote) {
		t.Errorf("the report does not begin as the README says: %s", quote)
	}
}

// Sheets of paper without their margins of 12 mm, at 96 pixels an inch [CSS pixels].
var sheets = map[string]view{
	"Letter": {width: 725, height: 965},
	"A4":     {width: 703, height: 1032},
}

// cutOff finds what is wider than its place on paper, where nothing scrolls. What is
// there for ears alone is left out.
const cutOff = `[...document.body.querySelectorAll(":not(.unseen)")].filter((e) =>
	e.clientWidth > 0 && e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).overflowX !== "visible" && e.checkVisibility())
	.map((e) => e.outerHTML.slice(0, 150) + " " + e.scrollWidth + " in " + e.clientWidth).slice(0, 12)`

// Nothing of the report is cut off on paper, folded or not.
func testPrinted(t *testing.T, browser context.Context, address string) {
	for name, sheet := range sheets {
		p := openTab(t, browser, address, sheet)
		tabCall(p, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
		for range 2 {
			p.fits(sheet)
			if found := see[[]string](p, cutOff); len(found) > 0 {
				t.Errorf("%s: these are cut off:\n%s", name, strings.Join(found, "\n"))
			}
			see[bool](p, unfold)
		}
	}
}
