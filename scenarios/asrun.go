package scenarios

import (
	"maps"
)

// AsRun is the scenario as it was run: with the settings of EffectiveCases
// written into it, so that what it gave, flown, follows without them. Settings
// come on top of those of a case; they are added to those of every case that
// was flown and in which their path exists. The error is a Faults.
func (sc *Scenario) AsRun(flown []CaseScenario, settings []Setting) (*Scenario, error) {
	if len(sc.Cases) == 0 {
		return sc.With(settings)
	}
	ofCases, others := ofCasesAndOthers(settings)
	written, err := sc.With(ofCases)
	if err != nil {
		return nil, err
	}
	for _, k := range flown {
		c := written.caseNamed(k.Name)
		c.Set = onTop(k.Scenario, c.Set, others)
	}
	return written, nil
}

// ofCasesAndOthers are the settings of cases themselves, such as
// cases.taxi.day.temperature, and those that come on top of every case.
func ofCasesAndOthers(settings []Setting) (ofCases, others []Setting) {
	for _, s := range settings {
		if inside(s.Path, "cases") {
			ofCases = append(ofCases, s)
		} else {
			others = append(others, s)
		}
	}
	return ofCases, others
}

// onTop adds settings to those of the case that gave c. Settings of the case
// that the new ones exclude are left out, as they were overruled.
func onTop(c *Scenario, old map[string]string, settings []Setting) map[string]string {
	set := maps.Clone(old)
	for _, s := range settings {
		if !c.has(s.Path) {
			continue
		}
		if set == nil {
			set = map[string]string{}
		}
		for _, path := range excluded(c, set, s.Path) {
			delete(set, path)
		}
		set[s.Path] = s.Text
	}
	return set
}
