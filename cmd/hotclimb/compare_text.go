package main

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"hotclimb/scenarios"
	"hotclimb/sweep/calibrate"
)

// comparePage is a comparison in the making.
type comparePage struct {
	*page
	*comparison
}

// climbCautions stand where more test flights are suggested.
var climbCautions = []string{
	"Test climbs have hazards of their own: a hot engine low and slow, and tape that",
	"comes off. Change one thing at a time, and end the climb at a caution mark.",
}

// writeText writes the comparison for people, as a screen can show it.
func (o *comparison) writeText(w io.Writer, s *screen) error {
	p := &comparePage{&page{screen: s, units: o.units}, o}
	p.line("%s", p.paint(bold, o.scenario.Title))
	p.line("")
	p.note(fmt.Sprintf("Flights brought to %s, less the baseline %s:", p.where(), p.configuration(&o.list[0])))
	ahead := false
	for i := range o.Differences {
		d := &o.Differences[i]
		p.line("")
		p.line("%s", p.paint(bold, "Was it "+p.configuration(&o.list[i+1])+"?"))
		for c, v := range d.Circuits {
			if v == nil {
				p.note(fmt.Sprintf("Not known: no %s to compare.", circuitNames[c]))
				continue
			}
			p.difference(circuitNames[c], v)
			ahead = ahead || !v.Real
		}
	}
	p.brought()
	p.foundations()
	p.line("")
	p.cautions(false)
	if ahead {
		for _, text := range climbCautions {
			p.line("%s", text)
		}
	}
	_, err := w.Write(p.Bytes())
	return err
}

// where names the reference.
func (o *comparison) where() string {
	if o.reference.Title == "" {
		return o.reference.Name
	}
	return o.reference.Name + " (" + o.reference.Title + ")"
}

// configuration names a configuration: what was set in it, or its first flight.
func (o *comparison) configuration(c *calibrate.Configuration) string {
	var set []string
	for _, s := range scenarios.Settings(built(c.Records[0].Test.Set)) {
		set = append(set, s.Path+" "+pretty(s.Text))
	}
	text := c.Name
	if n := len(c.Records); n > 1 {
		text += fmt.Sprintf(" and %s", counted(n-1, "repeat"))
	}
	if len(set) > 0 {
		text += ": " + strings.Join(set, ", ")
	}
	return text
}

// difference adds what one circuit says of a configuration.
func (p *comparePage) difference(circuit string, v *calibrate.CircuitDifference) {
	d := difference.in(p.units)
	if v.Real {
		p.note(fmt.Sprintf("%s %s %s %s (%s to %s).", p.paint(green, "Yes:"), circuit, difference.show(p.units, math.Abs(v.Value)), warmer(v.Value),
			d.number(min(math.Abs(v.Low), math.Abs(v.High))), d.number(max(math.Abs(v.Low), math.Abs(v.High)))))
		return
	}
	p.note(fmt.Sprintf("%s %s %s %s (%s cooler to %s hotter).", p.paint(yellow, "Not distinguishable from noise:"), circuit,
		difference.show(p.units, math.Abs(v.Value)), warmer(v.Value), d.number(-v.Low), d.number(v.High)))
	p.note(p.settles(v))
}

func warmer(value float64) string {
	if value < 0 {
		return "cooler"
	}
	return "hotter"
}

// settles says what would tell a difference from noise.
func (p *comparePage) settles(v *calibrate.CircuitDifference) string {
	switch {
	case v.More == calibrate.Never:
		text := fmt.Sprintf("No number of flights in air as different as this settles it: bringing them to one day is itself in doubt by %s",
			difference.show(p.units, v.Model))
		if len(v.Sources) > 0 {
			text += ", most of all by " + v.Sources[0].Path
		}
		return text + fmt.Sprintf(". Fly both on one day at one speed and power: %s of each would tell a difference of this size in 8 cases of 10. Or sharpen the model with fit, and give what it writes with --over.",
			counted(v.Alike, "flight"))
	case v.More > calibrate.MostFlights:
		return fmt.Sprintf("So small a difference would take more than %d further flights of each to be told.", calibrate.MostFlights)
	}
	return fmt.Sprintf("%s of each, in air as before, would tell a difference of this size in 8 cases of 10.", counted(v.More, "further flight"))
}

// brought adds the table of the readings.
func (p *comparePage) brought() {
	t, d := temperature.in(p.units), difference.in(p.units)
	var rows []table.Row
	for _, test := range p.Tests {
		for c, m := range test.Circuits {
			if m != nil {
				rows = append(rows, table.Row{
					test.Record.Name, circuitNames[c], clock(m.Time), height.in(p.units).number(m.Altitude), t.number(m.Outside),
					airspeed.in(p.units).number(m.Speed), t.number(m.Read), difference.in(p.units).number(m.Reference - m.Model),
					t.number(m.Value), d.number(m.Doubt),
				})
			}
		}
	}
	p.line("")
	p.table(2, table.Row{
		"flight", t.name, "at", height.in(p.units).name, "outside", airspeed.in(p.units).name, "read", "step", "brought", "±",
	}, rows)
	p.note("read: by the gauge where the climb is hottest by the model; step: what the model adds to bring it to " + p.reference.Name +
		"; ±: its doubt, one standard deviation. Most of that is common to all flights and falls out of differences.")
	for _, test := range p.Tests {
		for _, text := range test.Remarks {
			p.note(p.paint(yellow, "mind:") + " " + test.Record.Name + ": " + text + ".")
		}
	}
}

// foundations adds what the intervals rest on.
func (p *comparePage) foundations() {
	p.line("")
	what := "The interval holds"
	switch {
	case p.Count == 2:
		what = "Both intervals together hold"
	case p.Count > 2:
		what = fmt.Sprintf("All %d intervals together hold", p.Count)
	}
	p.note(fmt.Sprintf("%s with a probability of %.3g %%. Flights of one aircraft are supposed to scatter by %s beyond the noise of the gauge (--scatter).",
		what, 100*p.Level, difference.show(p.units, p.Scatter)))
	repeated := slices.ContainsFunc(p.Repeats[:], func(r calibrate.Repeats) bool { return r.Freedom > 0 })
	if !repeated {
		p.note("No configuration was flown twice, so nothing shows whether that is true; a repeat would.")
		return
	}
	for c, r := range p.Repeats {
		if r.Freedom > 0 {
			p.note(fmt.Sprintf("%s: %s; such flights scatter by %.2g times what noise and --scatter say, and the intervals use %.2g times.",
				circuitNames[c], counted(r.Freedom, "repeat"), r.Seen, r.Used))
		}
	}
}
