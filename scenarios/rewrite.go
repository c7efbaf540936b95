package scenarios

import (
	"errors"
	"fmt"
	"reflect"
	"slices"
)

// Rewrite returns the text of a scenario file with settings written into it. It
// changes as little of the text as it can: comments, order, blank lines, line
// ends and quotes stay.
//
// A setting of every case goes where the file gives the number, and into the
// cases that have a value of their own for it. A setting of one case goes into
// the day or the flight of that case when it has its own, and else into its set.
// What the new one excludes, as area excludes width, stays on as a comment; it
// is dropped in braces. A path that has lost its doubt is taken out of the fit
// in the same way.
//
// The result is loaded and compared before it is returned: each of its cases is
// that of WithCaseSettings, and its studies are those of the file. The error is
// a Faults when the file or the settings have faults; else it says why the file
// cannot hold the settings, as when a change of the file would break them.
func Rewrite(file []byte, list []CaseSetting) ([]byte, error) {
	sc, err := Load(Source{Text: file})
	if err != nil {
		return nil, err
	}
	s, err := sc.settle(list)
	if err != nil {
		return nil, err
	}
	text, err := sc.rewritten(file, s, sc.ofSections(s))
	if err != nil && len(sc.Cases) > 0 {
		// the sections may only be in order with the settings of each case
		if inCases, again := sc.rewritten(file, s, nil); again == nil {
			return inCases, nil
		}
	}
	return text, err
}

// rewritten writes settings into a file: inSections into its sections, and into
// the cases what they then lack.
func (sc *Scenario) rewritten(file []byte, s *settled, inSections []Setting) ([]byte, error) {
	d := &draft{text: slices.Clone(file)}
	for _, t := range sc.targets(s, inSections) {
		if err := d.put(t); err != nil {
			return nil, err
		}
	}
	for _, path := range sc.unfit(s, inSections) {
		if err := d.dropFit(path); err != nil {
			return nil, err
		}
	}
	if err := d.flush(); err != nil {
		return nil, err
	}
	if err := sc.compare(d.text, s); err != nil {
		return nil, err
	}
	return d.text, nil
}

// errDiffers is the error of a file whose form is beyond Rewrite.
var errDiffers = errors.New("the settings cannot be written into this file without writing it anew: change it by hand")

// compare checks that a rewritten file holds the settled cases and the studies
// of the scenario.
func (sc *Scenario) compare(text []byte, s *settled) error {
	got, err := Load(Source{Text: text})
	if err != nil {
		return fmt.Errorf("the file cannot hold these settings, for with them it has a fault: %w", err)
	}
	cases, err := got.EffectiveCases(nil, nil)
	if err != nil {
		return fmt.Errorf("the file cannot hold these settings, for with them it has a fault: %w", err)
	}
	same := slices.EqualFunc(cases, s.cases, func(a, b CaseScenario) bool {
		return a.Name == b.Name && a.Title == b.Title && a.Scenario.SHA256() == b.Scenario.SHA256()
	})
	if !same || !reflect.DeepEqual(got.studies(), sc.studies()) {
		return errDiffers
	}
	return nil
}

// studies are the sections of a scenario that no setting reaches.
func (sc *Scenario) studies() []any {
	return []any{sc.Changes, sc.Sweep, sc.Size, sc.Tests, sc.Next, sc.Correlations}
}

// unfit are the paths of the fit that have no doubt any more once settings have
// been written into the sections.
func (sc *Scenario) unfit(s *settled, inSections []Setting) []string {
	if sc.Fit == nil || len(inSections) == 0 {
		return nil
	}
	base := sc.Clone()
	base.apply(inSections)
	base.Refill()
	variants := []*Scenario{base}
	for _, k := range s.cases {
		variants = append(variants, k.Scenario)
	}
	c := &studyChecker{checker: checker{sc: base}, variants: variants}
	c.fit()
	paths := make([]string, len(c.faults))
	for i, f := range c.faults {
		paths[i] = f.Path[len("fit.paths."):]
	}
	return paths
}
