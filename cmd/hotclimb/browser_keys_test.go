package main

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// tabTo goes to an element by Tab alone.
func (p *tab) tabTo(selector string) {
	p.Helper()
	for range 300 {
		p.press(kb.Tab)
		if see[bool](p, fmt.Sprintf(`document.activeElement.matches(%q)`, selector)) {
			p.showsFocus()
			return
		}
	}
	p.Fatalf("Tab does not reach %s", selector)
}

// showsFocus fails where a person cannot see which element has the focus, or where it
// lies off the screen or behind what stays in sight.
func (p *tab) showsFocus() {
	p.Helper()
	unseen := see[string](p, `(() => {
		const e = document.activeElement, style = getComputedStyle(e), box = e.getBoundingClientRect();
		const around = getComputedStyle(e.closest("label") ?? e);
		const marked = [style, around].some((s) => (s.outlineStyle !== "none" && parseFloat(s.outlineWidth) >= 1) || s.boxShadow !== "none");
		const y = (Math.max(box.top, 0) + Math.min(box.bottom, innerHeight)) / 2, x = box.left + Math.min(box.width, innerWidth) / 2;
		const front = document.elementFromPoint(x, y), seen = e.contains(front) || e.closest("label")?.contains(front);
		return marked && seen ? "" : e.outerHTML.slice(0, 200) + (marked ? " is hidden behind " + front?.outerHTML.slice(0, 200) : " is not marked");
	})()`)
	if unseen != "" {
		p.Errorf("the focus is not seen: %s", unseen)
	}
}

// Everything is done with keys alone.
func testKeys(t *testing.T, browser context.Context) {
	p := openServed(t, browser, desk, "rotary")
	step := func(selector, keys string) {
		t.Helper()
		p.tabTo(selector)
		p.press(keys)
		p.until(answered)
	}
	step("#pin", kb.Enter)
	step(control("exits.aft_ring.area")+" input[type=range]", kb.ArrowUp+kb.ArrowUp+kb.PageUp)
	area := p.value("exits.aft_ring.area")
	step(control("day.temperature")+" .value", kb.End+strings.Repeat(kb.Backspace, 20)+"40 degC"+kb.Enter)
	args := []string{"--set", "exits.aft_ring.area=" + area, "--set", "day.temperature=40 degC"}
	p.rowsAreThoseOf(args)
	step(`.core[data-core="oil_cooler"] input:checked`, kb.ArrowUp)
	args = append(args, "--set", "exchangers.oil_cooler.serves=coolant")
	p.rowsAreThoseOf(args)
	p.press("z", chromedp.KeyModifiers(chromedp.ModifierCtrl))
	p.until(answered)
	p.rowsAreThoseOf(args[:4])
	step(`[data-change="exit_ring"]`, " ")
	step("#unpin", kb.Enter)
	p.tabTo(`[data-study="size"]`)
	p.press(kb.Enter)
	p.until(`document.activeElement.id === "study-cancel"`)
	p.showsFocus()
	p.press(kb.Enter)
	p.until(`document.querySelector("#study-run").hidden`)
	if got := see[string](p, `document.activeElement.dataset.study ?? document.activeElement.outerHTML`); got != "size" {
		t.Errorf("after the study was cancelled the focus is on %s", got)
	}
}

// rowsAreThoseOf fails unless the page, on which a state is pinned, shows the command
// and its first numbers.
func (p *tab) rowsAreThoseOf(set []string) {
	p.Helper()
	args := append([]string{"run", "rotary", "--case", "hot_climb"}, set...)
	rows := strings.Join(p.rows("#result"), "\n")
	for _, peak := range below(p.T, printedBy(p.T, args...), "peak ") {
		start := strings.Join(strings.Fields(peak)[:3], " ") // the change stands behind
		if !strings.Contains(rows, start) {
			p.Errorf("%q prints %q; the page has no row with %q:\n%s", args, peak, start, rows)
		}
	}
}

// Tab reaches everything that can be worked, once around, in the order of the page, and
// back again.
func testTabOrder(t *testing.T, browser context.Context) {
	p := openServed(t, browser, phone, "rotary")
	n, last := see[int](p, `(() => {
		window.order = []; // things keep no marks: figures are renewed
		const workable = "a[href], button:not(:disabled), input:not(:disabled), select, summary, [tabindex='0']";
		for (const e of document.querySelectorAll(workable)) {
			const group = e.type === "radio" && !e.checked; // the arrows reach the others
			if (e.checkVisibility({visibilityProperty: true}) && !group) order.push(e);
		}
		return order.length;
	})()`), -1
	if n < 30 {
		t.Fatalf("only %d things can be worked", n)
	}
	for range n {
		p.press(kb.Tab)
		at := see[int](p, "order.indexOf(document.activeElement)")
		if at != last+1 {
			t.Fatalf("Tab goes from number %d to number %d, %s", last, at, see[string](p, "document.activeElement.outerHTML.slice(0, 200)"))
		}
		p.showsFocus()
		last = at
	}
	for at := n - 2; at >= 0; at-- {
		p.press(kb.Tab, chromedp.KeyModifiers(chromedp.ModifierShift))
		if got := see[int](p, "order.indexOf(document.activeElement)"); got != at {
			t.Fatalf("Tab goes back from number %d to number %d", at+1, got)
		}
		p.showsFocus()
	}
}
