package plots

import (
	"errors"
	"fmt"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// MarginDoubt is the doubt of the least margin of each circuit, one standard
// deviation [K].
type MarginDoubt struct{ Coolant, Oil float64 }

func (d MarginDoubt) circuits() [2]float64 { return [2]float64{d.Coolant, d.Oil} }

// check returns what keeps a doubt from being drawn.
func (d MarginDoubt) check(what string) error {
	for k, v := range d.circuits() {
		of := fmt.Sprintf("the doubt of the margin of %s %s", circuitNames[k], what)
		if err := shown(of, v); err != nil {
			return err
		}
		if v < 0 {
			return fmt.Errorf("%s is negative: %g", of, v)
		}
	}
	return nil
}

// CandidateFlight is a test that could be flown, and the doubt that it would
// leave.
type CandidateFlight struct {
	Name string
	Left MarginDoubt
	Note string // a word below the name, such as a caution; may be empty
}

// DoubtLeft draws the doubt of the margins that each flight would leave as
// bars, in the order given, and the doubt of now as lines. Numbers that are not
// finite or negative are errors that name the flight.
func DoubtLeft(now MarginDoubt, flights []CandidateFlight, u Units, c Caption) (*Figure, error) {
	if err := u.known(); err != nil {
		return nil, err
	}
	if len(flights) == 0 {
		return nil, errors.New("no flights to draw")
	}
	if err := now.check("now"); err != nil {
		return nil, err
	}
	for i, f := range flights {
		if f.Name == "" {
			return nil, fmt.Errorf("flight %d has no name", i+1)
		}
		if err := f.Left.check("after " + f.Name); err != nil {
			return nil, err
		}
	}
	l := layOutDoubtLeft(now, flights, u)
	s := &sheet{
		heading: c.heading("What each flight would leave of the doubt"), caption: c, key: l.key(),
		intro:  "The shorter the bar, the more the flight would teach; the lines are the doubt of now.",
		height: l.height(), body: l.draw, data: doubtTables(now, flights, u),
	}
	return s.figure(l.describe()), nil
}

// doubtLeft is rows of bars.
type doubtLeft struct {
	ladder
	now     MarginDoubt
	flights []CandidateFlight
	unit    scale
	x       axis
	right   vg.Length // of the frame, for the values
}

func layOutDoubtLeft(now MarginDoubt, flights []CandidateFlight, u Units) *doubtLeft {
	l := &doubtLeft{now: now, flights: flights, unit: u.difference()}
	x := nothing.with(0)
	see := func(d MarginDoubt) {
		for _, v := range d.circuits() {
			x = x.with(l.unit.of(v))
			l.right = max(l.right, l.text(v).width()+2*nameGap)
		}
	}
	see(now)
	for _, f := range flights {
		see(f.Left)
		l.add(f.Name, f.Note, mostNames, 2*rowHeight)
	}
	const least, head = 0.5, 1.04 // K; keeps the longest off the frame
	x.hi = max(x.hi, least*l.unit.factor) * head
	l.x = horizontal(x, pageWidth-2*margin-l.left-l.right)
	return l
}

// text is the value of a bar.
func (l *doubtLeft) text(v float64) words {
	return words{text: "±" + decimal(l.unit.of(v), 1) + " " + l.unit.unit, size: smallSize}
}

func (l *doubtLeft) height() vg.Length { return l.ladder.height() + stepRoom + rowHeight + 2 }

// nowLine is the doubt of now of a circuit.
func nowLine(circuit int) draw.LineStyle {
	return stroke(circuitStyles[circuit].color, 1.6, circuitStyles[circuit].dashes)
}

func (l *doubtLeft) key() []keyEntry {
	var key []keyEntry
	for k, name := range circuitNames {
		now := l.text(l.now.circuits()[k]).text
		key = append(key, keyEntry{name + " after the flight", barSample(k)}, keyEntry{name + " now, " + now, uprightSample(nowLine(k))})
	}
	return key
}

func (l *doubtLeft) draw(c draw.Canvas, area vg.Rectangle) {
	f := frame{
		vg.Rectangle{Min: vg.Point{X: area.Min.X + l.left, Y: area.Max.Y - l.ladder.height()}, Max: vg.Point{X: area.Max.X - l.right, Y: area.Max.Y}},
		l.x.span, span{0, 1},
	}
	s := sides{f, 0}
	s.uprights(c, l.x)
	l.ladder.draw(c, f.Min.X, f.Max.Y, [2]vg.Length{area.Min.X, area.Max.X})
	for i, y := range l.middles(f.Max.Y) {
		for k, v := range l.flights[i].Left.circuits() {
			l.bar(c, f, y+rowHeight*(0.5-vg.Length(k)), k, v)
		}
	}
	for k, v := range l.now.circuits() {
		x := f.at(l.unit.of(v), 0).X
		c.StrokeLine2(nowLine(k), x, f.Min.Y, x, f.Max.Y)
	}
	outline(c, f.Rectangle, 0.7)
	s.horizontal(c, l.x, true)
	nameBelow(c, f, axisText("Doubt of the least margin, one standard deviation", l.unit.unit))
}

// bar draws the bar of a circuit at a height, and its value beside the frame.
func (l *doubtLeft) bar(c draw.Canvas, f frame, y vg.Length, circuit int, v float64) {
	if end := f.at(l.unit.of(v), 0).X; end > f.Min.X {
		drawBar(c, vg.Rectangle{Min: vg.Point{X: f.Min.X, Y: y - barHeight/2}, Max: vg.Point{X: end, Y: y + barHeight/2}}, circuit)
	}
	w := l.text(v)
	w.align = 1
	write(c, vg.Point{X: f.Max.X + l.right, Y: y - middle*w.size}, w)
}

// describe says in words what the figure shows.
func (l *doubtLeft) describe() string {
	var text strings.Builder
	told := func(d MarginDoubt) string {
		return fmt.Sprintf("coolant %s, oil %s", l.text(d.Coolant).text, l.text(d.Oil).text)
	}
	fmt.Fprintf(&text, "Doubt of the least margins, one standard deviation, after %s. Now: %s. ", counted(len(l.flights), "flight that could be flown"), told(l.now))
	for _, f := range l.flights[:min(len(l.flights), mostTold)] {
		fmt.Fprintf(&text, "After %s: %s. ", f.Name, told(f.Left))
	}
	text.WriteString("An " + reminder + ".")
	return text.String()
}
