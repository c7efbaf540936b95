package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"hotclimb/plots"
	"hotclimb/scenarios"
	"hotclimb/sweep"
	"hotclimb/sweep/calibrate"
)

// mostFar is how many readings far from the model are listed.
const mostFar = 5

// residuals adds whether the readings scatter around the model as they should.
func (p *fitPage) residuals() {
	d, c := difference.In(p.units), &p.Checks
	p.line("")
	p.heads("Readings less the model:")
	var rows []table.Row
	for i := range c.Series {
		s := &c.Series[i]
		drift := "-"
		if s.DriftDoubt > 0 {
			drift = signed(d.Number(600 * s.Drift))
		}
		rows = append(rows, table.Row{
			p.set.records[s.Record].Name, circuitWords[s.Circuit], s.Count, signed(d.Number(s.Mean)),
			d.Number(s.Scatter * s.Noise), d.Number(s.Noise), drift, fmt.Sprintf("%+.1f", s.Alike),
		})
	}
	p.table(2, table.Row{"", "", "readings", "mean " + d.Name, "scatter", "noise given", "per 10 min", "alike"}, rows)
	p.item("alike: correlation of neighbours in time; 0 where each errs on its own")
	p.item("squares over freedom: %.2f, expected 1 ± %.2f", c.Reduced, c.Spread)
	p.farReadings()
	for i, text := range p.doubtsOfFit() {
		if i == 0 {
			p.line("")
		}
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
	t := temperature.In(p.units)
	var rows []table.Row
	for _, f := range p.Checks.Far[:min(len(p.Checks.Far), mostFar)] {
		r := &p.Records[f.Record]
		m := r.Record.Readings[f.Reading]
		line := "by hand"
		if m.Line > 0 {
			line = fmt.Sprintf("line %d", m.Line)
		}
		rows = append(rows, table.Row{
			r.Record.Name, circuitWords[m.Circuit], line, plots.Clock(m.From), t.Number(m.Value), t.Number(r.Model[f.Reading]),
			fmt.Sprintf("%+.1f", f.Deviations), fmt.Sprintf("%.2f", f.Weight),
		})
	}
	p.line("")
	p.heads("Farthest from the model, %s beyond 3 times the noise:", counted(len(p.Checks.Far), "reading"))
	p.table(3, table.Row{"", "", "", "at min:s", "read " + t.Name, "model", "in noise", "counts"}, rows)
}

// wrong is from how many deviations on one reading may be wrong rather than the
// model: one in two million is so far off by chance.
const wrong = 5.0

// loose is how many of its standard deviations the sum of squares may be off.
const loose = 3.0

// doubtsOfFit is what does not fit, and what to do.
func (z *fitted) doubtsOfFit() []string {
	var list []string
	c := &z.Checks
	over := c.Scatters()
	if n := len(c.Far); n > 0 && z.loss == "squares" && math.Abs(c.Far[0].Deviations) > wrong {
		list = append(list, fmt.Sprintf("A reading %.0f times its noise off the model may be wrong: look at it, and fit with the loss huber, by which it counts less.", math.Abs(c.Far[0].Deviations)))
	}
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
	told := z.noiseTimes(circuit, ratio)
	switch {
	case over && ratio > muchScatter:
		return []string{fmt.Sprintf("The readings of the %s scatter %.1f times the noise given: give gauges.%s.noise %s and fit again, or the model lacks something. The doubts after the fit are too small as they stand.", name, ratio, name, told)}
	case !over && ratio < littleScatter:
		return []string{fmt.Sprintf("The readings of the %s scatter only %.1f times the noise given: with gauges.%s.noise %s they would teach more.", name, ratio, name, told)}
	}
	return nil
}

// noiseTimes is the noise of a gauge times a factor, to two digits in its unit. A
// test may give another; the scenario's is meant.
func (z *fitted) noiseTimes(circuit int, ratio float64) string {
	gauges := [2]scenarios.Gauge{sweep.Coolant: z.base.Gauges.Coolant, sweep.Oil: z.base.Gauges.Oil}
	given, d := gauges[circuit].Noise.Number, scenarios.DimensionOf[scenarios.Difference]()
	x, err := scenarios.Convert(ratio*given.Value, given.Unit, d)
	if err != nil {
		return scenarios.Format(ratio*given.Value, "", d)
	}
	return strconv.FormatFloat(x, 'g', 2, 64) + " " + given.Unit
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
