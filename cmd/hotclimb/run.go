package main

import (
	"context"
	"fmt"
	"slices"

	"github.com/spf13/cobra"
	"hotclimb/scenarios"
	"hotclimb/sim"
)

// sampleInterval is that of time histories [s].
const sampleInterval = 5.0

func (p *program) runCommand() *cobra.Command {
	var c common
	cmd := &cobra.Command{
		Use:   "run [FILE]",
		Short: "fly a scenario: one flight or all its cases",
		Long: `Flies every case of a scenario and says what coolant and oil do: their peaks,
their margins to the limits and the time until a limit, what every exchanger does
at the worst moment, and what the cooling costs in drag, speed and climb.

FILE is a scenario or the name of a built-in one; without it, the demo ` + demo + ` flies.
With --set or --over the scenario is flown as filed as well, and the change is
shown. The exit status is 3 when a limit is exceeded, and 1 when a leg does not
reach its end.`,
		Example: examples(
			`hotclimb run`,
			`hotclimb run tug --set "day.temperature=104 degF"`,
			`hotclimb run tug --out tug_flown`,
			`hotclimb run tug --format json`,
		),
		Args: atMost(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return p.run(cmd.Context(), file(args, demo), &c)
		},
	}
	c.scenarioFlags(cmd)
	c.studyFlags(cmd)
	return cmd
}

// run flies a scenario and prints what came of it.
func (p *program) run(ctx context.Context, file string, c *common) error {
	if err := c.check(); err != nil {
		return err
	}
	o, err := c.prepare(file)
	if err != nil {
		return err
	}
	if err := c.makeFolder(file); err != nil {
		return err
	}
	flights := o.flights()
	bar := p.progress("flights", len(flights), c.noProgress)
	fly(ctx, flights, c.workers, bar.step)
	bar.end()
	if err := ctx.Err(); err != nil {
		return err
	}
	if err := o.finish(); err != nil {
		return err
	}
	p.warn(o.warnings())
	if c.out != "" {
		if err := o.writeFiles(c.out, c.workers); err != nil {
			return err
		}
	}
	if err := p.print(o, c.format.word); err != nil {
		return err
	}
	return o.verdict()
}

// verdict is the error that says how a run ended.
func (o *outcome) verdict() error {
	if slices.ContainsFunc(o.cases, func(f *flown) bool { return f.result.Status == sim.OverLimit }) {
		return errOverLimit
	}
	for _, f := range o.cases {
		if leg := f.result.Incomplete; leg != "" {
			return fmt.Errorf("case %s: leg %s did not reach its end, so what is printed is not the whole flight", f.name, leg)
		}
	}
	return nil
}

// build makes the plants of effective cases. The error is a scenarios.Faults
// with everything that is wrong.
func build(cases []scenarios.CaseScenario) ([]*sim.Plant, error) {
	plants := make([]*sim.Plant, len(cases))
	var faults scenarios.Faults
	for i, k := range cases {
		plant, err := k.Scenario.Build()
		if err != nil {
			faults = addFaults(faults, err)
		}
		plants[i] = plant
	}
	if len(faults) > 0 {
		return nil, faults
	}
	return plants, nil
}
