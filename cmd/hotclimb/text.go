package main

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strings"

	"hotclimb/plots"
	"hotclimb/plots/report"
	"hotclimb/sim"
)

// page is what a result says to people in the making: text or, when it is told,
// the blocks of a report.
type page struct {
	bytes.Buffer
	*screen
	units plots.Units
	told  *telling // nil for text
}

// writeText writes the outcome for people, as a screen can show it.
func (o *outcome) writeText(w io.Writer, s *screen) error {
	p := &page{screen: s, units: o.units}
	p.line("%s", p.paint(bold, o.scenario.Title))
	spray := false
	for _, f := range o.cases {
		p.line("")
		p.flown(f)
		spray = spray || f.sprays()
	}
	p.sources(o.doubt)
	p.line("")
	p.cautions(spray)
	_, err := w.Write(p.Bytes())
	return err
}

// line adds a line, without spaces at its end.
func (p *page) line(format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	if p.told != nil {
		p.told.line(text)
		return
	}
	p.WriteString(strings.TrimRight(text, " ") + "\n")
}

// flag is a remark in brackets on a flag of the command, which a report has no use
// for.
func (p *page) flag(text string) string {
	if p.told != nil {
		return ""
	}
	return " (" + text + ")"
}

// headline adds a line that heads what follows.
func (p *page) headline(text string) {
	if p.told != nil {
		p.told.add(report.Heading(text))
		return
	}
	p.line("%s", p.paint(bold, text))
}

// beware adds a sentence that the reader must not miss, indented.
func (p *page) beware(sentence string) {
	if p.told != nil {
		p.told.add(report.Note("Mind: " + unbroken(sentence)))
		return
	}
	p.note(p.paint(yellow, "mind:") + " " + sentence)
}

// item adds an indented line, an item of a list.
func (p *page) item(format string, args ...any) {
	if p.told != nil {
		p.told.newItem(fmt.Sprintf(format, args...))
		return
	}
	p.line("  "+format, args...)
}

// goesOn adds a line that goes on with the item before it.
func (p *page) goesOn(text string) {
	if p.told != nil {
		p.told.item("", text)
		return
	}
	p.line("  %s", text)
}

// entry adds a labelled line. Without a label it goes on with the last one.
func (p *page) entry(label, format string, args ...any) {
	p.labelled(15, label, fmt.Sprintf(format, args...))
}

// labelled is entry with room for wider labels.
func (p *page) labelled(width int, label, text string) {
	if p.told != nil {
		p.told.item(label, text)
		return
	}
	p.line("  %-*s %s", width, label, text)
}

// heads adds what the table that follows holds.
func (p *page) heads(format string, args ...any) {
	if p.told == nil {
		p.line(format, args...)
		return
	}
	p.titled(fmt.Sprintf(format, args...))
}

// titled names the table that follows in a report. In text its headers do.
func (p *page) titled(text string) {
	if p.told != nil {
		p.told.end()
		p.told.title = strings.TrimSuffix(unbroken(text), ":")
	}
}

// flown adds everything on one case.
func (p *page) flown(f *flown) {
	p.heading(f)
	p.flownNumbers(f)
	p.chart(f.result)
}

// flownNumbers adds what a case comes to, in tables and lines.
func (p *page) flownNumbers(f *flown) {
	r := f.result
	p.peaks(r)
	p.line("")
	p.margins(r)
	p.vents(f)
	p.spread(f)
	p.line("")
	p.exchangers(f)
	p.drag(r)
	p.change(f)
	p.events(r.Events)
}

// heading names a case and says how it went.
func (p *page) heading(f *flown) {
	title := f.name
	if f.title != "" {
		title += " - " + f.title
	}
	status := map[sim.Status]colour{sim.WithinLimits: green, sim.Caution: yellow, sim.OverLimit: red}
	how := strings.ToUpper(string(f.result.Status))
	if p.told != nil {
		p.headline(title + ": " + how)
	} else {
		p.line("%s: %s", p.paint(bold, title), p.paint(status[f.result.Status], how))
	}
	if leg := f.result.Incomplete; leg != "" {
		p.line("  INCOMPLETE: leg %s did not reach its end, see the warnings", leg)
	}
}

// margins adds what does not fit into the tables.
func (p *page) margins(r *sim.Result) {
	if text := number(r.BoilMargin).String(); text != "" {
		p.entry("boil margin", "%s at the least", difference.Show(p.units, r.BoilMargin))
	} else {
		p.entry("boil margin", "not known: the coolant has no boiling point")
	}
	if r.WaterUsed > 0 {
		p.entry("spray water", "%s used", mass.Show(p.units, r.WaterUsed))
	}
	w := &r.Worst
	p.entry("least margin", "%s into the flight at %s: outside %s,", plots.Clock(w.Time),
		height.Show(p.units, w.Altitude), temperature.Show(p.units, w.Outside))
	p.entry("", "true airspeed %s, power %s, climbing %s", airspeed.Show(p.units, w.TrueAirspeed),
		power.Show(p.units, w.Power), climbRate.Show(p.units, w.RateOfClimb))
}

// vents adds how warm the air of the cabin vents gets.
func (p *page) vents(f *flown) {
	for _, v := range f.plant.Vents {
		air, outside := f.result.Trajectory.Find(v.Name+"_vent_degC"), f.result.Trajectory.Find("outside_degC")
		if air == nil || outside == nil {
			continue
		}
		most := 0.0
		for i := range air.Values {
			most = math.Max(most, air.Values[i]-outside.Values[i])
		}
		p.entry("vent "+v.Name, "takes in air up to %s warmer than outside", difference.Show(p.units, most))
	}
}

// drag adds what the cooling costs at the least margin, and who owns it.
func (p *page) drag(r *sim.Result) {
	w := &r.Worst
	p.line("")
	costs := []string{power.Show(p.units, w.CostPower)}
	if w.CostSpeed > 0 {
		costs = append(costs, airspeed.Show(p.units, w.CostSpeed))
	}
	costs = append(costs, climbRate.Show(p.units, w.CostRateOfClimb))
	p.entry("cooling drag", "%s costs %s", force.Show(p.units, w.CoolingDrag), strings.Join(costs, ", "))
	p.entry("", "of it momentum %s, spillage %s, external %s", force.Show(p.units, w.InternalDrag),
		force.Show(p.units, w.SpillageDrag), force.Show(p.units, w.ExternalDrag))
}

// change adds what differs from the case as filed.
func (p *page) change(f *flown) {
	c := f.change()
	if c == nil {
		return
	}
	p.line("")
	p.line("  Change from the scenario as filed:")
	p.entry("margin", "coolant %s, oil %s", difference.Change(p.units, float64(c.CoolantMargin)),
		difference.Change(p.units, float64(c.OilMargin)))
	costs := []string{power.Change(p.units, float64(c.CostPower))}
	if f.result.Worst.CostSpeed > 0 && f.filed.result.Worst.CostSpeed > 0 {
		costs = append(costs, airspeed.Change(p.units, float64(c.CostSpeed)))
	}
	costs = append(costs, climbRate.Change(p.units, float64(c.CostRateOfClimb)))
	p.entry("cooling drag", "%s: costs %s", force.Change(p.units, float64(c.CoolingDrag)), strings.Join(costs, ", "))
}

// cautions adds what stands under every result.
func (p *page) cautions(spray bool) {
	for _, text := range cautions {
		p.line("%s", text)
	}
	if spray {
		for _, text := range sprayCautions {
			p.line("%s", text)
		}
	}
}
