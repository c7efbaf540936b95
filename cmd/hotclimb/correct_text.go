package main

import (
	"fmt"
	"io"
	"slices"

	"github.com/jedib0t/go-pretty/v6/table"
	"hotclimb/scenarios"
	"hotclimb/sweep/calibrate"
)

// perMinute is the rate of a temperature.
var perMinute = measure{unit{"°F/min", 60 * 1.8, 0, 1}, unit{"K/min", 60, 0, 1}}

// writeText writes the correction for people, as a screen can show it.
func (o *correction) writeText(w io.Writer, s *screen) error {
	p := &page{screen: s, units: o.units}
	p.line("%s", p.paint(bold, o.scenario.Title))
	for _, c := range o.records {
		p.line("")
		p.corrected(c)
	}
	p.line("")
	p.line("Hot day of %s: %s.", o.rule, p.hotDay(o.rule))
	p.line("Of a climb the highest, of a settled stretch the mean; of a log, of means over")
	p.line("half a minute. ± is one standard deviation; margin is what is left to the limit.")
	p.cautions(slices.ContainsFunc(o.records, sprayed))
	_, err := w.Write(p.Bytes())
	return err
}

// sprayed says that water was sprayed on a record.
func sprayed(c *calibrate.Corrected) bool {
	return c.Record.Log != nil && c.Record.Log.Has(calibrate.Spray)
}

// hotDay is the hot day of a rule in words.
func (p *page) hotDay(rule calibrate.Rule) string {
	day := rule.Day()
	if p.units == "si" {
		return fmt.Sprintf("%.1f °C at sea level, %.2f K less per 1000 m", day.SeaLevelTemperature, 1000*day.LapseRate)
	}
	return fmt.Sprintf("%s at sea level, %.2f °F less per 1000 ft", temperature.show(p.units, day.SeaLevelTemperature), 1.8*304.8*day.LapseRate)
}

// corrected adds everything on one record.
func (p *page) corrected(c *calibrate.Corrected) {
	title := c.Record.Name
	if date := c.Record.Test.Date; date != "" {
		title += " - " + date
	}
	p.line("%s", p.paint(bold, title))
	if notes := c.Record.Test.Notes; notes != "" {
		p.note(notes)
	}
	for _, s := range scenarios.Settings(c.Record.Test.Set) {
		p.note(s.Path + " " + pretty(s.Text))
	}
	if log := c.Record.Log; log != nil {
		p.note(log.Name + ": " + accounted(log))
	}
	for i := range c.Segments {
		p.line("")
		p.segment(&c.Segments[i])
	}
	for _, text := range c.Remarks {
		p.note(p.paint(yellow, "mind:") + " " + text + ".")
	}
}

// segment adds the temperatures of a climb or a settled stretch.
func (p *page) segment(s *calibrate.CorrectedSegment) {
	what := "climb"
	if s.Kind == calibrate.Settled {
		what = "settled"
	}
	p.line("  %s %s to %s, %s", what, clock(s.From), clock(s.To), climbRate.change(p.units, s.Climb))
	t, d := temperature.in(p.units), difference.in(p.units)
	var rows []table.Row
	var words []string
	for i, k := range s.Circuits {
		if k == nil {
			continue
		}
		rows = append(rows, table.Row{
			circuitNames[i], t.number(k.Temperature), d.number(k.Doubt), perMinute.in(p.units).number(k.Rate), clock(k.Time),
			height.in(p.units).number(k.Altitude), t.number(k.Outside), t.number(k.HotDay), "rule",
			t.number(k.ByRule.Value), d.number(k.ByRule.Doubt), p.marginOf(&k.ByRule),
		}, table.Row{"", "", "", "", "", "", "", "", "model", t.number(k.ByModel.Value), d.number(k.ByModel.Doubt), p.marginOf(&k.ByModel)})
		if text := p.over(circuitNames[i], k); text != "" {
			words = append(words, text)
		}
	}
	if len(rows) > 0 {
		p.table(1, table.Row{"", t.name, "±", perMinute.in(p.units).name, "at", height.in(p.units).name, "air", "hot day", "by", t.name, "±", "margin"}, rows)
	} else {
		p.note("no reading of either temperature falls in it")
	}
	for _, text := range words {
		p.note(text)
	}
	for _, text := range s.Remarks {
		p.note(p.paint(yellow, "mind:") + " " + text + ".")
	}
}

// marginOf prints the margin of a correction.
func (p *page) marginOf(c *calibrate.Correction) string {
	text := difference.in(p.units).number(c.Margin)
	if c.Margin < 0 {
		return p.paint(red, text)
	}
	return text
}
