package main

import (
	"bytes"
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// faultOf is what check says of a setting.
func faultOf(t *testing.T, file, setting string) string {
	t.Helper()
	var stdout, stderr bytes.Buffer
	status := app(context.Background(), []string{"check", file, "--set", setting}, &stdout, &stderr)
	fault, rest, _ := strings.Cut(stdout.String(), "\n")
	if status != exitBadInput || fault == "" || rest != "" {
		t.Fatalf("check finds not one fault in %s: status %d\n%s%s", setting, status, &stdout, &stderr)
	}
	return fault
}

// A value that the scenario does not take has what check says of it beside its field,
// tied to it for those who cannot see; the last figures and what was typed stay.
func testFaults(t *testing.T, browser context.Context) {
	const path = "exits.aft_ring.area"
	p := openServed(t, browser, desk, "rotary")
	good := p.slide(path, 2)
	args := []string{"rotary", "--case", "hot_climb", "--set", path + "=" + good}
	for _, bad := range []string{"5 mph", "much", "-3 in^2", "1 mile^2"} {
		p.typeInto(control(path)+" .value", bad)
		p.expect("422")
		want := faultOf(t, "rotary", path+"="+bad)
		field := fmt.Sprintf(`document.querySelector(%q)`, control(path)+" .value")
		if got := p.text(control(path) + " .fault"); got != want {
			t.Errorf("%q: the page says %q, check says %q", bad, got, want)
		}
		if !see[bool](p, field+`.getAttribute("aria-invalid") === "true"`) {
			t.Errorf("%q: the field is not marked as invalid", bad)
		}
		if !see[bool](p, field+`.getAttribute("aria-describedby").split(" ").some((id) => document.getElementById(id)?.matches(".fault"))`) {
			t.Errorf("%q: the fault does not describe the field", bad)
		}
		if got := p.value(path); got != bad {
			t.Errorf("%q: the field now says %q", bad, got)
		}
		if p.text("#left-out") == "" {
			t.Errorf("%q: nothing says that the figures leave it out", bad)
		}
	}
	p.typeInto(control(path)+" .value", strings.TrimSuffix(good, " in²")) // as the slider had it
	if got := p.text(control(path) + " .fault"); got != "" {
		t.Errorf("with a good value the page still says %q", got)
	}
	p.showsCommand(args...)
}

// A path that there is not, and a word that a path does not take, are told as check
// does.
func testOtherPaths(t *testing.T, browser context.Context) {
	p := openServed(t, browser, desk, "rotary")
	for _, bad := range [][2]string{{"exits.aft_rign.area", "90 in^2"}, {"exchangers.radiator.serves", "beer"}, {"day.temperature", "400 degF"}} {
		p.typeInto("#other-path", bad[0])
		p.focus("#other-value")
		p.press(bad[1] + kb.Enter)
		p.until(answered)
		p.expect("422")
		want := faultOf(t, "rotary", bad[0]+"="+bad[1])
		if got := p.text("#controls"); !strings.Contains(squeezed(got), squeezed(want)) {
			t.Errorf("%q: check says %q; the page has\n%s", bad, want, got)
		}
		p.holdsWhatRunPrints("rotary", "--case", "hot_climb")
		p.click("#as-filed")
		p.until(answered)
	}
	p.typeInto("#other-path", "aircraft.mass")
	p.typeInto("#other-value", "2000 lb")
	p.click("#other-set")
	p.until(answered)
	p.showsCommand("rotary", "--case", "hot_climb", "--set", "aircraft.mass=2000 lb")
}

// What was set outlives a reload; what an address holds and nobody understands is
// told, and left out.
func testAddress(t *testing.T, browser context.Context) {
	p := openServed(t, browser, desk, "rotary")
	area := p.slide("exits.aft_ring.area", 3)
	p.until(`location.hash !== ""`) // it is written when a slider rests
	address := see[string](p, "location.href")
	p.reopen(address)
	p.showsCommand("rotary", "--case", "hot_climb", "--set", "exits.aft_ring.area="+area)
	root, _, _ := strings.Cut(address, "#")
	p.reopen(root + "#set=%3Cscript%3Ealert(1)%3C/script%3E")
	if got := p.text("#gone"); !strings.Contains(got, "address") {
		t.Errorf("a bad address is answered by %q", got)
	}
	p.showsCommand("rotary", "--case", "hot_climb")
	p.reopen(root + "#set=exits.aft_ring.area%3D5%20mph")
	p.expect("422")
	if got, want := p.text(control("exits.aft_ring.area")+" .fault"), faultOf(t, "rotary", "exits.aft_ring.area=5 mph"); got != want {
		t.Errorf("a bad value in the address is answered by %q, not by %q", got, want)
	}
	if got := p.value("exits.aft_ring.area"); got != "5 mph" {
		t.Errorf("with a bad value in the address its field says %q", got)
	}
}

// A server that is gone is told; when it is back, the next move is answered.
func testGone(t *testing.T, browser context.Context) {
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	s := startServing(t, ctx, "rotary")
	p := openTab(t, browser, s.address, phone)
	p.until(answered)
	cancel()
	if status := s.wait(); status != exitDone {
		t.Errorf("exit status %d", status)
	}
	p.slide("exits.aft_ring.area", 2)
	p.expect("net::ERR_CONNECTION_REFUSED")
	if got := p.text("#gone"); !strings.Contains(got, "does not answer") {
		t.Errorf("of the server that is gone the page says %q", got)
	}
	if !see[bool](p, `(({top, bottom}) => top >= 0 && bottom <= innerHeight)(document.querySelector("#gone").getBoundingClientRect())`) {
		t.Error("what is said of the server that is gone is off the screen")
	}
	p.holdsWhatRunPrints("rotary", "--case", "hot_climb") // the last answer stays
	_, port, _ := strings.Cut(strings.TrimPrefix(s.address, "http://"), ":")
	again, stop := context.WithCancel(context.Background())
	back := startServing(t, again, "rotary", "--port", port)
	area := p.slide("exits.aft_ring.area", 2)
	p.showsCommand("rotary", "--case", "hot_climb", "--set", "exits.aft_ring.area="+area)
	if got := p.text("#gone"); got != "" {
		t.Errorf("of the server that is back the page says %q", got)
	}
	stop()
	back.wait()
}

// Without scripts the page shows the scenario as filed, and every case by its link.
func testNoScripts(t *testing.T, browser context.Context) {
	p := openTab(t, browser, serveFor(t, "rotary"), desk)
	tabCall(p, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	p.do("load without scripts", chromedp.Reload())
	p.holdsWhatRunPrints("rotary", "--case", "hot_climb")
	p.do("load another case", chromedp.Navigate(see[string](p, `document.querySelector('[data-case-name="cruise"]').href`)))
	p.holdsWhatRunPrints("rotary", "--case", "cruise")
	if got := p.text("noscript"); !strings.Contains(got, "scripts") {
		t.Errorf("of the missing scripts the page says %q", got)
	}
}

// A move is told in one sentence to those who do not see it.
func testSaid(t *testing.T, browser context.Context) {
	p := openServed(t, browser, desk, "rotary")
	if got := see[string](p, `document.querySelector("#say").getAttribute("role")`); got != "status" {
		t.Errorf("what is said has the role %q", got)
	}
	p.slide("exits.aft_ring.area", 3)
	lines := printedBy(t, "run", "rotary", "--case", "hot_climb", "--set", "exits.aft_ring.area="+p.value("exits.aft_ring.area"))
	for _, peak := range below(t, lines, "peak ") {
		fields := strings.Fields(peak)
		margin := fields[len(fields)-1-strings.Count(peak, "not reached")-1]
		p.until(fmt.Sprintf(`document.querySelector("#say").textContent.includes(%q)`, margin))
	}
}
