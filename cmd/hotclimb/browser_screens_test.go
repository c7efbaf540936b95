package main

import (
	"context"
	"os"
	"strings"
	"testing"
)

// overflowing finds what lies outside the screen to the left or right, or is cut off
// in a button or a label. What stands in a part that scrolls by itself is left out, and
// so are links that come into sight with the focus.
const overflowing = `(() => {
	const width = document.documentElement.clientWidth, found = [];
	const name = (e) => e.outerHTML.slice(0, 120).replace(/\s+/g, " ");
	if (document.documentElement.scrollWidth > width) found.push("the page is " + document.documentElement.scrollWidth + " wide");
	const scrolls = (e) => e && (/auto|scroll/.test(getComputedStyle(e).overflowX) || scrolls(e.parentElement));
	for (const e of document.body.querySelectorAll("*")) {
		const box = e.getBoundingClientRect();
		if (box.width < 2 || !e.checkVisibility({visibilityProperty: true})) continue;
		const waits = box.right <= 0 && e.matches("a.skip");
		const inside = waits || box.left >= -0.5 && box.right <= width + 0.5;
		if (!inside && !scrolls(e.parentElement)) found.push(name(e) + " from " + box.left + " to " + box.right);
		if (e.matches("button, label, summary, legend, th, td, h1, h2, h3, input[type=text]") && e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 0)
			found.push(name(e) + " is cut off");
	}
	return found.slice(0, 12);
})()`

// small finds controls that are too small for a fingertip: less than 44 pixels high or
// wide, with their label.
const small = `[...document.querySelectorAll("button, summary, input, nav a")].filter((e) => {
	if (!e.checkVisibility({visibilityProperty: true})) return false;
	const box = (e.closest("label") ?? e).getBoundingClientRect();
	return box.height < 43.5 || box.width < 43.5;
}).map((e) => e.outerHTML.slice(0, 120)).slice(0, 12)`

// fits fails where the page does not fit its screen.
func (p *tab) fits(v view) {
	p.Helper()
	if found := see[[]string](p, overflowing); len(found) > 0 {
		p.Errorf("%s: these do not fit:\n%s", v, strings.Join(found, "\n"))
	}
}

// suitsFingers fails where a control of the page is too small for a fingertip.
func (p *tab) suitsFingers(v view) {
	p.Helper()
	if found := see[[]string](p, small); len(found) > 0 {
		p.Errorf("%s: these are too small for a fingertip:\n%s", v, strings.Join(found, "\n"))
	}
}

// readable fails for everything serious or critical that axe finds against people who
// see little or nothing, or use no mouse.
func (p *tab) readable(v view) {
	p.Helper()
	file := os.Getenv(axeProgram)
	if file == "" {
		return
	}
	text, err := os.ReadFile(file)
	if err != nil {
		p.Fatalf("axe cannot be read: %v", err)
	}
	see[bool](p, string(text)+";\ntrue")
	found := seeWithin[[]string](p, longPatience, `axe.run(document, {resultTypes: ["violations"], rules: {"target-size": {enabled: true}}}).then(({violations, passes}) => {
		for (const rule of ["color-contrast", "target-size"]) if (!passes.some(({id}) => id === rule)) return ["nothing passes " + rule];
		return violations.filter(({impact}) => impact === "serious" || impact === "critical").flatMap(({id, impact, nodes}) =>
			nodes.slice(0, 5).map(({target, failureSummary}) => impact + " " + id + ": " + target.join(" ") + " " + failureSummary));
	})`)
	if len(found) > 0 {
		p.Errorf("%s: axe finds\n%s", v, strings.Join(found, "\n"))
	}
}

// needsAxe skips a test without axe, or fails it where a browser is required.
func needsAxe(t *testing.T) {
	t.Helper()
	switch {
	case os.Getenv(axeProgram) != "":
	case os.Getenv(browserTests) == "required":
		t.Fatal("axe-core is not found: name its file axe.min.js in " + axeProgram)
	default:
		t.Skip("axe-core is not found, so nobody judges how accessible the pages are: name its file axe.min.js in " + axeProgram)
	}
}

// unfold opens all that is folded.
const unfold = `[...document.querySelectorAll("details")].forEach((e) => e.open = true) ?? true`

// busy brings a page into a state with as much on it as there can be: pinned, a
// fault, a change, a result of a study.
func (p *tab) fill() {
	p.Helper()
	p.click("#pin")
	p.slide("exits.aft_ring.area", 5)
	p.click(`label:has([data-change="bigger_oil_pump"])`)
	p.typeInto(control("day.temperature")+" .value", "5 mph")
	p.expect("422")
	p.click(`[data-study="rank"]`)
	p.untilWithin(longPatience, `!document.querySelector("#study-result").hidden`)
	see[bool](p, unfold)
}

// The served page fits every screen, as it is opened and with all on it.
func testScreens(t *testing.T, browser context.Context) {
	for _, v := range []view{desk, phone} {
		p := openServed(t, browser, v, "rotary")
		p.fits(v)
		p.fill()
		p.fits(v)
		if v == phone {
			p.suitsFingers(v)
		}
	}
}

// Nobody is kept from reading the served page, light or dark, small or large.
func testAxe(t *testing.T, browser context.Context) {
	needsAxe(t)
	for _, v := range views() {
		p := openServed(t, browser, v, "rotary")
		p.readable(v)
		p.fill()
		p.readable(v)
	}
}
