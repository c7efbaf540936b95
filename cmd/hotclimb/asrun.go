package main

import (
	"maps"
	"slices"
	"strings"

	"hotclimb/scenarios"
)

// asRun is the scenario as it was run: with the settings of the command line
// written into it, so that it flies the same without them. Settings come on top
// of those of a case; they are added to the settings of every case that was
// flown and in which their path exists.
func asRun(sc *scenarios.Scenario, cases []scenarios.CaseScenario, settings []scenarios.Setting) (*scenarios.Scenario, error) {
	if len(sc.Cases) == 0 {
		return sc.With(settings)
	}
	isOfCase := func(s scenarios.Setting) bool { return strings.HasPrefix(s.Path, "cases.") }
	onCases := slices.DeleteFunc(slices.Clone(settings), isOfCase)
	ofCases := slices.DeleteFunc(slices.Clone(settings), func(s scenarios.Setting) bool { return !isOfCase(s) })
	written, err := sc.With(ofCases)
	if err != nil {
		return nil, err
	}
	flown := map[string]*scenarios.Scenario{}
	for _, k := range cases {
		flown[k.Name] = k.Scenario
	}
	for _, k := range written.Cases {
		if c := flown[k.Name]; c != nil {
			k.Set = onTop(c, k.Set, onCases)
		}
	}
	return written, nil
}

// onTop adds settings to those of a case. Settings of the case that the new ones
// exclude are left out, as they were overruled.
func onTop(c *scenarios.Scenario, old map[string]string, settings []scenarios.Setting) map[string]string {
	set := map[string]string{}
	maps.Copy(set, old)
	for _, s := range settings {
		if _, err := c.Compile(s.Path); err != nil {
			continue
		}
		for path, text := range old {
			if _, err := c.With([]scenarios.Setting{{Path: path, Text: text}, s}); err != nil {
				delete(set, path)
			}
		}
		set[s.Path] = s.Text
	}
	return set
}
