package plots

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/plot/vg"
	"hotclimb/sweep/optimum"
)

// spray writes what water spray adds, when there is any.
func (d *card) spray(p *pen) {
	s := d.table.Spray
	if s == nil {
		return
	}
	p.line(words{text: "Water spray on " + spaced(s.Onto), size: cardHeading, bold: true})
	if s.Rate == 0 {
		p.paragraph(words{text: "Nothing to tell: " + s.Trouble + ".", size: cardText}, 2)
		return
	}
	p.paragraph(words{text: d.sprayRule(s), size: cardText}, 2)
	var needs []string
	for _, n := range s.Needed {
		needs = append(needs, d.sprayNeed(&n))
	}
	p.paragraph(words{text: "Needed: " + strings.Join(needs, "; ") + ".", size: cardText}, 2)
	p.y -= 5
}

// sprayRule says when and how much, and how far it goes.
func (d *card) sprayRule(s *optimum.SprayClimb) string {
	text := fmt.Sprintf("On at %s %s, %s: carried for %s min.", wholeUnit(d.degrees, s.Starts), s.Circuit, d.rate(s.Rate), minutesDown(s.Carried))
	if b := s.Ceiling.Bound; b == optimum.Found || b == optimum.Hotter {
		text += fmt.Sprintf(" Unlimited climb with it: %s %s.", d.highest(&s.Ceiling), d.degrees.unit)
	}
	return text
}

// rate prints a flow of water.
func (d *card) rate(r float64) string {
	const gallon = 3.785411784e-3 // m³, exact, US gallon
	if d.units == SI {
		return decimal(r*60e3, 2) + " L/min"
	}
	return decimal(r*3600/gallon, 1) + " gal/h"
}

func (d *card) sprayNeed(n *optimum.SprayTime) string {
	at := " at " + d.down(n.Temperature) + " " + d.degrees.unit
	time, lack := sprayTime(n)
	return time + at + lack
}

// sprayTime is how long the spray must last, and whether it cannot.
func sprayTime(n *optimum.SprayTime) (time, lack string) {
	switch {
	case math.IsNaN(n.Time):
		return "not held", ""
	case n.Enough:
		return minutesUp(n.Time) + " min", ""
	}
	return minutesUp(n.Time) + " min", ", which is NOT carried"
}

// What stands under every card.
var cardCautions = []string{
	"An estimate with the doubt of its inputs, not a cooling test. Prove it by careful, stepwise test flights over a place where an engine stop can be survived. " +
		"Gauge limits and the engine maker's data rule. Follow the local aviation authority's rules and have the work inspected by an authorized person. " +
		"The speeds are for cooling and say nothing of the stall.",
	"Water spray runs dry, its nozzles block or freeze, and water reaches ignition and wiring: know the climb without it.",
}

// definition says what unlimited means.
const definition = "Unlimited: the whole flight as filed, to its top, passes no limit of coolant or oil and the coolant does not boil. " +
	"On a field at another elevation it climbs through the same height."

// doubtKept says what is kept on top; "" for nothing.
func (d *card) doubtKept() string {
	switch k := d.table.Doubt; k {
	case 0:
		return ""
	case 1:
		return " With 1 standard deviation of doubt kept on top of every margin."
	default:
		return " With " + strconv.FormatFloat(k, 'g', 4, 64) + " standard deviations of doubt kept on top of every margin."
	}
}

// foot writes definition, cautions and sources at the bottom of the page.
func (d *card) foot(p *pen) {
	room := p.room()
	texts := []string{definition + d.doubtKept(), cardCautions[0]}
	if d.table.Spray != nil {
		texts[1] += " " + cardCautions[1]
	}
	var lines []words
	for _, text := range texts {
		lines = append(lines, breakText(text, words{size: cardFine}, room, 6)...)
	}
	lines = append(lines, d.caption.lines(room)...)
	const leading = 12
	y := cardRim - 12 + vg.Length(len(lines))*leading
	p.StrokeLine2(stroke(ink, 1, solid), p.left, y+2, p.right, y+2)
	for _, line := range lines {
		y -= leading
		write(p.Canvas, vg.Point{X: p.left, Y: y}, line)
	}
}
