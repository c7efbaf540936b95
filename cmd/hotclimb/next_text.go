package main

import (
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"hotclimb/sweep"
	"hotclimb/sweep/calibrate"
)

// writeText writes the ranking of flights for people, as a screen can show it.
func (o *nextOutcome) writeText(w io.Writer, s *screen) error {
	p := &nextPage{&page{screen: s, units: o.units}, o}
	p.line("%s", p.paint(bold, o.scenario.Title))
	p.line("")
	p.now()
	p.line("")
	p.flights()
	p.line("")
	p.advice()
	p.left()
	p.line("")
	p.hazards()
	_, err := w.Write(p.Bytes())
	return err
}

// nextPage is the text of next in the making.
type nextPage struct {
	*page
	*nextOutcome
}

// circuitWords are the circuits by number.
var circuitWords = [2]string{sweep.Coolant: "coolant", sweep.Oil: "oil"}

// odds prints a probability, finer than percent does near none and all.
func odds(share float64) string {
	switch {
	case share > 0 && share < 0.001:
		return "< 0.1 %"
	case share < 0.0995 || share > 0.995 && share < 0.9995:
		return fmt.Sprintf("%.1f %%", 100*share)
	case share >= 0.9995 && share < 1:
		return "> 99.9 %"
	}
	return fmt.Sprintf("%.0f %%", 100*share)
}

// now adds what is believed of the target.
func (p *nextPage) now() {
	t := p.found
	title := p.target.Name
	if p.target.Title != "" {
		title += " - " + p.target.Title
	}
	p.line("%s: which flight would teach most", p.paint(bold, title))
	over := t.Passed()
	for c, word := range circuitWords {
		p.entry(word, "margin %s ± %s, so %s to pass the limit", difference.In(p.units).Number(t.Margin[c]),
			difference.Show(p.units, t.Now[c]), odds(over[c]))
	}
	var from []string
	for _, k := range t.Sources(t.Deciding, 3) {
		n := &t.Numbers[k]
		from = append(from, fmt.Sprintf("%s %s", n.Param.Path, odds(n.Share[t.Deciding])))
	}
	p.note(fmt.Sprintf("± is one standard deviation, to first order and if the model is right in kind. The doubt of the %s, which is more likely to pass its limit, comes most from %s.",
		circuitWords[t.Deciding], strings.Join(from, ", ")))
}

// flights adds the table.
func (p *nextPage) flights() {
	t, d := p.found, difference.In(p.units)
	header := table.Row{"flight", "air " + temperature.In(p.units).Name, "coolant ± " + d.Name, "oil ± " + d.Name, "wrong", "over", ""}
	rows := []table.Row{{"now", "", d.Number(t.Now[0]), d.Number(t.Now[1]), odds(t.NowMisjudged()), "", ""}}
	for i := range t.Rows {
		r := &t.Rows[i]
		word := ""
		switch {
		case r.OverLimit:
			word = p.paint(red, "not so")
		case r.Passes > calibrate.MostRisk:
			word = p.paint(yellow, "risky")
		}
		rows = append(rows, table.Row{r.Flight.Name, temperature.In(p.units).Number(r.Flight.Outside), d.Number(r.After[0]),
			d.Number(r.After[1]), odds(r.Misjudged), odds(r.Passes), word})
	}
	p.table(1, header, rows)
	p.note(fmt.Sprintf("coolant, oil: what is then left of the doubt of their margins in %s", p.target.Name))
	p.note(fmt.Sprintf("wrong: chance that the margin then found lies on the wrong side of the %s limit", circuitWords[t.Deciding]))
	p.note(fmt.Sprintf("over: chance that the flight itself passes a limit; risky when above %s", odds(calibrate.MostRisk)))
	p.note("not so: it passes a limit, or boils, with the numbers as they stand; not to be flown as proposed")
	if p.own {
		p.note("the flights are those of the section next")
	} else {
		p.note("the flights are made from the case; list others in the section next")
	}
}

// advice adds which flight to fly and why.
func (p *nextPage) advice() {
	t := p.found
	best := t.Best()
	if best < 0 {
		p.line("  %s none of these", p.paint(bold, "FLY NEXT:"))
		text := "Each passes a limit, or may by what is known now. Wait for cooler air (--outside), or list milder flights in the section next."
		if r := p.mildest(); r != nil {
			text += fmt.Sprintf(" The mildest is %s at %s, with a chance of %s.", r.Flight.Name, temperature.Show(p.units, r.Flight.Outside), odds(r.Passes))
		}
		p.note(text)
		return
	}
	r := &t.Rows[best]
	p.line("  %s %s, air at the field %s", p.paint(bold, "FLY NEXT:"), r.Flight.Name, temperature.Show(p.units, r.Flight.Outside))
	if r.Flight.Title != "" {
		p.note(r.Flight.Title + ".")
	}
	d := t.Deciding
	p.note(fmt.Sprintf("It takes the doubt of the %s margin from %s to %s.", circuitWords[d],
		difference.Show(p.units, t.Now[d]), difference.Show(p.units, r.After[d])))
	p.why(r)
	p.peaks(r)
	if r.Flight.Caution != "" {
		p.note("Caution: " + r.Flight.Caution)
	}
	for _, then := range t.Then(best) {
		n := &t.Rows[then.Row]
		if then.Row != best && n.MayBeFlown() {
			p.note(fmt.Sprintf("After it: %s at %s, which leaves %s.", n.Flight.Name,
				temperature.Show(p.units, n.Flight.Outside), difference.Show(p.units, then.After[d])))
			break
		}
	}
}

// mildest is the flight with the least chance to pass a limit of those that keep
// them as the numbers stand; nil when none does.
func (p *nextPage) mildest() *calibrate.NextRow {
	var least *calibrate.NextRow
	for i := range p.found.Rows {
		if r := &p.found.Rows[i]; !r.OverLimit && (least == nil || r.Passes < least.Passes) {
			least = r
		}
	}
	return least
}

// why says which numbers a flight shows.
func (p *nextPage) why(r *calibrate.NextRow) {
	first := r.Lessons[0]
	if first.Share <= 0 {
		p.note("Why: it shows nothing of what the margin depends on.")
		return
	}
	n := &p.found.Numbers[first.Number]
	text := fmt.Sprintf("Why: %s of what it teaches comes through %s (%s)", odds(first.Share), n.Param.Path, n.Param.Doc)
	if n.Share[p.found.Deciding] >= 0.5 {
		text += ", where most of the doubt comes from"
	}
	text += fmt.Sprintf("; of the doubt of that number %s is left.", odds(first.Left))
	if second := r.Lessons[min(1, len(r.Lessons)-1)]; second.Number != first.Number && second.Share > first.Share/4 {
		text += fmt.Sprintf(" Then %s, %s.", p.found.Numbers[second.Number].Param.Path, odds(second.Share))
	}
	p.note(text)
}

// peaks says how hot a flight is expected to get, and which caution it passes.
func (p *nextPage) peaks(r *calibrate.NextRow) {
	cautions := [2]float64{sweep.Coolant: r.Flight.Scenario.Coolant.Caution.Value, sweep.Oil: r.Flight.Scenario.Oil.Caution.Value}
	p.note(fmt.Sprintf("Expected at most: coolant %s, oil %s.", temperature.Show(p.units, r.Peaks[sweep.Coolant].Value), temperature.Show(p.units, r.Peaks[sweep.Oil].Value)))
	for c, word := range circuitWords {
		if r.Peaks[c].Value > cautions[c] {
			p.note(fmt.Sprintf("The %s passes its caution, %s: broken off there, the flight teaches less.", word, temperature.Show(p.units, cautions[c])))
		}
	}
}

// left adds what is not proposed.
func (p *nextPage) left() {
	list := append(append([]calibrate.LeftOut{}, p.leftOut...), p.found.LeftOut...)
	if len(list) == 0 {
		return
	}
	p.line("")
	p.line("  Left out:")
	for _, l := range list {
		if name := l.Name; math.IsNaN(l.Outside) {
			p.note(name + ": " + l.Why)
		} else {
			p.note(name + " at " + temperature.Show(p.units, l.Outside) + ": " + l.Why)
		}
	}
}

// hazards adds the cautions of the flights that are proposed and of all.
func (p *nextPage) hazards() {
	coolant, oil := p.target.Scenario.Coolant.Caution.Value, p.target.Scenario.Oil.Caution.Value
	p.testFlights(fmt.Sprintf("watched. Break off at %s of coolant or %s of oil: less power, nose down.",
		temperature.Show(p.units, coolant), temperature.Show(p.units, oil)), p.has)
	p.cautions(p.has(calibrate.Sprayed))
}

// has says that a flight of the list has a hazard.
func (p *nextPage) has(h calibrate.Hazard) bool {
	for i := range p.found.Rows {
		for _, own := range p.found.Rows[i].Flight.Hazards {
			if own == h {
				return true
			}
		}
	}
	return false
}
