package main

import (
	"context"
	"fmt"
	"math"

	"github.com/spf13/cobra"
	"hotclimb/plots"
	"hotclimb/scenarios"
	"hotclimb/sweep"
	"hotclimb/sweep/calibrate"
)

// correctFlags are the flags of correct.
type correctFlags struct {
	common
	recordFlags
	rule    choice
	outside string
	draws   int
}

// usualRule is the word of the rule that is taken unless said otherwise.
const usualRule = "part_23"

// ruleWords are the rules by their words.
var ruleWords = map[string]calibrate.Rule{usualRule: calibrate.Part23, "cs_22": calibrate.CS22}

func (p *program) correctCommand() *cobra.Command {
	var f correctFlags
	cmd := &cobra.Command{
		Use:   "correct [FILE]",
		Short: "correct the temperatures of test flights to the regulations' hot day",
		Long: `Finds the climbs and the settled stretches (under 2 °F/min) of flight records, and
corrects coolant and oil to a hot day: the highest of a climb where it is first
reached, or the mean of a settled stretch. It does so by the rule of the
regulation, which adds the difference between the hot day and the air of the test,
and beside it by the model, which flies the record in both airs; and it says by how
much the rule is over or under the model. Both have their doubt, one standard
deviation, of the gauge, the outside air and the model's numbers.

The rule is 14 CFR 23.1043 as amended to 2016 (100 °F at sea level, 3.6 °F less per
1000 ft), or with --rule cs_22 that of CS 22.1043 and 22.1047 (38 °C, 6.5 °C less
per 1000 m).

FILE is a scenario or the name of a built-in one; without it, that is ` + recordsDemo + `. Its
records are the section tests; --log reads one that it does not have.`,
		Example: examples(
			`hotclimb correct`,
			`hotclimb correct rotary --test baseline --rule cs_22`,
			`hotclimb correct rotary --test wide_ring_again --format csv`,
			`hotclimb correct rotary --test wide_ring --out corrected`,
		),
		Args: atMost(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return p.correct(cmd.Context(), file(args, recordsDemo), &f)
		},
	}
	f.scenarioFlags(cmd)
	f.add(cmd)
	s := cmd.Flags()
	f.rule = choice{usualRule, []string{usualRule, "cs_22"}}
	s.Var(&f.rule, "rule", "correct to the hot day of this `RULE`: part_23 or cs_22")
	s.StringVar(&f.outside, "outside-doubt", "", "doubt of the outside air, a `DIFFERENCE` as 1 K or 2 ddegF (1 K)")
	s.IntVar(&f.draws, "draws", calibrate.DefaultDraws, "draw the doubtful numbers `N` times")
	f.studyFlags(cmd)
	return cmd
}

// correct corrects flight records and prints what came of it.
func (p *program) correct(ctx context.Context, file string, f *correctFlags) error {
	settings, err := f.settingsOf()
	if err != nil {
		return err
	}
	set, err := f.records(ctx, file, &f.recordFlags)
	if err != nil {
		return err
	}
	if err := f.makeFolder(file); err != nil {
		return err
	}
	p.warn(set.warnings())
	o := &correction{origin: originOf(set.scenario, set.cases), set: set, rule: settings.Rule}
	bar := p.progress("flights", len(set.records)*settings.Parts(), f.noProgress)
	settings.Done = bar.step
	err = o.find(ctx, settings)
	bar.end()
	if err != nil {
		return err
	}
	if f.out != "" {
		if err := o.writeFiles(f.out); err != nil {
			return err
		}
	}
	return p.print(o, f.format.word)
}

// settingsOf reads the flags that say how to correct.
func (f *correctFlags) settingsOf() (*calibrate.CorrectSettings, error) {
	if err := f.check(); err != nil {
		return nil, err
	}
	if f.draws < 2 || f.draws > 10000 {
		return nil, badInputf("--draws %d: give 2 to 10000", f.draws)
	}
	s := &calibrate.CorrectSettings{Rule: ruleWords[f.rule.word], Draws: f.draws, Seed: f.seed, Workers: f.workers}
	if f.outside == "" {
		return s, nil
	}
	n, err := scenarios.Parse(f.outside, scenarios.DimensionOf[scenarios.Difference]())
	if err != nil {
		return nil, badInputf("--outside-doubt: %w", err)
	}
	if n.Value < 0.01 || n.Value > 20 {
		return nil, badInputf("--outside-doubt %s: give 0.01 K to 20 K", f.outside)
	}
	s.Outside = n.Value
	return s, nil
}

// correction is everything that correct has to say.
type correction struct {
	origin
	set     *recordSet
	rule    calibrate.Rule
	records []*calibrate.Corrected
}

// find corrects the records.
func (o *correction) find(ctx context.Context, settings *calibrate.CorrectSettings) error {
	for _, r := range o.set.records {
		c, err := calibrate.CorrectRecord(ctx, r, *settings)
		if err != nil {
			return err
		}
		o.records = append(o.records, c)
	}
	return nil
}

// writeFiles writes the outcome into a folder: the chart of the readings less the
// model, the table, the faults of the logs, the scenario as it was run with its logs,
// and, last, the result.
func (o *correction) writeFiles(dir string) error {
	figure, err := o.chart()
	if err != nil {
		return err
	}
	files := append(logsOf(o.scenario), images("correct", figure)...)
	return writeAll(dir, append(files, outFile{"correct.csv", o.writeCSV}, o.set.faults(), asRun(o.scenario), outFile{"correct.json", o.writeJSON}))
}

// chart draws the readings less the model.
func (o *correction) chart() (*plots.Figure, error) {
	var list []plots.FlightRecord
	for _, c := range o.records {
		list = append(list, drawnRecord(c))
	}
	figure, err := plots.Residuals(list, o.units, o.caption("Flight records in their own air"))
	if err != nil {
		return nil, fmt.Errorf("the chart cannot be drawn: %w", err)
	}
	return figure, nil
}

// drawnRecord is a record as charts take it.
func drawnRecord(c *calibrate.Corrected) plots.FlightRecord {
	f := plots.FlightRecord{Name: c.Record.Name}
	for _, m := range c.Record.Readings {
		g := &f.Coolant
		if m.Circuit == sweep.Oil {
			g = &f.Oil
		}
		g.Time, g.Read = append(g.Time, (m.From+m.To)/2), append(g.Read, m.Value)
		g.Model = append(g.Model, c.Model.Of(m))
		g.Noise = c.Record.Gauge(m.Circuit).Noise.Value
	}
	return f
}

// over says how the rule stands to the model, in words; "" where they agree within
// a tenth of a degree.
func (p *page) over(circuit string, k *calibrate.CorrectedCircuit) string {
	if math.Abs(k.Over) < 0.05 {
		return ""
	}
	way := "too much"
	if k.Over < 0 {
		way = "too little"
	}
	return fmt.Sprintf("By the model, the rule corrects the %s by %s %s (± %s).", circuit,
		difference.Show(p.units, math.Abs(k.Over)), way, difference.In(p.units).Number(k.OverDoubt))
}
