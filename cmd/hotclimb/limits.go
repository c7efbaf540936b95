package main

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sweep/optimum"
	"hotclimb/sweep/uncertainty"
)

// limitsFlags are the flags of limits.
type limitsFlags struct {
	common
	leg        string
	speeds     string
	elevations string
	doubt      float64 // standard deviations
}

func (p *program) limitsCommand() *cobra.Command {
	var f limitsFlags
	cmd := &cobra.Command{
		Use:   "limits [FILE]",
		Short: "say what the pilot must know: how hot, how slow, how long",
		Long: `Finds the highest temperature at the field up to which a climb is unlimited, by
climb speed and field elevation; how many minutes it may last on hotter days; the
slowest climb that keeps the limits on the day of the file; and, where there is
water spray, how long it must run and how long it can.

A climb is unlimited when the whole flight of its case, as filed to its top,
passes no limit of coolant or oil and the coolant does not boil. With --out all
of it also comes as a card of one page, SVG and PDF.

FILE is a scenario or the name of a built-in one; without it, the demo ` + demo + ` flies.
--doubt K keeps K standard deviations of every margin on top of it, as they follow
from the doubts of the numbers in the file and their correlations, by the slopes
at each speed and elevation, which takes several times as long. Did margins follow
the numbers evenly, 1.64 would leave one chance in twenty that the margin which
decides is used up. They fall faster the hotter it gets, and there are other limits
beside: so the doubtful numbers of the climb as filed are also drawn, at its
highest temperature, and the chance to exceed each limit there is told.

The case is the first with a climb leg, or that of --case. The exit status is 3
when a limit is exceeded on the day of the file, by the flight as filed, without
any doubt.`,
		Example: examples(
			`hotclimb limits`,
			`hotclimb limits seaplane --case hot_climb`,
			`hotclimb limits tug --speeds "65, 70, 75 mph" --elevations "620 ft" --out tug_card`,
			`hotclimb limits tug --speeds "70 mph" --elevations "620 ft" --doubt 1`,
			`hotclimb limits rotary --elevations "1200, 3000 ft" --speeds "100..130 mph:4" --format csv`,
		),
		Args: atMost(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return p.limits(cmd.Context(), file(args, demo), &f)
		},
	}
	f.scenarioFlags(cmd)
	cmd.Flags().StringVar(&f.leg, "leg", "", "the climb is the leg of this `NAME`, not the one that gains most height")
	cmd.Flags().StringVar(&f.speeds, "speeds", "", "climb at these speeds: a `LIST` or LOW..HIGH:COUNT")
	cmd.Flags().StringVar(&f.elevations, "elevations", "", "start from fields this high: a `LIST` or LOW..HIGH:COUNT")
	cmd.Flags().Float64Var(&f.doubt, "doubt", 0, "keep `K` standard deviations of each margin on top")
	f.studyFlags(cmd)
	return cmd
}

// mostKept is how many standard deviations may be kept on top, as of a size.
const mostKept = 5

// check tells values of flags that no flag reader refuses.
func (f *limitsFlags) check() error {
	if len(f.cases) > 1 {
		return badInputf("--case: limits looks at one case; give one")
	}
	if !(f.doubt >= 0 && f.doubt <= mostKept) {
		return badInputf("--doubt %g: take 0 to %d standard deviations", f.doubt, mostKept)
	}
	return f.common.check()
}

// limits studies the climb of a scenario and prints what came of it.
func (p *program) limits(ctx context.Context, file string, f *limitsFlags) error {
	if err := f.check(); err != nil {
		return err
	}
	o, study, err := f.prepareLimits(file)
	if err != nil {
		return err
	}
	if err := f.makeFolder(file); err != nil {
		return err
	}
	bar := p.progress("parts", study.Parts(), f.noProgress)
	study.Done = bar.step
	o.table, err = optimum.Limits(ctx, *study)
	bar.end()
	if err != nil {
		return err
	}
	if err := o.draw(ctx, f); err != nil {
		return err
	}
	for _, text := range o.table.Filed.Warnings {
		p.warn([]warning{{o.table.Case, text}})
	}
	if f.out != "" {
		if err := o.writeFiles(f.out); err != nil {
			return err
		}
	}
	if err := p.print(o, f.format.word); err != nil {
		return err
	}
	return o.verdict()
}

// limitsOutcome is everything that limits has to say.
type limitsOutcome struct {
	origin
	others []string // cases with a climb that were not looked at
	table  *optimum.LimitTable
	spread *uncertainty.FlightSpread // of the climb as filed at its highest temperature; nil without doubt
}

// draw draws the doubtful numbers of the climb as filed at its highest
// temperature.
func (o *limitsOutcome) draw(ctx context.Context, f *limitsFlags) (err error) {
	if f.doubt == 0 || o.table.Hottest == nil {
		return nil
	}
	o.spread, err = uncertainty.OfFlight(ctx, o.table.Hottest, uncertainty.FlightSettings{
		Draws: chanceDraws, Seed: f.seed, Workers: f.workers,
	})
	if errors.Is(err, uncertainty.ErrNoDoubt) {
		return nil // all of it is of numbers that a climb sets
	}
	if err != nil {
		err = fmt.Errorf("case %s with its doubtful numbers drawn: %w", o.table.Case, err)
	}
	return err
}

// prepareLimits loads a scenario and makes the study of one of its cases.
func (f *limitsFlags) prepareLimits(file string) (*limitsOutcome, *optimum.LimitStudy, error) {
	sc, cases, err := f.load(file)
	if err != nil {
		return nil, nil, err
	}
	k, others, err := climbCase(cases)
	if err != nil {
		return nil, nil, err
	}
	o := &limitsOutcome{origin: originOf(sc, []scenarios.CaseScenario{*k}), others: others}
	if f.doubt > 0 {
		if _, err := doubtful(k.Name, k.Scenario); err != nil {
			return nil, nil, err
		}
	}
	study := &optimum.LimitStudy{Case: *k, Leg: f.leg, Doubt: f.doubt, Workers: f.workers}
	return o, study, f.rangesOf(study)
}

// climbCase is the first case with a climb leg, and the names of the others.
func climbCase(cases []scenarios.CaseScenario) (first *scenarios.CaseScenario, others []string, err error) {
	for i := range cases {
		switch {
		case len(optimum.ClimbLegs(cases[i].Scenario)) == 0:
		case first == nil:
			first = &cases[i]
		default:
			others = append(others, cases[i].Name)
		}
	}
	if first != nil {
		return first, others, nil
	}
	if len(cases) == 1 {
		return nil, nil, badInputf("case %s has no climb leg; name another case, or give it a leg of kind climb", cases[0].Name)
	}
	return nil, nil, badInputf("no case has a climb leg; give one a leg of kind climb")
}

// rangesOf reads the flags that say what is looked at.
func (f *limitsFlags) rangesOf(study *optimum.LimitStudy) error {
	legs := optimum.ClimbLegs(study.Case.Scenario)
	if f.leg != "" && !slices.Contains(legs, f.leg) {
		return badInputf("--leg %s: is no climb of case %s, which has %s", f.leg, study.Case.Name, strings.Join(legs, ", "))
	}
	var err error
	if study.Speeds, err = valuesOf(study.Case.Scenario, "--speeds", f.speeds, "flight.legs."+legs[0]+".speed"); err != nil {
		return err
	}
	study.Elevations, err = valuesOf(study.Case.Scenario, "--elevations", f.elevations, "day.elevation")
	return err
}

// valuesOf reads the values of a flag, which are values of a path.
func valuesOf(sc *scenarios.Scenario, flag, text, path string) ([]float64, error) {
	if text == "" {
		return nil, nil
	}
	param, err := sc.Compile(path)
	if err != nil {
		return nil, badInputf("%s: %w", flag, err)
	}
	v, err := scenarios.ParseVary(text, param)
	if err != nil {
		return nil, badInputf("%s: %w", flag, err)
	}
	if v.Values == nil {
		return nil, badInputf("%s: %q has no number of values; write LOW..HIGH:COUNT, or a list", flag, text)
	}
	return v.Values, nil
}

// verdict is the error that says how the climb as filed ended.
func (o *limitsOutcome) verdict() error {
	switch filed := o.table.Filed; {
	case filed.Status == sim.OverLimit || filed.Margin < 0:
		return errOverLimit
	case filed.Trouble != "":
		return fmt.Errorf("case %s as filed: %s", o.table.Case, filed.Trouble)
	}
	return nil
}
