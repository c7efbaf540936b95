package main

import (
	"context"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
)

// testReport holds of the report what is held of the served page, opened from a disk
// without any network.
func testReport(t *testing.T, browser context.Context) {
	dir := t.TempDir()
	printedBy(t, "report", "rotary", "--out", dir)
	address := "file://" + filepath.Join(dir, "report.html")
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
