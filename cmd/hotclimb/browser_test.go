package main

import (
	"context"
	"os"
	"os/exec"
	"testing"

	"github.com/chromedp/chromedp"
)

// Environment of the tests in a browser.
const (
	// browserTests is empty for one quick test where a browser is found, yes for
	// all of them, and required to fail where a browser is missing.
	browserTests = "HOTCLIMB_BROWSER"
	// browserProgram is the browser, when it is not on the path.
	browserProgram = "HOTCLIMB_CHROMIUM"
	// axeProgram is the file axe.min.js of axe-core, which finds what keeps people
	// from reading a page.
	axeProgram = "HOTCLIMB_AXE"
)

// TestBrowser opens the served page and the report in a browser, and works them as
// a person does: by keys, clicks and eyes on the text.
func TestBrowser(t *testing.T) {
	browser := startBrowser(t)
	t.Run("hearing", func(t *testing.T) { testHearing(t, browser) })
	t.Run("smoke", func(t *testing.T) { testSmoke(t, browser) })
	if os.Getenv(browserTests) == "" {
		t.Skip("the other tests in a browser are left out: they run with " + browserTests + "=yes")
	}
	for _, test := range []struct {
		name string
		test func(*testing.T, context.Context)
	}{
		{"sliders", testSliders},
		{"cases", testCases},
		{"pin", testPin},
		{"figures", testFigures},
		{"cores", testCores},
		{"changes", testChanges},
		{"undo", testUndo},
		{"drag", testDrag},
		{"faults", testFaults},
		{"other_paths", testOtherPaths},
		{"address", testAddress},
		{"keep_scenario", testKeepScenario},
		{"gone", testGone},
		{"no_scripts", testNoScripts},
		{"said", testSaid},
		{"keep_merged", testKeepMerged},
		{"keep_report", testKeepReport},
		{"cancel", testCancel},
		{"sizing", testSizing},
		{"keys", testKeys},
		{"tab_order", testTabOrder},
		{"screens", testScreens},
		{"axe", testAxe},
		{"report", testReport},
	} {
		t.Run(test.name, func(t *testing.T) { test.test(t, browser) })
	}
}

// startBrowser starts a browser with a fresh profile, which ends with the test. Where
// none is installed the test is skipped, or fails when a browser is required.
func startBrowser(t *testing.T) context.Context {
	t.Helper()
	path := findBrowser()
	switch {
	case path != "":
	case os.Getenv(browserTests) == "required":
		t.Fatal("no browser is found: install chromium, or name one in " + browserProgram)
	default:
		t.Skip("no browser is found, so the pages are not tested in one: install chromium, or name one in " + browserProgram)
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path),
		chromedp.UserDataDir(t.TempDir()),
		chromedp.DisableGPU,
		chromedp.Flag("disable-quic", true),
		chromedp.Flag("disable-component-update", true),
		chromedp.Flag("no-pings", true),
	)
	allocator, stop := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(stop)
	browser, _ := chromedp.NewContext(allocator)
	t.Cleanup(func() {
		if err := chromedp.Cancel(browser); err != nil {
			t.Errorf("the browser does not end: %v", err)
		}
	})
	if err := chromedp.Do(browser); err != nil {
		t.Fatalf("%s does not start: %v", path, err)
	}
	return browser
}

// findBrowser is the program of a browser that chromedp can work, "" when there is none.
func findBrowser() string {
	names := []string{"chromium", "chromium-browser", "google-chrome"}
	if named := os.Getenv(browserProgram); named != "" {
		names = []string{named}
	}
	for _, name := range names {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	return ""
}
