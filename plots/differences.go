package plots

import (
	"errors"
	"fmt"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Interval is a difference of temperatures with the ends of its interval, and
// what is to be made of it.
type Interval struct {
	Value, Low, High float64 // [K]
	Verdict          string  // "real", "not distinguishable from noise"; may be empty
}

// Difference is one configuration less the baseline; positive is hotter. Nil
// is a circuit that was not compared.
type Difference struct {
	Name         string
	Coolant, Oil *Interval
	Note         string // a word below the name; may be empty
}

func (d *Difference) circuits() [2]*Interval { return [2]*Interval{d.Coolant, d.Oil} }

// check returns what keeps the difference from being drawn.
func (d *Difference) check() error {
	if d.Name == "" {
		return errors.New("a configuration has no name")
	}
	if d.Coolant == nil && d.Oil == nil {
		return fmt.Errorf("configuration %s has no difference to draw", d.Name)
	}
	for k, v := range d.circuits() {
		if v == nil {
			continue
		}
		what := fmt.Sprintf("the difference of %s of %s", circuitNames[k], d.Name)
		for _, x := range []float64{v.Value, v.Low, v.High} {
			if err := shown(what, x); err != nil {
				return err
			}
		}
		if v.Low > v.Value || v.High < v.Value {
			return fmt.Errorf("%s, %g, lies outside of its interval, %g to %g", what, v.Value, v.Low, v.High)
		}
	}
	return nil
}

// Differences draws configurations less the baseline, a row for each: coolant
// above oil, with their intervals about a common line of no difference, and the
// numbers and verdicts beside them. Numbers that are not finite, intervals
// without their value and nameless rows are errors that say which.
func Differences(list []Difference, baseline string, u Units, c Caption) (*Figure, error) {
	if err := u.known(); err != nil {
		return nil, err
	}
	if len(list) == 0 {
		return nil, errors.New("no differences to draw")
	}
	if baseline == "" {
		return nil, errors.New("the baseline of the differences has no name")
	}
	for i := range list {
		if err := list[i].check(); err != nil {
			return nil, err
		}
	}
	l := layOutDifferences(list, u)
	s := &sheet{
		heading: c.heading("Differences of temperature"), caption: c, key: l.key(),
		intro:  "Each configuration less the baseline, " + baseline + ". Right of zero it is hotter, left of zero colder.",
		height: l.height(), body: l.draw, data: differenceTables(list, baseline, u),
	}
	return s.figure(l.describe(baseline)), nil
}

// differences is rows of intervals.
type differences struct {
	ladder
	rows  []differenceRow
	unit  scale
	x     axis
	right vg.Length // of the frame, for numbers and verdicts
}

// differenceRow is one configuration.
type differenceRow struct {
	*Difference
	texts [2][]words // beside the intervals
}

// Measures of rows with texts beside the frame [pt].
const (
	mostDifferenceName vg.Length = 160
	mostVerdict        vg.Length = 165
	textGap            vg.Length = 8 // between the frame and the texts
)

func layOutDifferences(list []Difference, u Units) *differences {
	l := &differences{unit: u.difference()}
	x := nothing.with(0)
	for i := range list {
		row := differenceRow{Difference: &list[i]}
		lines := 0
		for k, v := range list[i].circuits() {
			if v == nil {
				continue
			}
			x = x.with(l.unit.of(v.Low), l.unit.of(v.High))
			row.texts[k] = append([]words{l.text(k, v)}, breakText(v.Verdict, words{size: smallSize, color: noteInk}, mostVerdict, 3)...)
			for _, line := range row.texts[k] {
				l.right = max(l.right, line.width()+textGap)
			}
			lines += len(row.texts[k])
		}
		l.add(list[i].Name, list[i].Note, mostDifferenceName, vg.Length(lines)*rowHeight)
		l.rows = append(l.rows, row)
	}
	const least = 4 // K
	width := pageWidth - 2*margin - l.left - l.right
	l.x = horizontal(x.atLeast(least*l.unit.factor).padded(0.05), width)
	return l
}

// text is the numbers of the interval of a circuit.
func (l *differences) text(circuit int, v *Interval) words {
	return words{size: smallSize, text: fmt.Sprintf("%s %s %s (%s to %s)", circuitNames[circuit], signed(l.unit.of(v.Value), 1), l.unit.unit,
		signed(l.unit.of(v.Low), 1), signed(l.unit.of(v.High), 1))}
}

func (l *differences) height() vg.Length { return l.ladder.height() + stepRoom + rowHeight + 2 }

func (l *differences) key() []keyEntry {
	var key []keyEntry
	for k, name := range circuitNames {
		style := circuitStyles[k]
		key = append(key, keyEntry{name + " and its interval", sample{lineWidth, func(c draw.Canvas, box vg.Rectangle) {
			drawInterval(c, [3]vg.Length{center(box).X, box.Min.X, box.Max.X}, center(box).Y, style)
		}}})
	}
	return key
}

// drawInterval draws a value between the ends of its interval.
func drawInterval(c draw.Canvas, x [3]vg.Length, y vg.Length, style circuitStyle) {
	whisker(c, x[1], x[2], y, stroke(style.color, 1.3, style.dashes))
	drawMark(c, vg.Point{X: x[0], Y: y}, draw.GlyphStyle{Color: style.color, Radius: markRadius + 0.4, Shape: style.mark})
}

func (l *differences) draw(c draw.Canvas, area vg.Rectangle) {
	f := frame{
		vg.Rectangle{Min: vg.Point{X: area.Min.X + l.left, Y: area.Max.Y - l.ladder.height()}, Max: vg.Point{X: area.Max.X - l.right, Y: area.Max.Y}},
		l.x.span, span{0, 1},
	}
	s := sides{f, columnGap/2 - 2}
	s.uprights(c, l.x)
	l.ladder.draw(c, f.Min.X, f.Max.Y, [2]vg.Length{area.Min.X, area.Max.X})
	zero := f.at(0, 0).X
	c.StrokeLine2(stroke(ink, 1.1, solid), zero, f.Min.Y, zero, f.Max.Y)
	for i, y := range l.middles(f.Max.Y) {
		l.row(c, &l.rows[i], f, y)
	}
	outline(c, f.Rectangle, 0.7)
	s.horizontal(c, l.x, true)
	nameBelow(c, f, axisText("Difference from the baseline", l.unit.unit))
}

// row draws one configuration about a middle.
func (l *differences) row(c draw.Canvas, r *differenceRow, f frame, middleY vg.Length) {
	y := middleY + vg.Length(len(r.texts[0])+len(r.texts[1]))*rowHeight/2
	for k, v := range r.circuits() {
		if v == nil {
			continue
		}
		at := y - rowHeight/2
		x := func(v float64) vg.Length { return f.at(l.unit.of(v), 0).X }
		drawInterval(c, [3]vg.Length{x(v.Value), x(v.Low), x(v.High)}, at, circuitStyles[k])
		for _, line := range r.texts[k] {
			write(c, vg.Point{X: f.Max.X + textGap, Y: y - 0.5*rowHeight - middle*line.size}, line)
			y -= rowHeight
		}
	}
}

// describe says in words what the figure shows.
func (l *differences) describe(baseline string) string {
	var text strings.Builder
	fmt.Fprintf(&text, "%s less the baseline %s. ", counted(len(l.rows), "configuration"), baseline)
	for _, r := range l.rows {
		fmt.Fprintf(&text, "%s: ", r.Name)
		var parts []string
		for k, v := range r.circuits() {
			if v == nil {
				continue
			}
			part := l.text(k, v).text
			if v.Verdict != "" {
				part += ", " + v.Verdict
			}
			parts = append(parts, part)
		}
		text.WriteString(strings.Join(parts, "; ") + ". ")
	}
	text.WriteString("An " + reminder + ".")
	return text.String()
}
