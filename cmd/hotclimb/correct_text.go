package main

import (
	"fmt"
	"io"
	"slices"

	"github.com/jedib0t/go-pretty/v6/table"
	"hotclimb/plots"
	"hotclimb/scenarios"
	"hotclimb/sweep/calibrate"
)

// perMinute is the rate of a temperature.
var perMinute = measure{US: unit{Name: "°F/min", Factor: 60 * 1.8, Decimals: 1}, SI: unit{Name: "K/min", Factor: 60, Decimals: 1}}

// writeText writes the correction for people, as a screen can show it.
func (o *correction) writeText(w io.Writer, s *screen) error {
	p := &page{screen: s, units: o.units}
	p.line("%s", p.paint(bold, o.scenario.Title))
	for _, c := range o.records {
		p.line("")
		p.corrected(c)
	}
	p.hotDayMeans(o.rule)
	p.cautions(slices.ContainsFunc(o.records, sprayed))
	_, err := w.Write(p.Bytes())
	return err
}

// sprayed says that water was sprayed on a record.
func sprayed(c *calibrate.Corrected) bool {
	return c.Record.Log != nil && c.Record.Log.Has(calibrate.Spray)
}

// hotDayMeans says what the corrected temperatures are.
func (p *page) hotDayMeans(rule calibrate.Rule) {
	p.line("")
	p.line("Hot day of %s: %s.", rule, p.hotDay(rule))
	p.line("Of a climb the highest, of a settled stretch the mean; of a log, of means over")
	p.line("half a minute. ± is one standard deviation; margin is what is left to the limit.")
}

// hotDay is the hot day of a rule in words.
func (p *page) hotDay(rule calibrate.Rule) string {
	day := rule.Day()
	if p.units == plots.SI {
		return fmt.Sprintf("%.1f °C at sea level, %.2f K less per 1000 m", day.SeaLevelTemperature, 1000*day.LapseRate)
	}
	return fmt.Sprintf("%s at sea level, %.2f °F less per 1000 ft", temperature.Show(p.units, day.SeaLevelTemperature), 1.8*304.8*day.LapseRate)
}

// corrected adds everything on one record.
func (p *page) corrected(c *calibrate.Corrected) {
	title := c.Record.Name
	if date := c.Record.Test.Date; date != "" {
		title += " - " + date
	}
	p.headline(title)
	if notes := c.Record.Test.Notes; notes != "" {
		p.note(notes)
	}
	for _, s := range scenarios.Settings(c.Record.Test.Set) {
		p.note(s.Path + " " + plots.Pretty(s.Text))
	}
	if log := c.Record.Log; log != nil {
		p.note(log.Name + ": " + accounted(log))
	}
	for i := range c.Segments {
		p.line("")
		p.segment(&c.Segments[i])
	}
	for _, text := range c.Remarks {
		p.beware(text + ".")
	}
}

// segment adds the temperatures of a climb or a settled stretch.
func (p *page) segment(s *calibrate.CorrectedSegment) {
	what := "climb"
	if s.Kind == calibrate.Settled {
		what = "settled"
	}
	p.heads("  %s %s to %s, %s", what, plots.Clock(s.From), plots.Clock(s.To), climbRate.Change(p.units, s.Climb))
	t, d := temperature.In(p.units), difference.In(p.units)
	var rows []table.Row
	var words []string
	for i, k := range s.Circuits {
		if k == nil {
			continue
		}
		rows = append(rows, table.Row{
			circuitNames[i], t.Number(k.Temperature), d.Number(k.Doubt), perMinute.In(p.units).Number(k.Rate), plots.Clock(k.Time),
			height.In(p.units).Number(k.Altitude), t.Number(k.Outside), t.Number(k.HotDay), "rule",
			t.Number(k.ByRule.Value), d.Number(k.ByRule.Doubt), p.marginOf(&k.ByRule),
		}, table.Row{"", "", "", "", "", "", "", "", "model", t.Number(k.ByModel.Value), d.Number(k.ByModel.Doubt), p.marginOf(&k.ByModel)})
		if text := p.over(circuitNames[i], k); text != "" {
			words = append(words, text)
		}
	}
	if len(rows) > 0 {
		p.table(1, table.Row{"", t.Name, "±", perMinute.In(p.units).Name, "at", height.In(p.units).Name, "air", "hot day", "by", t.Name, "±", "margin"}, rows)
	} else {
		p.note("no reading of either temperature falls in it")
	}
	for _, text := range words {
		p.note(text)
	}
	for _, text := range s.Remarks {
		p.beware(text + ".")
	}
}

// marginOf prints the margin of a correction.
func (p *page) marginOf(c *calibrate.Correction) string {
	text := difference.In(p.units).Number(c.Margin)
	if c.Margin < 0 {
		return p.paint(red, text)
	}
	return text
}
