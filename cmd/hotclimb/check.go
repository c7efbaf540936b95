package main

import (
	"context"
	"errors"
	"strings"

	"github.com/spf13/cobra"
	"hotclimb/scenarios"
)

func (p *program) checkCommand() *cobra.Command {
	var c common
	var defaults bool
	cmd := &cobra.Command{
		Use:   "check FILE",
		Short: "list every fault of a scenario, with its place and a hint",
		Long: `Reads a scenario as run does, builds every case, reads the logs of its flight
records, and lists everything that is wrong with it, a fault a line:
file:line:column: path: what is wrong (hint). The exit status is 2 when there is
any. Rows and readings of logs that are not used are told as warnings.`,
		Example: examples(
			`hotclimb check tug`,
			`hotclimb check tug --defaults`,
			`hotclimb check tug --set "day.temperature=104 degF"`,
		),
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return badInputf("%s needs a FILE or the name of a built-in scenario (%s)",
					cmd.CommandPath(), strings.Join(scenarios.BuiltinNames(), ", "))
			}
			return atMost(1)(cmd, args)
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			return p.check(cmd.Context(), args[0], &c, defaults)
		},
	}
	c.scenarioFlags(cmd)
	cmd.Flags().BoolVar(&defaults, "defaults", false, "also list the values that are defaults, and their sources")
	return cmd
}

// check lists the faults of a scenario, or says that it has none.
func (p *program) check(ctx context.Context, file string, c *common, withDefaults bool) error {
	sc, cases, err := c.load(file)
	if err == nil {
		_, err = build(cases)
	}
	if err == nil {
		err = p.checkRecords(ctx, sc, c)
	}
	var faults scenarios.Faults
	if err != nil && !errors.As(err, &faults) {
		return err
	}
	v := verdict{Faults: []faultRecord{}, Cases: []string{}, Defaults: []defaultRecord{}, file: file, withDefaults: withDefaults}
	for _, f := range faults {
		v.Faults = append(v.Faults, faultRecord{f.File, f.Line, f.Column, f.Path, f.Message, f.Hint, f.Error()})
	}
	if err == nil {
		v.accept(sc, cases)
	}
	if err := p.print(&v, c.format.word); err != nil {
		return err
	}
	if len(faults) > 0 {
		return badInputf("%s: %s", file, counted(len(faults), "fault"))
	}
	return nil
}

// checkRecords reads the flight records of a scenario and warns of what of their logs
// is not used. The error is a scenarios.Faults with what is wrong with them, or that
// of ctx.
func (p *program) checkRecords(ctx context.Context, sc *scenarios.Scenario, c *common) error {
	settings, err := c.settings()
	if err != nil {
		return err
	}
	set := &recordSet{scenario: sc}
	r := &logReader{ctx: ctx, scenario: sc, settings: settings}
	for _, t := range sc.Tests {
		if record := r.record(t); record != nil {
			set.records = append(set.records, record)
		}
	}
	p.warn(set.warnings())
	switch {
	case r.stopped != nil:
		return r.stopped
	case len(r.faults) > 0:
		return r.faults
	}
	return nil
}
