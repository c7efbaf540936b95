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
	var f runFlags
	cmd := &cobra.Command{
		Use:   "run [FILE]",
		Short: "fly a scenario: one flight or all its cases",
		Long: `Flies every case of a scenario and says what coolant and oil do: their peaks,
their margins to the limits and the time until a limit, what every exchanger does
at the worst moment, and what the cooling costs in drag, speed and climb.

FILE is a scenario or the name of a built-in one; without it, the demo ` + demo + ` flies.
With --set or --over the scenario is flown as filed as well, and the change is
shown. The exit status is 3 when a limit is exceeded, and 1 when a leg does not
reach its end.

With --doubt each case also flies many times with all numbers that carry a doubt
drawn within it, and as their correlations tie them. It says how far peaks and
margins spread, the chance to exceed each limit, and which numbers make most of
that in the case with the least margin: 256 draws take a few seconds for a case.
The exit status stays that of the flights with all numbers as they stand.`,
		Example: examples(
			`hotclimb run`,
			`hotclimb run tug --set "day.temperature=104 degF"`,
			`hotclimb run tug --out tug_flown`,
			`hotclimb run tug --format json`,
			`hotclimb run tug --case hot_tow --doubt --draws 64`,
		),
		Args: atMost(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			f.given(cmd)
			return p.run(cmd.Context(), file(args, demo), &f)
		},
	}
	f.scenarioFlags(cmd)
	f.add(cmd, "each case", 256)
	f.studyFlags(cmd)
	return cmd
}

// runFlags are the flags of run.
type runFlags struct {
	common
	doubtFlags
}

// check tells values of flags that no flag reader refuses.
func (f *runFlags) check() error {
	if err := f.doubtFlags.check(); err != nil {
		return err
	}
	return f.common.check()
}

// run flies a scenario and prints what came of it.
func (p *program) run(ctx context.Context, file string, f *runFlags) error {
	if err := f.check(); err != nil {
		return err
	}
	o, err := f.prepare(file)
	if err != nil {
		return err
	}
	if err := f.makeFolder(file); err != nil {
		return err
	}
	if err := p.fly(ctx, o, f); err != nil {
		return err
	}
	p.warn(o.warnings())
	if f.out != "" {
		if err := o.writeFiles(f.out, f.workers); err != nil {
			return err
		}
	}
	if err := p.print(o, f.format.word); err != nil {
		return err
	}
	return o.verdict()
}

// fly flies everything there is to fly.
func (p *program) fly(ctx context.Context, o *outcome, f *runFlags) error {
	flights := o.flights()
	bar := p.progress("flights", len(flights), f.noProgress)
	fly(ctx, flights, f.workers, bar.step)
	bar.end()
	if err := ctx.Err(); err != nil {
		return err
	}
	if err := o.finish(); err != nil || !f.doubt {
		return err
	}
	return p.drawDoubt(ctx, o, f)
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
