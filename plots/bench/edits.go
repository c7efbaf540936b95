package bench

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"hotclimb/scenarios"
)

// massPath is the path of the mass flown with, on which changes add their weight.
const massPath = "aircraft.mass"

// setting is a setting and the number of the edit that made it.
type setting struct {
	scenarios.CaseSetting
	edit int
}

// settled are edits as settings: of each path in each case the last one.
type settled struct {
	list   []setting
	weight float64 // of changes, on the mass [kg]
	heavy  int     // the last edit that added to it
}

// settle turns edits into settings. Paths in the sections day and flight count for
// the case of the edit, or the one that is shown; others for every case. A change
// counts for every case, as it does when changes are ranked: it sets its paths,
// and its weight comes on the mass unless it sets that itself. A mass that is
// typed later holds as it is typed.
func (s *server) settle(edits []Edit, shown string) (*settled, []Fault) {
	t := &settled{}
	var faults []Fault
	for i, e := range edits {
		if e.Change == "" {
			if e.Path == massPath {
				t.weight = 0
			}
			t.put(scenarios.CaseSetting{Case: s.scope(e, shown), Setting: scenarios.Setting{Path: e.Path, Text: e.Value}}, i)
			continue
		}
		c := s.change(e.Change)
		switch {
		case c == nil:
			faults = append(faults, Fault{Text: s.noChange(e.Change), Edit: i})
		case !slices.ContainsFunc(edits[i+1:], func(later Edit) bool { return later.Change == e.Change }):
			t.change(c, i)
		}
	}
	if t.weight != 0 {
		s.load(t)
	}
	return t, faults
}

// scope is the case that an edit of a path counts for, "" for every case.
func (s *server) scope(e Edit, shown string) string {
	section, _, _ := strings.Cut(e.Path, ".")
	if len(s.Scenario.Cases) == 0 || section != "day" && section != "flight" {
		return ""
	}
	if e.Case != "" {
		return e.Case
	}
	return shown
}

// put adds a setting; those that it overrules go.
func (t *settled) put(c scenarios.CaseSetting, edit int) {
	t.list = slices.DeleteFunc(t.list, func(old setting) bool {
		return old.Path == c.Path && (c.Case == "" || old.Case == c.Case)
	})
	t.list = append(t.list, setting{c, edit})
}

// change adds what a candidate change sets and weighs.
func (t *settled) change(c *scenarios.Change, edit int) {
	for _, one := range scenarios.Settings(c.Set) {
		t.put(scenarios.CaseSetting{Setting: one}, edit)
	}
	if _, ok := c.Set[massPath]; !ok && c.Weight.Value != 0 {
		t.weight += c.Weight.Value
		t.heavy = edit
	}
}

// load adds the weight of changes to the mass of every case.
func (s *server) load(t *settled) {
	p, err := s.filed[0].Scenario.Compile(massPath)
	if err != nil {
		return // no scenario is without a mass
	}
	loaded := make([]scenarios.CaseSetting, len(s.filed))
	for i, k := range s.filed {
		mass, _ := p.Get(k.Scenario)
		for _, one := range t.list {
			if one.Path != massPath {
				continue
			}
			if mass, err = scenarios.Parse(one.Text, p.Dimension); err != nil {
				return // a fault that is told
			}
		}
		loaded[i] = scenarios.CaseSetting{Case: k.Name, Setting: scenarios.Setting{Path: massPath, Text: heavier(mass, t.weight, p.Dimension)}}
	}
	alike := !slices.ContainsFunc(loaded, func(c scenarios.CaseSetting) bool { return c.Text != loaded[0].Text })
	if alike {
		loaded = loaded[:1]
		loaded[0].Case = ""
	}
	t.list = slices.DeleteFunc(t.list, func(old setting) bool { return old.Path == massPath })
	for _, c := range loaded {
		t.list = append(t.list, setting{c, t.heavy})
	}
}

// heavier is the text of a mass with some weight [kg] added, in the unit of the
// mass and with ten digits, which is more than any scale has.
func heavier(mass scenarios.Number, weight float64, d *scenarios.Dimension) string {
	x, err := scenarios.Convert(mass.Value+weight, mass.Unit, d)
	if err != nil {
		return scenarios.Exact(mass.Value+weight, "", d)
	}
	unit := mass.Unit
	if unit == "" {
		unit = d.SI
	}
	return strconv.FormatFloat(x, 'g', 10, 64) + " " + unit
}

// change is the candidate change of a name, nil when there is none.
func (s *server) change(name string) *scenarios.Change {
	for _, c := range s.Scenario.Changes {
		if c.Name == name {
			return c
		}
	}
	return nil
}

// noChange says that there is no change of a name, and which there are.
func (s *server) noChange(name string) string {
	var known []string
	for _, c := range s.Scenario.Changes {
		known = append(known, c.Name)
	}
	if len(known) == 0 {
		return fmt.Sprintf("there is no change %s: the scenario lists none", name)
	}
	return fmt.Sprintf("there is no change %s (known: %s)", name, strings.Join(known, ", "))
}

// caseSettings are the settings alone.
func (t *settled) caseSettings() []scenarios.CaseSetting {
	list := make([]scenarios.CaseSetting, len(t.list))
	for i, one := range t.list {
		list[i] = one.CaseSetting
	}
	return list
}

// key is the same for the same settings.
func (t *settled) key() string {
	return fmt.Sprintf("%q", t.caseSettings())
}

// keyOf is the key of a case, the same for the same settings that count for it.
func (t *settled) keyOf(name string) string {
	others := func(c scenarios.CaseSetting) bool { return c.Case != "" && c.Case != name }
	return fmt.Sprintf("%s %q", name, slices.DeleteFunc(t.caseSettings(), others))
}
