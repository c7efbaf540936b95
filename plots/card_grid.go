package plots

import (
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"
	"hotclimb/sweep/optimum"
)

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
	text := "Below it what limits, and the minutes of climb to the limit when it is " +
		strings.Join(steps, " / ") + " " + unit + " hotter"
	if d.passedBefore() {
		text += " (0.0: before the climb begins)"
	}
	text += "."
	if d.table.Spray != nil {
		text += " Without water spray."
	}
	if len(d.speeds)*len(d.elevations) < len(d.table.Rows) {
		text += " Not all that was computed has room here."
	}
	return text
}

// passedBefore says that a shown climb begins over a limit on a hotter day.
func (d *card) passedBefore() bool {
	for _, s := range d.speeds {
		for _, e := range d.elevations {
			if r := d.row(e, s); r != nil && slices.ContainsFunc(r.Above, func(a optimum.TimeAbove) bool { return a.Time == 0 }) {
				return true
			}
		}
	}
	return false
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
		if r.Bound == optimum.Found {
			return "hotter: end not reached"
		}
		return "end not reached"
	case r.By == optimum.ByFault:
		return "not computed"
	case r.Bound != optimum.Found:
		return r.By
	}
	var minutes []string
	for _, a := range r.Above {
		minutes = append(minutes, minutesDown(a.Time))
	}
	return r.By + "  " + strings.Join(minutes, " / ")
}
