package main

import (
	"context"
	"path/filepath"
	"testing"
)

// testReport holds the same of the report, opened from a disk without any network.
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
}
