package main

import (
	"context"
	"errors"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"hotclimb/scenarios"
	"hotclimb/sweep/calibrate"
)

// nextFlags are the flags of next.
type nextFlags struct {
	common
	outside string
	flights []string
}

func (p *program) nextCommand() *cobra.Command {
	var f nextFlags
	cmd := &cobra.Command{
		Use:   "next [FILE]",
		Short: "say which test flight would teach most",
		Long: `Ranks flights by how much of the doubt of the hot-day margins their readings would
take away: of coolant and oil, in the case of --case, or the first with a climb.

The flights are those of the section next of FILE. Without one they are made from
the case: as it is; each inlet taped to half and shut, unless that leaves a
circuit no core with air; each exit closed to half, a flap also shut; the climb a
tenth slower and faster, unless near the stall; and level for 15 minutes, with 75 %
of the power and all of it. Each is offered in the coolest and the warmest air of
--outside, or on its own day where the file gives it one. Both gauges are taken to
be read every half minute with their noise.

What would be learned follows from how margins and readings change with each
doubtful number, to first order, if the model is right in kind. Doubts and
correlations of a fit count when its overlay is laid over FILE with --over.

FILE is a scenario or the name of a built-in one; without it, the demo ` + demo + `.`,
		Example: examples(
			`hotclimb next rotary --flight same_climb --flight left_inlet_taped`,
			`hotclimb next seaplane --case hot_climb --flight as_it_is --outside "50..70 degF"`,
			`hotclimb next tug --flight as_it_is --outside 60degF --format csv`,
		),
		Args: atMost(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return p.next(cmd.Context(), file(args, demo), &f)
		},
	}
	f.scenarioFlags(cmd)
	cmd.Flags().StringVar(&f.outside, "outside", "", "the air at the field that can be had, `LOW..HIGH` or one temperature; from 15 K cooler than the case up to it when not given")
	cmd.Flags().StringArrayVar(&f.flights, "flight", nil, "only the flight of this `NAME` (repeatable)")
	f.studyFlags(cmd)
	return cmd
}

// next ranks flights and prints what came of it.
func (p *program) next(ctx context.Context, file string, f *nextFlags) error {
	if err := f.check(); err != nil {
		return err
	}
	o, study, err := f.prepareNext(file)
	if err != nil {
		return err
	}
	if err := f.makeFolder(file); err != nil {
		return err
	}
	bar := p.progress("parts", study.Parts(), f.noProgress)
	study.Done = bar.step
	o.found, err = study.Run(ctx)
	bar.end()
	if errors.Is(err, calibrate.ErrNoDoubts) {
		return badInputf("case %s: %w", o.target.Name, err)
	}
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

// nextOutcome is everything that next has to say.
type nextOutcome struct {
	origin
	target  scenarios.CaseScenario
	own     bool // the flights are of the file
	leftOut []calibrate.LeftOut
	found   *calibrate.NextTable
}

// prepareNext loads a scenario and makes the study of one of its cases. Flights
// may fly other cases, so all are loaded.
func (f *nextFlags) prepareNext(file string) (*nextOutcome, *calibrate.NextStudy, error) {
	if len(f.cases) > 1 {
		return nil, nil, badInputf("--case: next looks at the margins of one case; give one")
	}
	all := f.common
	all.cases = nil
	sc, cases, err := all.load(file)
	if err != nil {
		return nil, nil, err
	}
	target, err := f.target(cases)
	if err != nil {
		return nil, nil, err
	}
	air, err := f.air(cases[target].Scenario)
	if err != nil {
		return nil, nil, err
	}
	flights, leftOut, err := calibrate.NextFlights(sc, cases, target, air)
	if err != nil {
		return nil, nil, badInput{err}
	}
	o := &nextOutcome{origin: originOf(sc, cases[target:target+1]), target: cases[target], own: len(sc.Next) > 0}
	if flights, o.leftOut, err = f.chosen(flights, leftOut); err != nil {
		return nil, nil, err
	}
	return o, &calibrate.NextStudy{Target: o.target, Flights: flights, Workers: f.workers}, nil
}

// target is the number of the case whose margins count.
func (f *nextFlags) target(cases []scenarios.CaseScenario) (int, error) {
	var names []string
	for _, k := range cases {
		names = append(names, k.Name)
	}
	if len(f.cases) > 0 {
		if i := slices.Index(names, f.cases[0]); i >= 0 {
			return i, nil
		}
		return 0, badInputf("there is no case %s; give %s", f.cases[0], orList(names))
	}
	for i, k := range cases {
		if slices.ContainsFunc(k.Scenario.Flight.Legs, func(l *scenarios.Leg) bool { return l.Kind == "climb" }) {
			return i, nil
		}
	}
	return 0, nil
}

// air reads --outside.
func (f *nextFlags) air(sc *scenarios.Scenario) (calibrate.AirRange, error) {
	if f.outside == "" {
		return calibrate.AirRange{}, nil
	}
	param, err := sc.Compile("day.temperature")
	if err != nil {
		return calibrate.AirRange{}, err
	}
	v, err := scenarios.ParseVary(f.outside, param)
	switch {
	case err != nil:
		return calibrate.AirRange{}, badInputf("--outside: %w", err)
	case len(v.Values) == 1:
		return calibrate.AirRange{Given: true, Low: v.Values[0], High: v.Values[0]}, nil
	case v.Values != nil:
		return calibrate.AirRange{}, badInputf("--outside: %q is a list; write LOW..HIGH, as in 50..70degF, or one temperature", f.outside)
	}
	return calibrate.AirRange{Given: true, Low: v.Lo, High: v.Hi}, nil
}

// chosen are the flights of --flight, and what is left out of these.
func (f *nextFlags) chosen(flights []calibrate.NextFlight, leftOut []calibrate.LeftOut) ([]calibrate.NextFlight, []calibrate.LeftOut, error) {
	if len(f.flights) > 0 {
		var names []string
		why := map[string]string{}
		for _, x := range flights {
			if !slices.Contains(names, x.Name) {
				names = append(names, x.Name)
			}
		}
		for _, x := range leftOut {
			why[x.Name] = x.Why
		}
		for _, name := range f.flights {
			switch {
			case slices.Contains(names, name):
			case why[name] != "":
				return nil, nil, badInputf("--flight %s: %s", name, why[name])
			default:
				return nil, nil, badInputf("--flight %s: there is no such flight; there are %s", name, strings.Join(names, ", "))
			}
		}
		flights = slices.DeleteFunc(flights, func(x calibrate.NextFlight) bool { return !slices.Contains(f.flights, x.Name) })
		leftOut = nil
	}
	if len(flights) == 0 {
		return nil, nil, badInputf("no flight can be flown: list some in the section next")
	}
	return flights, leftOut, nil
}
