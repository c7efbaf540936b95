package main

import (
	"fmt"
	"io"
	"maps"
	"math"
	"slices"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"hotclimb/plots"
	"hotclimb/scenarios"
	"hotclimb/sweep/calibrate"
)

// comparePage is a comparison in the making.
type comparePage struct {
	*page
	*comparison
}

// writeText writes the comparison for people, as a screen can show it.
func (o *comparison) writeText(w io.Writer, s *screen) error {
	p := &comparePage{&page{screen: s, units: o.units}, o}
	p.line("%s", p.paint(bold, o.scenario.Title))
	p.line("")
	ahead := p.answers()
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

// answers adds what each configuration changed, and says whether more flights are
// needed to tell.
func (p *comparePage) answers() (ahead bool) {
	p.note(fmt.Sprintf("Flights brought to %s, and compared with %s:", p.where(), flightsOf(&p.list[0])))
	for i := range p.Differences {
		d := &p.Differences[i]
		p.line("")
		p.headline("Was it " + p.configuration(&p.list[i+1]) + "?")
		for c, v := range d.Circuits {
			if v == nil {
				p.note(fmt.Sprintf("Not known: no %s to compare.", circuitNames[c]))
				continue
			}
			p.difference(circuitNames[c], v)
			ahead = ahead || !v.Real
		}
	}
	return ahead
}

// where names the reference.
func (o *comparison) where() string {
	if o.reference.Title == "" {
		return o.reference.Name
	}
	return o.reference.Name + " (" + o.reference.Title + ")"
}

// configuration names a configuration: by what it has otherwise than the baseline,
// and by its flights.
func (o *comparison) configuration(c *calibrate.Configuration) string {
	here, there := c.Records[0], o.list[0].Records[0]
	both := maps.Clone(built(there.Test.Set))
	if both == nil {
		both = map[string]string{}
	}
	maps.Copy(both, built(here.Test.Set))
	var parts []string
	for _, s := range scenarios.Settings(both) {
		if p, err := here.Scenario.Compile(s.Path); err == nil && !sameThere(s.Path, here.Scenario, there.Scenario, false) {
			parts = append(parts, s.Path+" at "+plots.Pretty(p.Text(here.Scenario)))
		}
	}
	if len(parts) == 0 {
		return "what was different on " + flightsOf(c)
	}
	return strings.Join(parts, ", ") + " (" + flightsOf(c) + ")"
}

// flightsOf names the flights of a configuration.
func flightsOf(c *calibrate.Configuration) string {
	names := make([]string, len(c.Records))
	for i, r := range c.Records {
		names[i] = r.Name
	}
	return strings.Join(names, ", ")
}

// difference adds what one circuit says of a configuration.
func (p *comparePage) difference(circuit string, v *calibrate.CircuitDifference) {
	d := difference.In(p.units)
	if v.Real {
		p.note(fmt.Sprintf("%s %s %s %s (%s to %s).", p.paint(green, "Yes:"), circuit, difference.Show(p.units, math.Abs(v.Value)), warmer(v.Value),
			d.Number(min(math.Abs(v.Low), math.Abs(v.High))), d.Number(max(math.Abs(v.Low), math.Abs(v.High)))))
		return
	}
	p.note(fmt.Sprintf("%s %s %s %s (%s cooler to %s hotter).", p.paint(yellow, "Not distinguishable from noise:"), circuit,
		difference.Show(p.units, math.Abs(v.Value)), warmer(v.Value), d.Number(-v.Low), d.Number(v.High)))
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
	const inEight = "would tell a difference of this size in 8 cases of 10."
	doubt := difference.Show(p.units, v.Model)
	switch {
	case v.More == calibrate.Never && len(v.Sources) > 0 && v.Sources[0].Path == calibrate.TheChange:
		return fmt.Sprintf("No number of flights in such air settles it: the model expects the change to do one thing in %s and another on these flights, and only the latter was measured (in doubt by %s). Fly both on one day that is warm enough for the change to show, at one speed and power: %s of each %s",
			p.reference.Name, doubt, counted(v.Alike, "flight"), inEight)
	case v.More == calibrate.Never:
		text := "No number of flights in air as different as this settles it: bringing them to one day is itself in doubt by " + doubt
		if len(v.Sources) > 0 {
			text += ", most of all by " + v.Sources[0].Path
		}
		return text + fmt.Sprintf(". Fly both on one day at one speed and power: %s of each %s Or sharpen the model with fit, and lay what it writes over the scenario.",
			counted(v.Alike, "flight"), inEight)
	case v.More > calibrate.MostFlights:
		return fmt.Sprintf("So small a difference would take more than %d further flights of each to be told.", calibrate.MostFlights)
	}
	return fmt.Sprintf("%s of each, in air as before, %s", counted(v.More, "further flight"), inEight)
}

// brought adds the table of the readings.
func (p *comparePage) brought() {
	t, d := temperature.In(p.units), difference.In(p.units)
	var rows []table.Row
	for _, test := range p.Tests {
		for c, m := range test.Circuits {
			if m != nil {
				rows = append(rows, table.Row{
					test.Record.Name, circuitNames[c], plots.Clock(m.Time), height.In(p.units).Number(m.Altitude), t.Number(m.Outside),
					airspeed.In(p.units).Number(m.Speed), t.Number(m.Read), difference.In(p.units).Number(m.Reference - m.Model),
					t.Number(m.Value), d.Number(m.Doubt),
				})
			}
		}
	}
	p.line("")
	p.titled("What the gauges read, brought to one day")
	p.table(2, table.Row{
		"flight", t.Name, "at", height.In(p.units).Name, "outside", airspeed.In(p.units).Name, "read", "step", "brought", "±",
	}, rows)
	p.note("read: by the gauge where the climb is hottest by the model; step: what the model adds to bring it to " + p.reference.Name +
		"; ±: its doubt, one standard deviation. Most of that is common to all flights and falls out of differences.")
	p.remarks()
}

// remarks adds what to mind, each once with the flights that it is true of.
func (p *comparePage) remarks() {
	var texts []string
	flights := map[string][]string{}
	for _, test := range p.Tests {
		for _, text := range test.Remarks {
			if flights[text] == nil {
				texts = append(texts, text)
			}
			flights[text] = append(flights[text], test.Record.Name)
		}
	}
	for _, text := range texts {
		p.beware(strings.Join(flights[text], ", ") + ": " + text + ".")
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
	p.note(fmt.Sprintf("%s with a probability of %.3g %%. Flights of one aircraft are supposed to scatter by %s beyond the noise of the gauge%s.",
		what, 100*p.Level, difference.Show(p.units, p.Scatter), p.flag("--scatter")))
	repeated := slices.ContainsFunc(p.Repeats[:], func(r calibrate.Repeats) bool { return r.Freedom > 0 })
	if !repeated {
		p.note("No configuration was flown twice, so nothing shows whether that is true; a repeat would.")
		return
	}
	for c, r := range p.Repeats {
		if r.Freedom > 0 {
			p.note(fmt.Sprintf("%s: by %s, flights scatter %.2f times as much as noise and that say; the intervals take %.2f times.",
				circuitNames[c], counted(r.Freedom, "repeat"), r.Seen, r.Used))
		}
	}
}
