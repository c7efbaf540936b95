package main

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"github.com/spf13/cobra"
	"hotclimb/plots"
	"hotclimb/scenarios"
	"hotclimb/sweep/calibrate"
)

// fitFlags are the flags of fit alone.
type fitFlags struct {
	recordFlags
	paths []string
	loss  choice
	write string
}

// losses are the words for what readings far out count.
var losses = map[string]calibrate.LossKind{"squares": calibrate.Squares, "huber": calibrate.Huber, "cauchy": calibrate.Cauchy}

// fitted is everything fit has to say.
type fitted struct {
	*calibrate.Calibrated
	set *recordSet
	origin
	base    *scenarios.Scenario // with its doubts before the records
	file    string
	over    []string
	loss    string
	advised []advice // a flight for each of Blind, where one helps
	caveats []warning
}

func (p *program) fitCommand() *cobra.Command {
	var c common
	var f fitFlags
	cmd := &cobra.Command{
		Use:   "fit [FILE]",
		Short: "sharpen doubtful numbers by flight records",
		Long: `Finds the numbers that make the model agree with all flight records together,
starting from what was known of them: a number that carries a doubt, as in
0.60 ± 0.10, may move, and a reading counts by the noise of its gauge. It says how
much sharper each number is now, which numbers the flights cannot tell apart and
which flight would, and whether the readings scatter around the model as their
noise says.

--write, or --out, writes an overlay for --over with the numbers found, the doubts
that are left and how they go together; every study of doubt takes these. Fit new
records on top of it with --test, not the same ones again: they would count twice.

Without --path it fits what the section fit of the scenario names, or else every
doubtful number that moves a reading by a twentieth of its noise.`,
		Example: examples(
			`hotclimb fit rotary --test baseline --path engine.heat_to_oil --path gauges.oil.bias`,
			`hotclimb fit rotary --test baseline --loss huber --write fitted.yaml`,
		),
		Args: atMost(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return p.fit(cmd.Context(), file(args, recordDemo), &c, &f)
		},
	}
	c.scenarioFlags(cmd)
	f.add(cmd)
	c.studyFlags(cmd)
	return cmd
}

// recordDemo is the built-in scenario that is taken without a FILE.
const recordDemo = "rotary"

// add adds the flags.
func (f *fitFlags) add(cmd *cobra.Command) {
	f.recordFlags.add(cmd)
	s := cmd.Flags()
	s.StringArrayVar(&f.paths, "path", nil, "sharpen the number of this `PATH` (repeatable)")
	f.loss = choice{"", []string{"squares", "huber", "cauchy"}}
	s.Var(&f.loss, "loss", "readings far out count by `WORD`: squares, or huber or cauchy for less")
	s.StringVar(&f.write, "write", "", "write what was found as an overlay `FILE` for --over")
}

// fit fits numbers to flight records and prints what came of it.
func (p *program) fit(ctx context.Context, file string, c *common, f *fitFlags) error {
	if err := c.check(); err != nil {
		return err
	}
	if err := f.checkWrite(file, c); err != nil {
		return err
	}
	z, study, err := f.prepare(ctx, file, c)
	if err != nil {
		return err
	}
	if err := c.makeFolder(file); err != nil {
		return err
	}
	bar := p.progress("flights", flightsOfFit(study), c.noProgress)
	study.Flown = bar.step
	z.Calibrated, err = study.Find(ctx)
	if err == nil {
		err = z.advise(ctx, c.workers)
	}
	bar.end()
	if err != nil {
		return asInput(ctx, err)
	}
	if err := z.writeAll(c.out, f.write); err != nil {
		return err
	}
	p.warn(z.warnings())
	return p.print(z, c.format.word)
}

// flightsOfFit is about how many flights a fit takes: half of them linearise, and
// a number moves every record.
func flightsOfFit(study *calibrate.Calibration) int {
	return 6 * len(study.Records) * max(10, len(study.Paths))
}

// asInput makes bad input of an error that the user can mend in the file.
func asInput(ctx context.Context, err error) error {
	var unknown *scenarios.UnknownPath
	switch {
	case ctx.Err() != nil:
		return ctx.Err()
	case errors.As(err, &unknown), errors.Is(err, calibrate.ErrNothingToFit), errors.As(err, new(*calibrate.NotToFit)):
		return badInput{err}
	}
	return err
}

// prepare reads the records and gathers what is asked of them.
func (f *fitFlags) prepare(ctx context.Context, file string, c *common) (*fitted, *calibrate.Calibration, error) {
	sc, _, err := c.load(file)
	if err != nil {
		return nil, nil, err
	}
	asked := scenarios.Fit{Loss: "squares"}
	if sc.Fit != nil {
		asked = *sc.Fit
	}
	if len(f.tests)+len(f.logs) == 0 {
		f.tests = asked.Tests
	}
	if f.loss.word != "" {
		asked.Loss = f.loss.word
	}
	set, err := c.records(ctx, file, &f.recordFlags)
	if err != nil {
		return nil, nil, err
	}
	settings, err := c.settings()
	if err != nil {
		return nil, nil, err
	}
	z := &fitted{set: set, origin: originOf(set.scenario, set.cases), file: file, over: c.over, loss: asked.Loss}
	if z.base, err = sc.AsFlown(&scenarios.Test{}, settings); err != nil {
		return nil, nil, badInput{err}
	}
	study := &calibrate.Calibration{
		Scenario: z.base, Records: set.records, Paths: f.paths, Supposed: supposed,
		Loss: calibrate.Loss{Kind: losses[asked.Loss]}, Workers: c.workers,
	}
	if len(f.paths) == 0 {
		study.Paths = z.doubtful(asked.Paths)
	}
	return z, study, nil
}

// supposed are the doubts of the gauges' numbers that have none when they are
// asked for: 2 K, and 10 s. Engineering judgement: a cheap gauge, and a sensor in
// a well of its own.
var supposed = map[string]float64{
	"gauges.coolant.bias": 2, "gauges.oil.bias": 2, "gauges.coolant.lag": 10, "gauges.oil.lag": 10,
}

// doubtful are the paths of the section fit that carry a doubt. One that was set
// since is known; it is told.
func (z *fitted) doubtful(paths []string) []string {
	return slices.DeleteFunc(slices.Clone(paths), func(path string) bool {
		q, err := z.base.Compile(path)
		if err != nil {
			return false // the fit tells it
		}
		n, ok := q.Get(z.base)
		if ok && n.Doubt == 0 {
			z.caveats = append(z.caveats, warning{"", fmt.Sprintf("%s is set without a doubt, so it is known and not fitted", path)})
		}
		return ok && n.Doubt == 0
	})
}

// warnings are what a reader must know of the records and of the fit.
func (z *fitted) warnings() []warning {
	list := append(z.set.warnings(), z.caveats...)
	if z.Solution.Status == calibrate.OutOfIterations {
		list = append(list, warning{"", "the search used up its steps before it came to an end: fit fewer numbers, or look for a gauge or a reading that is wrong"})
	}
	for i := range z.Numbers {
		n := &z.Numbers[i]
		if n.Supposed {
			list = append(list, warning{"", fmt.Sprintf("%s carries no doubt in the scenario; %s is supposed: give yours as \"%s=VALUE ± DOUBT\"", n.Param.Path, plots.Pretty(scenarios.Number{Value: n.Before, Doubt: n.Doubt, Unit: n.Unit}.Format(n.Param.Dimension)), n.Param.Path)})
		}
		if n.Joined {
			list = append(list, warning{"", fmt.Sprintf("%s is fitted too: its doubt goes together with that of a number asked for", n.Param.Path)})
		}
		if len(n.Elsewhere) == len(z.set.records) {
			list = append(list, warning{"", fmt.Sprintf("%s was set in every one of these tests, so they teach nothing about it", n.Param.Path)})
		}
	}
	return append(list, z.ofCases()...)
}

// ofCases tells numbers that a case sets itself, which come on top of the overlay.
func (z *fitted) ofCases() []warning {
	var list []warning
	for i := range z.Numbers {
		path := z.Numbers[i].Param.Path
		for _, k := range z.scenario.Cases {
			if _, sets := k.Set[path]; sets {
				list = append(list, warning{k.Name, fmt.Sprintf("this case sets %s itself, so the number found does not reach it", path)})
			}
		}
	}
	return list
}
