package plots

import (
	"cmp"
	"errors"
	"fmt"
	"image/color"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Gain is what one change does to the margins.
type Gain struct {
	Name         string
	Coolant, Oil float64 // gain of the least margin [K]
	Note         string  // a word on the change, below its name; may be empty
}

func (g *Gain) larger() float64 { return math.Max(math.Abs(g.Coolant), math.Abs(g.Oil)) }

// Tornado draws the gains of changes as bars, the greatest first: coolant
// above oil in each row, with the values at their ends. Numbers that are not
// finite are errors that name the change.
func Tornado(gains []Gain, u Units, c Caption) (*Figure, error) {
	if err := u.known(); err != nil {
		return nil, err
	}
	if len(gains) == 0 {
		return nil, errors.New("no gains to draw")
	}
	for i := range gains {
		g := &gains[i]
		if err := shown("the gain of coolant of "+g.Name, g.Coolant); err != nil {
			return nil, err
		}
		if err := shown("the gain of oil of "+g.Name, g.Oil); err != nil {
			return nil, err
		}
	}
	l := layOutTornado(gains, u)
	s := &sheet{
		heading: c.heading("Gain of margin by single changes"), caption: c, key: l.key(),
		intro:  "Bars to the right add margin, bars to the left take it away; the greatest effect comes first.",
		height: l.height(), body: l.draw, data: l.tables(u),
	}
	return s.figure(l.describe()), nil
}

// tornado is rows of bars about a common line of no gain.
type tornado struct {
	rows []bars
	unit scale
	x    axis
	left vg.Length // of the frame, for the names
}

// bars is one row.
type bars struct {
	Gain
	name   []words
	values [2]float64
}

// Measures of a tornado [pt].
const (
	barHeight vg.Length = 6.5
	barPitch  vg.Length = 9
	barGap    vg.Length = 4 // between rows
	mostNames vg.Length = 230
	nameGap   vg.Length = 6
	valueGap  vg.Length = 2.5 // between a bar and its value
)

func layOutTornado(gains []Gain, u Units) *tornado {
	l := &tornado{unit: u.difference()}
	gains = slices.Clone(gains)
	slices.SortStableFunc(gains, func(a, b Gain) int { return cmp.Compare(b.larger(), a.larger()) })
	for _, g := range gains {
		b := bars{Gain: g, values: [2]float64{l.unit.of(g.Coolant), l.unit.of(g.Oil)}}
		b.name = breakText(g.Name, words{size: textSize}, mostNames, 3)
		b.name = append(b.name, breakText(g.Note, words{size: smallSize, color: noteInk}, mostNames, 2)...)
		for _, line := range b.name {
			l.left = max(l.left, line.width())
		}
		l.rows = append(l.rows, b)
	}
	l.left += nameGap
	l.scale()
	return l
}

// noteInk is dark enough for small text.
var noteInk = color.NRGBA{0x59, 0x59, 0x59, 0xFF}

// frameWidth is the room of the bars.
func (l *tornado) frameWidth() vg.Length { return pageWidth - 2*margin - l.left - columnGap/2 }

// valueText is the text at the end of a bar.
func valueText(v float64) words { return words{text: signed(v, 1), size: smallSize} }

// scale chooses the horizontal axis so that every value has room beside its
// bar.
func (l *tornado) scale() {
	const least = 1 // K
	data := nothing.with(0)
	for _, b := range l.rows {
		data = data.with(b.values[:]...)
	}
	if data.hi-data.lo < least*l.unit.factor {
		data = data.atLeast(least * l.unit.factor)
	}
	width := l.frameWidth()
	x := data
	for range 60 {
		next := data
		perPoint := (x.hi - x.lo) / width.Points()
		for _, b := range l.rows {
			for _, v := range b.values {
				room := (valueText(v).width() + 2*valueGap + 2).Points() * perPoint
				if v < 0 {
					next = next.with(v - room)
				} else {
					next = next.with(v + room)
				}
			}
		}
		x = next
	}
	const rim = 0.02
	l.x = horizontal(x.padded(rim), width)
}

func (b *bars) height() vg.Length {
	return max(2*barPitch, vg.Length(len(b.name))*rowHeight) + barGap
}

func (l *tornado) rowsHeight() vg.Length {
	y := vg.Length(0)
	for i := range l.rows {
		y += l.rows[i].height()
	}
	return y
}

func (l *tornado) height() vg.Length { return l.rowsHeight() + stepRoom + rowHeight + 2 }

func (l *tornado) key() []keyEntry {
	return []keyEntry{
		{"coolant", barSample(0)},
		{"oil", barSample(1)},
	}
}

func barSample(circuit int) sample {
	return sample{lineWidth, func(c draw.Canvas, box vg.Rectangle) { drawBar(c, box, circuit) }}
}

// drawBar fills a bar in the manner of its circuit: coolant full, oil pale and
// hatched.
func drawBar(c draw.Canvas, box vg.Rectangle, circuit int) {
	style := circuitStyles[circuit]
	if circuit == 0 {
		fillBox(c, box, style.color)
		return
	}
	fillBox(c, box, white)
	fillBox(c, box, tint(style.color, 0.25))
	hatch(c, box, stroke(style.color, 0.7, solid), 3.5)
	c.SetLineStyle(stroke(style.color, 0.8, solid))
	c.Stroke(box.Path())
}

func (l *tornado) draw(c draw.Canvas, area vg.Rectangle) {
	f := frame{
		vg.Rectangle{Min: vg.Point{X: area.Min.X + l.left, Y: area.Max.Y - l.rowsHeight()}, Max: vg.Point{X: area.Max.X - columnGap/2, Y: area.Max.Y}},
		l.x.span, span{0, 1},
	}
	for _, v := range l.x.ticks() {
		x := f.at(v, 0).X
		c.StrokeLine2(stroke(faint, 0.5, solid), x, f.Min.Y, x, f.Max.Y)
	}
	y := f.Max.Y
	for i := range l.rows {
		b := &l.rows[i]
		b.draw(c, f, y)
		y -= b.height()
		if i < len(l.rows)-1 {
			c.StrokeLine2(stroke(faint, 0.5, solid), area.Min.X, y, f.Max.X, y)
		}
	}
	zero := f.at(0, 0).X
	c.StrokeLine2(stroke(ink, 1.1, solid), zero, f.Min.Y, zero, f.Max.Y)
	outline(c, f.Rectangle, 0.7)
	sides{f, columnGap/2 - 2}.horizontal(c, l.x, true)
	write(c, vg.Point{X: f.Max.X, Y: f.Min.Y - stepRoom - rowHeight + 1},
		words{text: axisText("Gain of the least margin", l.unit.unit), size: headingSize, bold: true, align: 1})
}

// draw draws a row whose top is at y.
func (b *bars) draw(c draw.Canvas, f frame, y vg.Length) {
	middleY := y - b.height()/2
	top := middleY + vg.Length(len(b.name))*rowHeight/2
	for i, line := range b.name {
		line.align = 1
		write(c, vg.Point{X: f.Min.X - nameGap, Y: top - vg.Length(i)*rowHeight - rowHeight/2 - middle*line.size}, line)
	}
	for i, v := range b.values {
		level := middleY + barPitch*(0.5-vg.Length(i))
		zero, end := f.at(0, 0).X, f.at(v, 0).X
		box := vg.Rectangle{Min: vg.Point{X: min(zero, end), Y: level - barHeight/2}, Max: vg.Point{X: max(zero, end), Y: level + barHeight/2}}
		if end != zero {
			drawBar(c, box, i)
		}
		text := valueText(v)
		at := vg.Point{X: box.Max.X + valueGap, Y: level - middle*text.size}
		if v < 0 {
			at.X, text.align = box.Min.X-valueGap, 1
		}
		write(c, at, text)
	}
}

// mostTold is how many rows a description lists.
const mostTold = 5

// describe says in words what the figure shows.
func (l *tornado) describe() string {
	var text strings.Builder
	fmt.Fprintf(&text, "Gain of the least margin by %s, in %s, the greatest first. ", counted(len(l.rows), "single change"), l.unit.unit)
	for _, b := range l.rows[:min(len(l.rows), mostTold)] {
		fmt.Fprintf(&text, "%s: coolant %s, oil %s. ", b.Name, signed(b.values[0], 1), signed(b.values[1], 1))
	}
	text.WriteString("An " + reminder + ".")
	return text.String()
}
