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
		return "UNLIMITED CLIMB, NO LIMIT FOUND UP TO"
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
		where := ""
		if leg, _ := d.table.Elsewhere(); leg != "" {
			where = " in leg " + leg
		}
		return append(list, "Above that, "+limits(own.By)+where+".")
	case optimum.Colder:
		return append(list, "Even then, "+limits(own.By)+".")
	}
	return list
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

func (d *card) slow(s *optimum.SlowClimb) string { return d.slowWhere(s) + ":  " + d.slowSpeed(s) }

// slowWhere is the field and its air.
func (d *card) slowWhere(s *optimum.SlowClimb) string {
	return wholeUnit(d.height, s.Elevation) + ", " + wholeUnit(d.degrees, s.Temperature)
}

// slowSpeed is the slowest climb there.
func (d *card) slowSpeed(s *optimum.SlowClimb) string {
	up := decimal(math.Ceil(d.speed.of(s.Speed)-1e-6), 0) + " " + d.speed.unit
	switch {
	case math.IsNaN(s.Speed):
		return "no climb to the top"
	case s.Bound == optimum.SlowestNone:
		return "none; " + limits(s.By) + " even at " + up
	case s.Bound == optimum.SlowestAny:
		return "any from " + up + " on"
	}
	return up + "; below that, " + limits(s.By)
}
