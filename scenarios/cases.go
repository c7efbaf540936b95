package scenarios

import (
	"cmp"
	"fmt"
	"reflect"
	"slices"
)

// onlyCase is the name of the one case of a scenario without cases.
const onlyCase = "flight"

// CaseScenario is the effective scenario of one case.
type CaseScenario struct {
	Name     string
	Title    string // one line for people, may be empty
	Scenario *Scenario
}

// CaseNames are the names of the cases in the order of the file. A scenario
// without cases has one, named flight.
func (sc *Scenario) CaseNames() []string {
	if len(sc.Cases) == 0 {
		return []string{cmp.Or(sc.ofCase, onlyCase)}
	}
	names := make([]string, len(sc.Cases))
	for i, k := range sc.Cases {
		names[i] = k.Name
	}
	return names
}

// Case returns the effective scenario of a case: the day and the flight of the
// case in place of those of the file, its settings applied, and no cases left.
func (sc *Scenario) Case(name string) (*Scenario, error) {
	c, faults := sc.effective(name)
	if err := faults.err(); err != nil {
		return nil, err
	}
	if err := c.check(nil).err(); err != nil {
		return nil, err
	}
	return c, nil
}

// effective is Case without the checks of the whole.
func (sc *Scenario) effective(name string) (*Scenario, Faults) {
	k := sc.caseNamed(name)
	if k == nil {
		return nil, Faults{{Message: fmt.Sprintf("there is no case %s", name), Hint: didYouMean(name, sc.CaseNames())}}
	}
	c := sc.bare()
	c.ofCase = name
	if k.Day != nil {
		c.Day = *k.Day
		c.moved(join("cases", name), "day")
	}
	if k.Flight != nil {
		c.Flight = *k.Flight
		deepen(reflect.ValueOf(&c.Flight).Elem(), root().byKey["flight"].sub)
		c.moved(join("cases", name), "flight")
	}
	faults := c.apply(Settings(k.Set))
	c.Refill()
	return c, faults
}

// bare is a deep copy without cases and studies.
func (sc *Scenario) bare() *Scenario {
	c := *sc
	c.Cases, c.Changes, c.Sweep, c.Size, c.Tests, c.Fit, c.Next = nil, nil, nil, nil, nil, nil, nil
	c.legs = sc.legNames()
	return c.Clone()
}

// moved notes that a section has come from elsewhere in place of its own.
func (sc *Scenario) moved(from, section string) {
	sc.filled = movedPaths(sc.filled, join(from, section), section)
	sc.where = movedPaths(sc.where, join(from, section), section)
}

// movedPaths returns paths with those of one section in place of another's.
func movedPaths[M ~map[string]V, V any](paths M, from, to string) M {
	result := make(M, len(paths))
	for path, v := range paths {
		if !inside(path, to) {
			result[path] = v
		}
	}
	for path, v := range paths {
		if inside(path, from) {
			result[to+path[len(from):]] = v
		}
	}
	return result
}

// caseNamed is the case of a name, nil when there is none.
func (sc *Scenario) caseNamed(name string) *Case {
	if len(sc.Cases) == 0 && name == sc.CaseNames()[0] {
		return &Case{Name: name}
	}
	i := slices.IndexFunc(sc.Cases, func(k *Case) bool { return k.Name == name })
	if i < 0 {
		return nil
	}
	return sc.Cases[i]
}

// EffectiveCases returns the effective scenarios of some cases, all when none is
// named, in the order of the file. The settings come on top of those of the case;
// each is applied to the cases in which its path exists, and must exist in one
// at least. Settings of a case itself, such as cases.taxi.day.temperature,
// are applied to that case. The error is a Faults.
func (sc *Scenario) EffectiveCases(names []string, settings []Setting) ([]CaseScenario, error) {
	ofCases, others := ofCasesAndOthers(settings)
	base := sc.Clone()
	faults := base.apply(ofCases)
	faults = append(faults, sc.unknownCases(names)...)
	if err := faults.err(); err != nil {
		return nil, err
	}
	base.Refill()
	chosen, err := base.choose(names)
	if err != nil {
		return nil, err
	}
	if err := applyAll(chosen, others).err(); err != nil {
		return nil, err
	}
	return chosen, nil
}

func (sc *Scenario) unknownCases(names []string) Faults {
	var faults Faults
	known := sc.CaseNames()
	for _, name := range names {
		if !slices.Contains(known, name) {
			faults = append(faults, Fault{Message: "there is no case " + cmp.Or(name, `""`), Hint: didYouMean(name, known)})
		}
	}
	return faults
}

// choose returns the cases of some names, in the order of the file.
func (sc *Scenario) choose(names []string) ([]CaseScenario, error) {
	var chosen []CaseScenario
	for _, name := range sc.CaseNames() {
		if len(names) > 0 && !slices.Contains(names, name) {
			continue
		}
		c, faults := sc.effective(name)
		if err := faults.err(); err != nil {
			return nil, err
		}
		chosen = append(chosen, CaseScenario{name, sc.caseNamed(name).Title, c})
	}
	return chosen, nil
}

// applyAll applies settings to the cases in which their paths exist, and checks
// each case.
func applyAll(chosen []CaseScenario, settings []Setting) Faults {
	var faults Faults
	for _, s := range settings {
		if err := existsSomewhere(chosen, s.Path); err != nil {
			faults = append(faults, asFault(s.Path, err))
		}
	}
	if len(faults) > 0 {
		return faults
	}
	for _, k := range chosen {
		own := slices.DeleteFunc(slices.Clone(settings), func(s Setting) bool { return !k.Scenario.has(s.Path) })
		faults = append(faults, k.Scenario.put(own)...)
	}
	return faults
}

// put applies settings to an effective scenario itself and checks it.
func (sc *Scenario) put(settings []Setting) Faults {
	if faults := sc.apply(settings); len(faults) > 0 {
		return faults
	}
	sc.Refill()
	return sc.checkSet(settings)
}

// existsSomewhere is the error of compiling a path when it is unknown in every
// case.
func existsSomewhere(chosen []CaseScenario, path string) error {
	if slices.ContainsFunc(chosen, func(k CaseScenario) bool { return k.Scenario.has(path) }) {
		return nil
	}
	var nearest error
	for _, k := range chosen {
		_, err := k.Scenario.Compile(path)
		nearest = nearer(path, nearest, err)
	}
	return nearest
}
