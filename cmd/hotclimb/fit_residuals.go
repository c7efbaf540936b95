package main

import (
	"fmt"
	"math"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"hotclimb/scenarios"
	"hotclimb/sweep/calibrate"
)

// mostFar is how many readings far from the model are listed.
const mostFar = 5

// residuals adds whether the readings scatter around the model as they should.
func (p *fitPage) residuals() {
	d, c := difference.in(p.units), &p.Checks
	p.line("")
	p.line("Readings less the model:")
	var rows []table.Row
	for i := range c.Series {
		s := &c.Series[i]
		drift := "-"
		if s.DriftDoubt > 0 {
			drift = signed(d.number(600 * s.Drift))
		}
		rows = append(rows, table.Row{
			p.set.records[s.Record].Name, circuitWords[s.Circuit], s.Count, signed(d.number(s.Mean)),
			d.number(s.Scatter * s.Noise), d.number(s.Noise), drift, fmt.Sprintf("%+.1f", s.Alike),
		})
	}
	p.table(2, table.Row{"", "", "readings", "mean " + d.name, "scatter", "noise given", "per 10 min", "alike"}, rows)
	p.line("  alike: correlation of neighbours in time; 0 where each errs on its own")
	p.line("  squares over freedom: %.2f, expected 1 ± %.2f", c.Reduced, c.Spread)
	p.farReadings()
	for _, text := range p.doubtsOfFit() {
		p.line("")
		p.paragraph("", "%s", text)
	}
}

// signed adds a sign to a number above 0.
func signed(text string) string {
	if strings.HasPrefix(text, "-") || strings.Trim(text, "0.") == "" {
		return text
	}
	return "+" + text
}

// farReadings adds the readings farthest from the model.
func (p *fitPage) farReadings() {
	if len(p.Checks.Far) == 0 {
		return
	}
	t := temperature.in(p.units)
	var rows []table.Row
	for _, f := range p.Checks.Far[:min(len(p.Checks.Far), mostFar)] {
		r := &p.Records[f.Record]
		m := r.Record.Readings[f.Reading]
		line := "by hand"
		if m.Line > 0 {
			line = fmt.Sprintf("line %d", m.Line)
		}
		rows = append(rows, table.Row{
			r.Record.Name, circuitWords[m.Circuit], line, clock(m.From), t.number(m.Value), t.number(r.Model[f.Reading]),
			fmt.Sprintf("%+.1f", f.Deviations), fmt.Sprintf("%.2f", f.Weight),
		})
	}
	p.line("")
	p.line("Farthest from the model, %s beyond 3 times the noise:", counted(len(p.Checks.Far), "reading"))
	p.table(3, table.Row{"", "", "", "at min:s", "read " + t.name, "model", "in noise", "counts"}, rows)
}

// loose is how many of its standard deviations the sum of squares may be off.
const loose = 3.0

// doubtsOfFit is what does not fit, and what to do.
func (z *fitted) doubtsOfFit() []string {
	var list []string
	c := &z.Checks
	over := c.Scatters()
	for circuit, name := range circuitWords {
		if ratio := c.Gauges[circuit]; !math.IsNaN(ratio) && math.Abs(over) > loose {
			list = append(list, z.scattered(circuit, name, ratio, over > 0)...)
		}
	}
	for i := range c.Series {
		list = append(list, z.suspicious(&c.Series[i])...)
	}
	return list
}

// Scatter within these shares of the noise is not remarked on: no gauge's noise is
// known better. Engineering judgement.
const littleScatter, muchScatter = 0.67, 1.5

// scattered says that a gauge scatters otherwise than its noise.
func (z *fitted) scattered(circuit int, name string, ratio float64, over bool) []string {
	var given scenarios.Number
	for _, r := range z.set.records {
		given = r.Gauge(circuit).Noise.Number
	}
	given.Value *= ratio
	given.Doubt = 0
	told := scenarios.Format(roundTwo(given.Value), given.Unit, scenarios.DimensionOf[scenarios.Difference]())
	switch {
	case over && ratio > muchScatter:
		return []string{fmt.Sprintf("The readings of the %s scatter %.1f times the noise given: give gauges.%s.noise %s and fit again, or the model lacks something. The doubts after the fit are too small as they stand.", name, ratio, name, told)}
	case !over && ratio < littleScatter:
		return []string{fmt.Sprintf("The readings of the %s scatter only %.1f times the noise given: with gauges.%s.noise %s they would teach more.", name, ratio, name, told)}
	}
	return nil
}

// roundTwo rounds to two digits.
func roundTwo(x float64) float64 {
	p := math.Pow(10, math.Floor(math.Log10(x))-1)
	return math.Round(x/p) * p
}

// suspicious says what is odd with one gauge in one record.
func (z *fitted) suspicious(s *calibrate.SeriesCheck) []string {
	who := fmt.Sprintf("%s, %s", z.set.records[s.Record].Name, circuitWords[s.Circuit])
	var odd []string
	if s.Shifted() {
		odd = append(odd, fmt.Sprintf("the readings lie %s of the model all through", map[bool]string{true: "above those", false: "below those"}[s.Mean > 0]))
	}
	if s.Drifts() {
		odd = append(odd, fmt.Sprintf("they %s it with time", map[bool]string{true: "rise against", false: "fall against"}[s.Drift > 0]))
	}
	if s.Alikeness() {
		odd = append(odd, "neighbours err alike, so they teach less than is counted and the doubts after the fit are too small")
	}
	if len(odd) == 0 {
		return nil
	}
	return []string{who + ": " + strings.Join(odd, "; ") + "."}
}
