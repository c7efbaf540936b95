package plots

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"hotclimb/sweep/optimum"
)

// pen writes a page from the top down.
type pen struct {
	draw.Canvas
	left, right vg.Length
	y           vg.Length // where the next line of text has its top
}

func (p *pen) room() vg.Length { return p.right - p.left }

// line writes a line, shortened when it is too long.
func (p *pen) line(w words) {
	p.y -= w.size
	write(p.Canvas, vg.Point{X: p.left, Y: p.y}, w.fit(p.room()))
	p.y -= 0.32 * w.size
}

// paragraph writes a text on as many lines as it needs, up to some.
func (p *pen) paragraph(w words, most int) {
	for _, line := range breakText(w.text, w, p.room(), most) {
		p.line(line)
	}
}

// rule draws a line across the page.
func (p *pen) rule(width vg.Length) {
	p.y -= 5
	p.StrokeLine2(stroke(ink, width, solid), p.left, p.y, p.right, p.y)
	p.y -= 6
}

// paint writes the whole card.
func (d *card) paint(p *pen) {
	d.heading(p)
	d.answer(p)
	d.grid(p)
	d.slowest(p)
	d.spray(p)
	d.foot(p)
}

// heading says of which flight the card is.
func (d *card) heading(p *pen) {
	p.line(words{text: d.caption.Scenario, size: cardTitle, bold: true})
	parts := []string{cmp.Or(d.caption.Title, d.table.Case), "leg " + d.table.Leg}
	p.line(words{text: strings.Join(parts, ", "), size: cardText})
	p.rule(2)
}

// answer says the one number that matters most.
func (d *card) answer(p *pen) {
	own := &d.table.Own
	p.line(words{text: above(own.Bound), size: cardHeading, bold: true})
	number := words{text: d.down(own.Temperature) + " " + d.degrees.unit, size: cardBig, bold: true}
	if own.Bound == optimum.NoClimb {
		number.text = "–"
	}
	p.y -= 0.78 * cardBig
	write(p.Canvas, vg.Point{X: p.left, Y: p.y}, number)
	beside := *p
	beside.left, beside.y = p.left+number.width()+22, p.y+0.74*cardBig
	for _, text := range d.beside(own) {
		beside.line(words{text: text, size: cardText})
	}
	p.y -= 8
	p.rule(1)
}

// above is the line above the number.
func above(b optimum.TemperatureBound) string {
	switch b {
	case optimum.Hotter:
		return "UNLIMITED CLIMB, FOUND NO LIMIT UP TO"
	case optimum.Colder:
		return "NO UNLIMITED CLIMB, NOT EVEN AT"
	case optimum.NoClimb:
		return "NO CLIMB"
	}
	return "UNLIMITED CLIMB UP TO"
}

// beside says what belongs to that number.
func (d *card) beside(own *optimum.LimitRow) []string {
	list := []string{
		"outside at the field,",
		fmt.Sprintf("climbing at %s,", wholeUnit(d.speed, own.Speed)),
		fmt.Sprintf("from a field at %s.", wholeUnit(d.height, own.Elevation)),
	}
	switch own.Bound {
	case optimum.NoClimb:
		return append(list[1:], "As filed, "+limits(own.By)+".")
	case optimum.Found:
		return append(list, "Above that, "+limits(own.By)+".")
	case optimum.Colder:
		return append(list, "Even then, "+limits(own.By)+".")
	}
	return list
}

// Places in the grid of speeds and elevations.
const (
	gridFirst vg.Length = 78 // width of the column of speeds
	gridHead  vg.Length = 34
	gridRow   vg.Length = 43
	gridLow   vg.Length = 37 // instead, of many speeds
)

// gridStep is the height of a row of the grid.
func (d *card) gridStep() vg.Length {
	if len(d.speeds) == mostSpeeds {
		return gridLow
	}
	return gridRow
}

// grid writes the table of speeds and elevations.
func (d *card) grid(p *pen) {
	p.line(words{text: "Highest temperature at the field, " + d.degrees.unit + ", for an unlimited climb", size: cardHeading, bold: true})
	p.paragraph(words{text: d.underneath(), size: cardNote}, 2)
	p.y -= 5
	top := p.y
	column := (p.room() - gridFirst) / vg.Length(len(d.elevations))
	write(p.Canvas, vg.Point{X: p.left + 4, Y: top - 14}, words{text: "climb", size: cardNote})
	write(p.Canvas, vg.Point{X: p.left + 4, Y: top - 27}, words{text: d.speed.unit, size: cardNote})
	for i, e := range d.elevations {
		x := p.left + gridFirst + (vg.Length(i)+0.5)*column
		write(p.Canvas, vg.Point{X: x, Y: top - 14}, words{text: "field at", size: cardNote, align: 0.5})
		write(p.Canvas, vg.Point{X: x, Y: top - 28}, words{text: wholeUnit(d.height, e), size: cardText, bold: true, align: 0.5})
	}
	p.y -= gridHead
	row := d.gridStep()
	for _, s := range d.speeds {
		p.StrokeLine2(stroke(ink, 0.6, solid), p.left, p.y, p.right, p.y)
		write(p.Canvas, vg.Point{X: p.left + 4, Y: p.y - 0.5*row - middle*cardCell}, words{text: whole(d.speed, s), size: cardCell, bold: true})
		for i, e := range d.elevations {
			box := vg.Rectangle{Min: vg.Point{X: p.left + gridFirst + vg.Length(i)*column, Y: p.y - row}}
			box.Max = vg.Point{X: box.Min.X + column, Y: p.y}
			d.cell(p, box, d.row(e, s))
		}
		p.y -= row
	}
	p.StrokeLine2(stroke(ink, 0.6, solid), p.left, p.y, p.right, p.y)
	for i := range d.elevations {
		x := p.left + gridFirst + vg.Length(i)*column
		p.StrokeLine2(stroke(ink, 0.6, solid), x, top, x, p.y)
	}
	p.y -= 8
}

// underneath explains the second line of a cell.
func (d *card) underneath() string {
	var steps []string
	for _, step := range d.table.Above {
		steps = append(steps, decimal(d.degrees.factor*step, 0))
	}
	unit := d.degrees.unit
	if d.units == SI {
		unit = "K"
	}
	text := "Below it what limits, and the minutes from the start of the climb to the limit when it is " +
		strings.Join(steps, " / ") + " " + unit + " hotter."
	if d.table.Spray != nil {
		text += " Without water spray."
	}
	if len(d.speeds)*len(d.elevations) < len(d.table.Rows) {
		text += " Not all that was computed has room here."
	}
	return text
}

// cell writes one speed at one elevation; that of the file is framed.
func (d *card) cell(p *pen, box vg.Rectangle, r *optimum.LimitRow) {
	if r == nil {
		return
	}
	if own := &d.table.Own; r.Speed == own.Speed && r.Elevation == own.Elevation {
		const inset = 2
		p.StrokeLines(stroke(ink, 2, solid), []vg.Point{
			{X: box.Min.X + inset, Y: box.Min.Y + inset}, {X: box.Max.X - inset, Y: box.Min.Y + inset},
			{X: box.Max.X - inset, Y: box.Max.Y - inset}, {X: box.Min.X + inset, Y: box.Max.Y - inset},
			{X: box.Min.X + inset, Y: box.Min.Y + inset},
		})
	}
	x, room := 0.5*(box.Min.X+box.Max.X), box.Max.X-box.Min.X-8
	size := cardCell
	if r.Bound != optimum.Found {
		size = cardText
	}
	write(p.Canvas, vg.Point{X: x, Y: box.Max.Y - 0.49*(box.Max.Y-box.Min.Y)}, words{text: d.highest(&r.Ceiling), size: size, bold: true, align: 0.5})
	write(p.Canvas, vg.Point{X: x, Y: box.Min.Y + 0.18*(box.Max.Y-box.Min.Y)}, words{text: below(r), size: cardNote, align: 0.5}.fit(room))
}

// below is the second line of a cell.
func below(r *optimum.LimitRow) string {
	switch {
	case r.By == optimum.ByStall:
		return "too slow to fly"
	case r.By == optimum.ByClimb:
		return "end not reached"
	case r.Bound != optimum.Found:
		return r.By
	}
	var minutes []string
	for _, a := range r.Above {
		minutes = append(minutes, minutesDown(a.Time))
	}
	return r.By + "  " + strings.Join(minutes, " / ")
}

// slowest writes the slowest safe climbs.
func (d *card) slowest(p *pen) {
	p.line(words{text: "Slowest climb that keeps the limits, in the air of the day of the file", size: cardHeading, bold: true})
	for _, e := range d.elevations {
		for i := range d.table.Slowest {
			if s := &d.table.Slowest[i]; s.Elevation == e {
				p.line(words{text: d.slow(s), size: cardText})
			}
		}
	}
	p.y -= 5
}

func (d *card) slow(s *optimum.SlowClimb) string {
	text := fmt.Sprintf("%s, %s:  ", wholeUnit(d.height, s.Elevation), wholeUnit(d.degrees, s.Temperature))
	up := decimal(math.Ceil(d.speed.of(s.Speed)-1e-6), 0) + " " + d.speed.unit
	switch {
	case math.IsNaN(s.Speed):
		return text + "no climb to the top"
	case s.Bound == optimum.SlowestNone:
		return text + "none; " + limits(s.By) + " even at " + up
	case s.Bound == optimum.SlowestAny:
		return text + "any from " + up + " on"
	}
	return text + up + "; below that, " + limits(s.By)
}
