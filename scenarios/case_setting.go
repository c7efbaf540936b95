package scenarios

import "slices"

// CaseSetting is a setting of every case in which its path exists, or of one.
type CaseSetting struct {
	Case string // its name; "" for every case
	Setting
}

// WithCaseSettings is the scenario with settings written into it, in the order
// given: its cases are those of EffectiveCases with them. Of two that set the
// same, or exclude each other as area and width do, the later holds, as if the
// earlier were not there. Settings of a case itself, such as
// cases.taxi.day.temperature, lie below all others. The error is a Faults: what
// EffectiveCases says of settings of every case, and of the one case alone of
// the others.
func (sc *Scenario) WithCaseSettings(list []CaseSetting) (*Scenario, error) {
	s, err := sc.settle(list)
	if err != nil {
		return nil, err
	}
	if len(sc.Cases) == 0 {
		return sc.With(s.own[0])
	}
	written, err := sc.With(s.ofCases)
	if err != nil {
		return nil, err
	}
	for i, k := range s.cases {
		c := written.caseNamed(k.Name)
		c.Set = onTop(k.Scenario, c.Set, s.own[i])
	}
	return written, nil
}

// CasesWith are the cases of WithCaseSettings where only they are needed, in less
// time. Filed are those of EffectiveCases without settings, which stay as they are; a
// case that no setting touches is the filed one itself. The error is a Faults.
func (sc *Scenario) CasesWith(filed []CaseScenario, list []CaseSetting) ([]CaseScenario, error) {
	if slices.ContainsFunc(list, CaseSetting.ofCases) { // the filed ones will not do
		s, err := sc.settle(list)
		if err != nil {
			return nil, err
		}
		return s.cases, nil
	}
	s := &settled{cases: slices.Clone(filed)}
	faults := sc.unknownCases(casesOf(list))
	if len(faults) == 0 {
		faults = s.unknownPaths(list)
	}
	if err := faults.err(); err != nil {
		return nil, err
	}
	for i, k := range s.cases {
		if own := k.holding(list); len(own) > 0 {
			s.cases[i].Scenario = k.Scenario.Clone()
			faults = append(faults, s.cases[i].Scenario.put(own)...)
		}
	}
	return s.cases, faults.err()
}

// ofCases says that a setting is one of a case itself.
func (c CaseSetting) ofCases() bool { return c.Case == "" && inside(c.Path, "cases") }

// casesOf are the names of the cases that settings are for alone.
func casesOf(list []CaseSetting) []string {
	var names []string
	for _, c := range list {
		if c.Case != "" {
			names = append(names, c.Case)
		}
	}
	return names
}

// settled is what a list of settings comes to.
type settled struct {
	ofCases    []Setting      // of cases themselves
	everywhere []Setting      // the others of every case
	cases      []CaseScenario // all, with their settings applied
	own        [][]Setting    // of each case, those that hold in it
}

// settle applies settings to every case. The error is a Faults.
func (sc *Scenario) settle(list []CaseSetting) (*settled, error) {
	s := &settled{}
	for _, c := range list {
		switch {
		case c.ofCases():
			s.ofCases = append(s.ofCases, c.Setting)
		case c.Case == "":
			s.everywhere = append(s.everywhere, c.Setting)
		}
	}
	s.ofCases = sc.holding(s.ofCases)
	base := sc.Clone()
	faults := append(base.apply(s.ofCases), sc.unknownCases(casesOf(list))...)
	if err := faults.err(); err != nil {
		return nil, err
	}
	base.Refill()
	var err error
	if s.cases, err = base.choose(nil); err != nil {
		return nil, err
	}
	return s, s.apply(list).err()
}

// apply applies the settings of a list to the cases. Nothing is applied when a
// path is unknown.
func (s *settled) apply(list []CaseSetting) Faults {
	faults := s.unknownPaths(list)
	if len(faults) > 0 {
		return faults
	}
	for _, k := range s.cases {
		own := k.holding(list)
		s.own = append(s.own, own)
		faults = append(faults, k.Scenario.put(own)...)
	}
	return faults
}

// holding are the settings of a list that hold in a case.
func (k CaseScenario) holding(list []CaseSetting) []Setting {
	var settings []Setting
	for _, c := range list {
		if c.Case == k.Name || c.Case == "" && k.Scenario.has(c.Path) {
			settings = append(settings, c.Setting)
		}
	}
	return k.Scenario.holding(settings)
}

// unknownPaths tells paths that no case has, and those that their own case has
// not.
func (s *settled) unknownPaths(list []CaseSetting) Faults {
	var faults Faults
	for _, c := range list {
		if c.ofCases() {
			continue // told already
		}
		among := slices.DeleteFunc(slices.Clone(s.cases), func(k CaseScenario) bool { return c.Case != "" && k.Name != c.Case })
		if err := existsSomewhere(among, c.Path); err != nil {
			faults = append(faults, asFault(c.Path, err))
		}
	}
	return faults
}

// has says that a path stands for a number or a word of the scenario.
func (sc *Scenario) has(path string) bool {
	steps, in, err := resolve(path)
	return err == nil && Param{Path: path, steps: steps, in: in}.In(sc)
}

// holding are the settings that hold, in their order: those of which the path is
// not set again later, nor excluded by what is. A path that the scenario does
// not have excludes nothing.
func (sc *Scenario) holding(settings []Setting) []Setting {
	var kept []Setting
	later := map[string]bool{}    // paths
	member := map[string]string{} // of each group of alternatives, the one set last
	for _, s := range slices.Backward(settings) {
		group, m := sc.alternative(s.Path)
		last, given := member[group]
		if later[s.Path] || group != "" && given && last != m {
			continue
		}
		later[s.Path], member[group] = true, m
		kept = append(kept, s)
	}
	slices.Reverse(kept)
	return kept
}

// alternative is that of the parameter of a path; "" for none.
func (sc *Scenario) alternative(path string) (group, member string) {
	if !sc.has(path) {
		return "", ""
	}
	p, err := sc.Compile(path)
	if err != nil {
		return "", ""
	}
	return p.alternative()
}
