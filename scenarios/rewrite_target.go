package scenarios

import "slices"

// target is a number or a word and where a file shall give it.
type target struct {
	steps  []string // keys of the sections and names in them, from the top
	key    string
	rivals []string // keys beside it that exclude it
	text   string
}

// ofSections are the settings that shall stand in the sections of the file
// itself. An exchanger that is moved to the other circuit keeps the liquid it
// was rated with.
func (sc *Scenario) ofSections(s *settled) []Setting {
	settings := s.everywhere
	if len(sc.Cases) == 0 {
		settings = s.own[0]
	}
	var in []Setting
	for _, set := range sc.holding(settings) {
		if sc.has(set.Path) {
			in = append(in, set)
		}
	}
	for _, name := range sc.exchangerOrder {
		x, path := sc.Exchangers[name], join("exchangers", name)
		serves, moved := valueOf(in, join(path, "serves"))
		rated := join(path, "rated_with")
		if _, given := valueOf(in, rated); moved && serves != x.Serves && sc.filled[rated] && !given {
			in = append(in, Setting{rated, x.RatedWith})
		}
	}
	return in
}

// valueOf is the text that settings give a path.
func valueOf(settings []Setting, path string) (text string, given bool) {
	i := slices.IndexFunc(settings, func(s Setting) bool { return s.Path == path })
	if i < 0 {
		return "", false
	}
	return settings[i].Text, true
}

// targets are the places of all settings: those of cases themselves, those in the
// sections of the file, and in each case what it does not take from these.
func (sc *Scenario) targets(s *settled, inSections []Setting) []target {
	var list []target
	for _, set := range slices.Concat(s.ofCases, inSections) {
		list = append(list, sc.inSection(nil, set))
	}
	if len(sc.Cases) == 0 {
		return list
	}
	for i, k := range s.cases {
		for _, set := range s.own[i] {
			if t, needed := sc.inCase(k, set, inSections); needed {
				list = append(list, t)
			}
		}
	}
	return list
}

// inSection is the place of a setting in its section, below some steps.
func (sc *Scenario) inSection(below []string, set Setting) target {
	steps, _, _ := resolve(set.Path)
	t := target{steps: slices.Clone(below), text: set.Text}
	last := len(steps) - 1
	for _, st := range steps[:last] {
		t.steps = append(t.steps, st.field.key)
		if st.name != "" {
			t.steps = append(t.steps, st.name)
		}
	}
	t.key = steps[last].field.key
	for _, rival := range steps[last].field.rivals {
		t.rivals = append(t.rivals, rival.key)
	}
	return t
}

// inCase is the place of a setting in a case; it needs none when it comes from
// the sections of the file. A number that the set of the case gives, or one that
// it gives and the setting excludes, is set there.
func (sc *Scenario) inCase(k CaseScenario, set Setting, inSections []Setting) (t target, needed bool) {
	filed := sc.caseNamed(k.Name)
	at := []string{"cases", k.Name}
	rivals := excluded(k.Scenario, filed.Set, set.Path)
	_, overrides := filed.Set[set.Path]
	overrides = overrides || len(rivals) > 0
	replaced := filed.Day != nil && inside(set.Path, "day") || filed.Flight != nil && inside(set.Path, "flight")
	switch {
	case !overrides && replaced:
		return sc.inSection(at, set), true
	case !overrides && slices.Contains(inSections, set):
		return target{}, false
	}
	return target{append(at, "set"), set.Path, rivals, set.Text}, true
}

// excluded are the paths of a set that another path excludes, sorted.
func excluded(c *Scenario, set map[string]string, path string) []string {
	group, member := c.alternative(path)
	if group == "" {
		return nil
	}
	var paths []string
	for _, s := range Settings(set) {
		if g, m := c.alternative(s.Path); g == group && m != member {
			paths = append(paths, s.Path)
		}
	}
	return paths
}
