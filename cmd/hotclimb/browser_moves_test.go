package main

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"hotclimb/scenarios"
)

// A page that is opened, and one whose slider is moved, show what run prints.
func testSmoke(t *testing.T, browser context.Context) {
	p := openServed(t, browser, desk, "rotary")
	p.holdsWhatRunPrints("rotary", "--case", "hot_climb")
	area := p.slide("exits.aft_ring.area", 3)
	p.holdsWhatRunPrints("rotary", "--case", "hot_climb", "--set", "exits.aft_ring.area="+area)
}

// Every slider of a case moves what run would with the same value, alone and all
// together, and the command that is shown says so.
func testSliders(t *testing.T, browser context.Context) {
	p := openServed(t, browser, desk, "tug")
	paths := see[[]string](p, `[...document.querySelectorAll(".control:not([hidden]) input[type=range]")]
		.map((slider) => slider.closest(".control").dataset.path)`)
	if len(paths) < 8 {
		t.Fatalf("the tug has few sliders: %q", paths)
	}
	args := []string{"tug", "--case", "hot_tow"}
	for i, path := range paths {
		steps := 2
		if see[bool](p, `(({value, max}) => value === max)(document.querySelector('`+control(path)+` input[type=range]'))`) {
			steps = -2
		}
		args = append(args, "--set", path+"="+p.slide(path, steps))
		if i%3 == 0 || i == len(paths)-1 {
			p.holdsWhatRunPrints(args...)
		}
	}
	p.showsCommand(args...)
}

// Another case is shown with its own figures, and keeps what was set.
func testCases(t *testing.T, browser context.Context) {
	p := openServed(t, browser, desk, "rotary")
	area := p.slide("exits.aft_ring.area", 4)
	air := p.slide("day.temperature", 5)
	p.click(`[data-case-name="hot_taxi"]`)
	p.until(answered + ` && document.querySelector("#command").textContent.includes("hot_taxi")`)
	p.holdsWhatRunPrints("rotary", "--case", "hot_taxi", "--set", "exits.aft_ring.area="+area)
	p.click(`[data-case-name="hot_climb"]`)
	p.until(answered + ` && document.querySelector("#command").textContent.includes("hot_climb")`)
	p.holdsWhatRunPrints("rotary", "--case", "hot_climb", "--set", "exits.aft_ring.area="+area, "--set", "day.temperature="+air)
}

// Against a pinned state every change is that which run tells from the scenario as
// filed.
func testPin(t *testing.T, browser context.Context) {
	p := openServed(t, browser, desk, "rotary")
	p.click("#pin")
	p.until(answered)
	area := p.slide("exits.aft_ring.area", 10)
	lines := printedBy(t, "run", "rotary", "--case", "hot_climb", "--set", "exits.aft_ring.area="+area)
	changes := strings.Join(below(t, lines, "Change from the scenario as filed:"), " ")
	_, changes, _ = strings.Cut(changes, "margin coolant ")
	coolant, changes, _ := strings.Cut(changes, ", oil ")
	oil, drag, _ := strings.Cut(changes, " cooling drag ")
	drag, _, _ = strings.Cut(drag, ":")
	text := squeezed(p.text("#result"))
	for _, change := range []string{coolant, oil, drag} {
		number, _, _ := strings.Cut(change, " ")
		if number == "" || !strings.Contains(text, "("+number) {
			t.Errorf("run tells the change %q; the page has not:\n%s", change, text)
		}
	}
	p.click("#unpin")
	p.until(answered)
	p.holdsWhatRunPrints("rotary", "--case", "hot_climb", "--set", "exits.aft_ring.area="+area)
}

// otherThanAnswered are the parts of the page that do not hold what the server answers
// to a state, node by node. What a person has opened does not count.
const otherThanAnswered = `(async (edits, pinned) => {
	const body = JSON.stringify({case: document.body.dataset.case, edits, pinned});
	const headers = {"Content-Type": "application/json"};
	const answer = await (await fetch("/fly", {method: "POST", headers, body})).json();
	return ["summary", "result", "cowl"].filter((name) => {
		const part = document.getElementById(name).cloneNode(true);
		const fresh = part.cloneNode();
		fresh.innerHTML = answer[name];
		for (const opened of part.querySelectorAll("[open]")) opened.removeAttribute("open");
		return !part.isEqualNode(fresh);
	});
})(%s, %s)`

// holdsAnswer fails unless the page comes to hold what the server answers to a state.
func (p *tab) holdsAnswer(edits, pinned string) {
	p.Helper()
	p.until(answered)
	var others []string
	for end := time.Now().Add(tabPatience); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		if others = see[[]string](p, fmt.Sprintf(otherThanAnswered, edits, pinned)); len(others) == 0 {
			return
		}
	}
	p.Errorf("edits %s, pinned %s: what is answered does not stand in %q", edits, pinned, others)
}

// Figures that change in their places become those of the answer, whatever stood there
// before; what a person has opened and focused stays so.
func testFigures(t *testing.T, browser context.Context) {
	p := openServed(t, browser, desk, "tug")
	p.slide("exits.belly.area", 30)
	p.typeInto(control("exits.belly.area")+" .value", "150 in^2")
	const edits = `[{path: "exits.belly.area", value: "150 in^2"}]`
	p.holdsAnswer(edits, "null")
	p.click("#cowl summary")
	p.click("#pin")
	p.holdsAnswer(edits, edits)
	p.click("#as-filed")
	p.holdsAnswer("[]", edits)
	p.focus("#result .wide")
	p.press("z", chromedp.KeyModifiers(chromedp.ModifierCtrl))
	p.holdsAnswer(edits, edits)
	if !see[bool](p, `document.activeElement.matches("#result .wide")`) {
		t.Error("a table that had the focus has lost it")
	}
	p.click(`[data-case-name="cruise"]`)
	p.holdsAnswer(edits, edits)
	if !see[bool](p, `document.querySelector("#cowl details").open`) {
		t.Error("the numbers of the cowl were open and are no more")
	}
	p.click("#unpin")
	p.holdsAnswer(edits, "null")
}

// A core that is moved to the other circuit is that of run.
func testCores(t *testing.T, browser context.Context) {
	p := openServed(t, browser, desk, "rotary")
	core := see[string](p, `document.querySelector('.core:has(input[value="coolant"]:checked)').dataset.core`)
	p.click(`.core[data-core="` + core + `"] label:has(input[value="oil"])`)
	p.until(answered)
	p.holdsWhatRunPrints("rotary", "--case", "hot_climb", "--set", "exchangers."+core+".serves=oil")
	p.click(`.core[data-core="` + core + `"] .back`)
	p.until(answered)
	p.holdsWhatRunPrints("rotary", "--case", "hot_climb")
}

// A change that is ticked sets all that it sets, with its weight; unticked it is gone.
func testChanges(t *testing.T, browser context.Context) {
	p := openServed(t, browser, desk, "rotary")
	sc, err := scenarios.LoadFile("rotary", nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range sc.Changes {
		box := `label:has([data-change="` + c.Name + `"])`
		p.click(box)
		p.until(answered)
		args := []string{"rotary", "--case", "hot_climb"}
		for _, s := range scenarios.Settings(c.Set) {
			args = append(args, "--set", s.Path+"="+s.Text)
		}
		if _, sets := c.Set["aircraft.mass"]; !sets && c.Weight.Value != 0 {
			args = append(args, "--set", "aircraft.mass="+scenarios.Exact(sc.Aircraft.Mass.Value+c.Weight.Value, "", scenarios.DimensionOf[scenarios.Mass]()))
		}
		p.holdsWhatRunPrints(args...)
		p.click(box)
		p.until(answered)
	}
	p.holdsWhatRunPrints("rotary", "--case", "hot_climb")
}

// What was done is undone step by step, and done again, by buttons and keys.
func testUndo(t *testing.T, browser context.Context) {
	p := openServed(t, browser, desk, "rotary")
	filed := []string{"rotary", "--case", "hot_climb"}
	area := p.slide("exits.aft_ring.area", 3)
	one := append(filed[:3:3], "--set", "exits.aft_ring.area="+area)
	two := append(one[:5:5], "--set", "day.temperature="+p.slide("day.temperature", -4))
	ctrl := chromedp.KeyModifiers(chromedp.ModifierCtrl)
	for _, step := range []struct {
		do   func()
		args []string
	}{
		{func() {}, two},
		{func() { p.click("#undo") }, one},
		{func() { p.click("#undo") }, filed},
		{func() { p.click("#redo") }, one},
		{func() { p.press("y", ctrl) }, two},
		{func() { p.press("z", ctrl) }, one},
		{func() { p.click("#redo") }, two},
		{func() { p.click("#as-filed") }, filed},
		{func() { p.click("#undo") }, two},
	} {
		step.do()
		p.until(answered)
		p.showsCommand(step.args...)
	}
}

// watchDrag counts the addresses that a page writes, and gathers at which heights an
// element stands.
const watchDrag = `(() => {
	window.written = 0;
	const write = history.replaceState.bind(history);
	history.replaceState = (...args) => { window.written++; write(...args); };
	window.places = new Set();
	const look = () => { places.add(document.querySelector(%q).getBoundingClientRect().top); requestAnimationFrame(look); };
	look();
	return true;
})()`

// longRest is longer than moves of a slider without a hand on it may lie apart to be
// undone as one.
const longRest = time.Second

// drag drags a slider fast and far; half-way the hand rests.
func (p *tab) drag(slider string, moves int) {
	p.Helper()
	box := see[[]float64](p, `(({left, top, width, height}) => [left, top, width, height])(document.querySelector('`+slider+`').getBoundingClientRect())`)
	x := func(i int) float64 { return box[0] + box[2]*(0.5+0.4*math.Sin(float64(i)/9)) }
	y := box[1] + box[3]/2
	p.do("press", chromedp.MouseEvent(chromedp.MousePressed, x(0), y, chromedp.ButtonLeft, chromedp.ClickCount(1)))
	for i := range moves {
		if i == moves/2 {
			time.Sleep(longRest)
		}
		p.do("drag", chromedp.MouseEvent(chromedp.MouseMoved, x(i), y, chromedp.ButtonLeft))
	}
	p.do("let go", chromedp.MouseEvent(chromedp.MouseReleased, x(moves-1), y, chromedp.ButtonLeft, chromedp.ClickCount(1)))
	p.until(answered)
}

// A slider that is dragged fast and far ends where the hand lets go; all of the way is
// one step to undo, writes hardly an address, and moves nothing under the hand. On a
// phone the chart stays in sight. Another drag is another step.
func testDrag(t *testing.T, browser context.Context) {
	const path = "exits.aft_ring.area"
	filed := []string{"rotary", "--case", "hot_climb"}
	for _, v := range []view{desk, phone} {
		p := openServed(t, browser, v, "rotary")
		slider := control(path) + " input[type=range]"
		p.do("scroll", chromedp.ScrollIntoView(chromedp.CSS(control("day.temperature")), chromedp.NodeVisible))
		see[bool](p, fmt.Sprintf(watchDrag, slider))
		p.drag(slider, 150)
		one := append(filed[:3:3], "--set", path+"="+p.value(path))
		p.showsCommand(one...)
		p.until("decodeURIComponent(location.hash).startsWith(`#set=" + path + "=${document.querySelector('" + slider + "').value}+`)")
		if n := see[int](p, "written"); n > 10 {
			t.Errorf("%s: the drag wrote %d addresses", v, n)
		}
		if places := see[[]float64](p, "[...places]"); len(places) != 1 {
			t.Errorf("%s: the slider was at the heights %v", v, places)
		}
		if !see[bool](p, `(({top, bottom}) => bottom > 100 && top < innerHeight - 100)(document.querySelector("#chart").getBoundingClientRect())`) {
			t.Errorf("%s: the chart is off the screen", v)
		}
		time.Sleep(longRest)
		p.drag(slider, 20)
		p.showsCommand(append(filed[:3:3], "--set", path+"="+p.value(path))...)
		for _, args := range [][]string{one, filed} {
			p.click("#undo")
			p.until(answered)
			p.showsCommand(args...)
		}
	}
}
