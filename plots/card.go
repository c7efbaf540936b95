package plots

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"hotclimb/sweep/optimum"
)

// Sizes of the pages that a card is printed on [pt]: US Letter and A4 (ISO 216).
var (
	letter  = vg.Point{X: 612, Y: 792}
	a4      = vg.Point{X: 210 * vg.Millimeter, Y: 297 * vg.Millimeter}
	cardRim = vg.Length(40)
)

// Sizes of text on a card, to be read at arm's length [pt].
const (
	cardBig     vg.Length = 84
	cardTitle   vg.Length = 19
	cardHeading vg.Length = 15
	cardCell    vg.Length = 19
	cardText    vg.Length = 13
	cardNote    vg.Length = 11
	cardFine    vg.Length = 9.5
)

// LimitsCard draws what a pilot must know of a climb on one page for the wall
// of a hangar: up to which temperature it is unlimited, by speed and elevation,
// how long it may last above that, the slowest safe climb, and the spray. It is
// black on white, and has room for six speeds and three elevations; of more it
// picks the ends and some between. Temperatures and minutes are rounded down,
// slowest speeds and minutes of spray up. US cards are US Letter, others A4.
func LimitsCard(t *optimum.LimitTable, u Units, c Caption) (*Figure, error) {
	if len(t.Rows) == 0 || len(t.Slowest) == 0 {
		return nil, errors.New("a card needs one speed and one elevation at least")
	}
	d := newCard(t, u, c)
	page := letter
	if u == SI {
		page = a4
	}
	return &Figure{
		title: "Limits of the climb – " + t.Case, about: d.about(), width: page.X, height: page.Y, data: d.tables(),
		paint: func(c draw.Canvas) {
			c.SetColor(white)
			c.Fill(c.Rectangle.Path())
			pen := pen{Canvas: c, left: cardRim, right: page.X - cardRim, y: page.Y - cardRim}
			d.paint(&pen)
		},
	}, nil
}

// card is what is written on a card.
type card struct {
	table      *optimum.LimitTable
	units      Units
	caption    Caption
	degrees    scale
	height     scale
	speed      scale
	speeds     []float64 // shown [m/s]
	elevations []float64 // shown [m]
}

// What a card has room for.
const (
	mostSpeeds     = 6
	mostElevations = 3
)

func newCard(t *optimum.LimitTable, u Units, c Caption) *card {
	d := &card{table: t, units: u, caption: c, degrees: u.temperature(), height: u.altitude(), speed: u.airspeed()}
	for i := range t.Slowest {
		d.elevations = append(d.elevations, t.Slowest[i].Elevation)
	}
	perElevation := len(t.Rows) / len(t.Slowest)
	for i := range perElevation {
		d.speeds = append(d.speeds, t.Rows[i].Speed)
	}
	d.speeds, d.elevations = thinned(d.speeds, mostSpeeds), thinned(d.elevations, mostElevations)
	return d
}

// airspeed is the scale of speeds in m/s.
func (u Units) airspeed() scale {
	if u == SI {
		return scale{"km/h", 3.6, 0}
	}
	return scale{"mph", 1 / 0.44704, 0} // 1 mph = 0.44704 m/s, exact
}

// thinned picks at most n of a list, both ends among them.
func thinned(list []float64, n int) []float64 {
	var some []float64
	for _, i := range picked(len(list), n) {
		some = append(some, list[i])
	}
	return some
}

// row finds a row of the table.
func (d *card) row(elevation, speed float64) *optimum.LimitRow {
	for i := range d.table.Rows {
		if r := &d.table.Rows[i]; r.Elevation == elevation && r.Speed == speed {
			return r
		}
	}
	return nil
}

// down prints a temperature in whole degrees, rounded down.
func (d *card) down(t float64) string { return decimal(math.Floor(d.degrees.of(t)+1e-6), 0) }

// whole prints a value in a scale as a whole number.
func whole(s scale, x float64) string { return decimal(math.Round(s.of(x)), 0) }

// wholeUnit is whole with the unit.
func wholeUnit(s scale, x float64) string { return whole(s, x) + " " + s.unit }

// highest says a highest temperature in whole degrees.
func (d *card) highest(c *optimum.Ceiling) string {
	switch c.Bound {
	case optimum.Hotter:
		return "above " + d.down(c.Temperature)
	case optimum.Colder:
		return "below " + d.down(c.Temperature)
	case optimum.NoClimb:
		return "no climb"
	}
	return d.down(c.Temperature)
}

// minutesDown prints a time as minutes to a tenth, rounded down.
func minutesDown(seconds float64) string {
	if math.IsNaN(seconds) {
		return "–"
	}
	return decimal(math.Floor(seconds/6+1e-6)/10, 1)
}

// minutesUp prints a time as minutes to a tenth, rounded up.
func minutesUp(seconds float64) string { return decimal(math.Ceil(seconds/6-1e-6)/10, 1) }

// limits says what limits a climb.
func limits(by string) string {
	switch by {
	case optimum.ByBoiling:
		return "the coolant boils"
	case optimum.ByClimb:
		return "it does not reach its end"
	case optimum.ByStall:
		return "it is too slow to fly"
	case optimum.ByFault:
		return "it cannot be computed"
	}
	return "the " + by + " limits"
}

// about says the card in words.
func (d *card) about() string {
	own := &d.table.Own
	text := fmt.Sprintf("Climbing at %s from a field at %s, ", wholeUnit(d.speed, own.Speed), wholeUnit(d.height, own.Elevation))
	switch own.Bound {
	case optimum.NoClimb:
		text += "there is no climb: " + limits(own.By) + "."
	case optimum.Hotter:
		text += fmt.Sprintf("the climb is unlimited: no limit was found up to %s %s at the field.", d.down(own.Temperature), d.degrees.unit)
	case optimum.Colder:
		text += fmt.Sprintf("the climb is not even unlimited at %s %s; %s.", d.down(own.Temperature), d.degrees.unit, limits(own.By))
	default:
		text += fmt.Sprintf("the climb is unlimited up to %s %s at the field; above that, %s.", d.down(own.Temperature), d.degrees.unit, limits(own.By))
	}
	return text
}
