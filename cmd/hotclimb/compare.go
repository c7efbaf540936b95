package main

import (
	"context"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"hotclimb/plots"
	"hotclimb/scenarios"
	"hotclimb/sweep/calibrate"
)

// compareFlags are the flags of compare.
type compareFlags struct {
	common
	recordFlags
	baseline string
	scatter  string
	level    float64
}

// usualLevel is the probability that all intervals hold, unless said otherwise.
const usualLevel = 0.95

// recordsDemo is the built-in scenario that has flight records.
const recordsDemo = "rotary"

func (p *program) compareCommand() *cobra.Command {
	var f compareFlags
	cmd := &cobra.Command{
		Use:   "compare [FILE]",
		Short: "say whether what was changed between test flights made a difference",
		Long: `Brings the flight records of two or more configurations to one day, speed and
power with the model, and says by how many degrees they differ, within which
interval, and whether that is real or not distinguishable from noise - and then,
how many more flights would settle it.

Flight records with the same set are repeats of one configuration, in whatever
units it is written; day, flight and gauges in it do not count. The first record is the baseline, or that of
--baseline. All are brought to the first case, or that of --case: its day and its
flight, flown with each configuration. A change that the model has no number for
is told apart by setting any number to what it is already.

Intervals hold all at once with the probability --level. Flights of one
configuration are supposed to scatter by --scatter beyond the noise of the
gauges; repeats correct that.`,
		Example: examples(
			`hotclimb compare rotary`,
			`hotclimb compare rotary --baseline wide_ring --scatter "3 ddegF"`,
			`hotclimb compare rotary --test baseline --test wide_ring --out compared --format json`,
		),
		Args: atMost(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return p.compare(cmd.Context(), file(args, recordsDemo), &f)
		},
	}
	f.scenarioFlags(cmd)
	f.add(cmd)
	s := cmd.Flags()
	s.StringVar(&f.baseline, "baseline", "", "compare with the configuration of the flight record `NAME`")
	s.StringVar(&f.scatter, "scatter", "", "flights scatter by this `DIFFERENCE`, one standard deviation, as 2 ddegF or 1 K (2 ddegF)")
	s.Float64Var(&f.level, "level", usualLevel, "`PROBABILITY` that all intervals hold")
	f.studyFlags(cmd)
	return cmd
}

// compare compares the configurations of flight records and prints what came of it.
func (p *program) compare(ctx context.Context, file string, f *compareFlags) error {
	set, err := f.settingsOf()
	if err != nil {
		return err
	}
	if len(f.cases) > 1 {
		return badInputf("--case: compare brings all to one case; give one")
	}
	records, err := f.records(ctx, file, &f.recordFlags)
	if err != nil {
		return err
	}
	list, err := f.configurations(records)
	if err != nil {
		return err
	}
	if err := f.makeFolder(file); err != nil {
		return err
	}
	p.warn(records.warnings())
	o := records.comparison(list)
	bar := p.progress("flights", o.parts(), f.noProgress)
	set.Done = bar.step
	o.Comparison, err = calibrate.Compare(ctx, list, *set)
	bar.end()
	if err != nil {
		return err
	}
	if f.out != "" {
		if err := o.writeFiles(f.out, records); err != nil {
			return err
		}
	}
	return p.print(o, f.format.word)
}

// comparison is one of configurations before it is made.
func (s *recordSet) comparison(list []calibrate.Configuration) *comparison {
	return &comparison{origin: originOf(s.scenario, s.cases[:1]), reference: s.cases[0], list: list}
}

// parts is how many flights it takes.
func (o *comparison) parts() int {
	parts := 0
	for _, c := range o.list {
		parts += c.Parts()
	}
	return parts
}

// settingsOf reads the flags that say how to compare.
func (f *compareFlags) settingsOf() (*calibrate.CompareSettings, error) {
	if err := f.check(); err != nil {
		return nil, err
	}
	if !(f.level >= 0.5 && f.level <= 0.999) {
		return nil, badInputf("--level %g: give a probability from 0.5 to 0.999", f.level)
	}
	set := &calibrate.CompareSettings{Level: f.level, Workers: f.workers}
	if f.scatter != "" {
		n, err := scenarios.Parse(f.scatter, scenarios.DimensionOf[scenarios.Difference]())
		if err != nil {
			return nil, badInputf("--scatter: %w", err)
		}
		if n.Value < 0.1 || n.Value > 20 {
			return nil, badInputf("--scatter %s: give 0.1 K to 20 K", f.scatter)
		}
		set.Scatter = n.Value
	}
	return set, nil
}

// configurations gathers records that were built alike. The baseline comes first.
func (f *compareFlags) configurations(s *recordSet) ([]calibrate.Configuration, error) {
	var list []calibrate.Configuration
	baseline := 0
	var names []string
	for _, r := range s.records {
		i := slices.IndexFunc(list, func(c calibrate.Configuration) bool { return builtAlike(c.Records[0], r) })
		if i < 0 {
			i = len(list)
			reference, err := f.reference(s, r.Name, built(r.Test.Set))
			if err != nil {
				return nil, badInput{err}
			}
			list = append(list, calibrate.Configuration{Name: r.Name, Reference: reference})
		}
		list[i].Records = append(list[i].Records, r)
		names = append(names, r.Name)
		if r.Name == f.baseline {
			baseline = i
		}
	}
	if f.baseline != "" && !slices.Contains(names, f.baseline) {
		return nil, badInputf("--baseline %s: no such flight record is compared (%s)", f.baseline, didYouMean(f.baseline, names))
	}
	if len(list) < 2 {
		return nil, badInputf("%s of one configuration: nothing to compare; give another flight record, with a set that says what was different", counted(len(names), "flight record"))
	}
	first := list[baseline]
	return slices.Insert(slices.Delete(list, baseline, baseline+1), 0, first), nil
}

// reference is the first case with a configuration. A case that sets a number
// which a configuration sets too would differ from the others by that as well.
func (f *compareFlags) reference(s *recordSet, test string, own map[string]string) (*scenarios.Scenario, error) {
	k := s.cases[0]
	settings, err := f.settings()
	if err != nil {
		return nil, err
	}
	filed, err := s.scenario.AsFlown(&scenarios.Test{}, settings)
	if err != nil {
		return nil, err
	}
	for _, set := range scenarios.Settings(own) {
		p, err := k.Scenario.Compile(set.Path)
		if err != nil {
			return nil, err
		}
		if here, there := p.Text(k.Scenario), p.Text(filed); here != there {
			return nil, fmt.Errorf("case %s has %s %s, not %s, and test %s sets it too; name another case with --case", k.Name, set.Path, plots.Pretty(here), plots.Pretty(there), test)
		}
	}
	return k.Scenario.With(scenarios.Settings(own))
}

// built is what of a set was built: without how it was flown and read.
func built(set map[string]string) map[string]string {
	own := maps.Clone(set)
	maps.DeleteFunc(own, func(path, _ string) bool {
		section, _, _ := strings.Cut(path, ".")
		return section == "day" || section == "flight" || section == "gauges"
	})
	return own
}

// builtAlike says that two records set the same paths to the same, in whatever
// units that is written.
func builtAlike(a, b *calibrate.Record) bool {
	one, other := built(a.Test.Set), built(b.Test.Set)
	if len(one) != len(other) {
		return false
	}
	for path := range one {
		if _, ok := other[path]; !ok || !sameThere(path, a.Scenario, b.Scenario, true) {
			return false
		}
	}
	return true
}

// sameThere says that two aircraft have the same word or number at a path, and, where
// it matters, in the same doubt.
func sameThere(path string, a, b *scenarios.Scenario, doubt bool) bool {
	p, err := a.Compile(path)
	if err != nil {
		return false
	}
	m, known := p.Get(a)
	n, other := p.Get(b)
	if !known || !other {
		return p.Text(a) == p.Text(b)
	}
	return equalNumbers(m.Value, n.Value) && (!doubt || equalNumbers(m.Doubt, n.Doubt))
}

// equalNumbers says that numbers differ by no more than the rounding of units.
func equalNumbers(a, b float64) bool { return math.Abs(a-b) <= 1e-9*max(math.Abs(a), math.Abs(b)) }
