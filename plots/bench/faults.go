package bench

import (
	"errors"
	"slices"
	"sort"

	"hotclimb/scenarios"
)

// Fault is one thing that is wrong with the edits.
type Fault struct {
	Path string `json:"path"` // of the number, word or section; "" for none
	Text string `json:"text"` // as the command check has it
	Edit int    `json:"edit"` // the number of the edit it comes from, -1 for none

	Pinned bool `json:"pinned,omitempty"` // it is one of the pinned state
}

// blame gives every fault the edit that it comes from: the one that has it alone,
// or else the one without which there would be none.
func (s *server) blame(err error, t *settled, edits []Edit, shown string) []Fault {
	var list []Fault
	culprit := -1
	for _, f := range faultsOf(err) {
		fault := Fault{Path: f.Path, Text: textOf(f), Edit: s.setter(t, f)}
		if fault.Edit < 0 {
			if culprit < 0 {
				culprit = s.culprit(edits, shown)
			}
			fault.Edit = culprit
		}
		if !slices.Contains(list, fault) { // as one that several cases share
			list = append(list, fault)
		}
	}
	return list
}

// textOf is a fault without its place in a file, which is none of the edit.
func textOf(f scenarios.Fault) string {
	f.File = ""
	return f.Error()
}

// setter is the edit that set the path of a fault, in whichever case, and has the
// fault without the others; -1 for none.
func (s *server) setter(t *settled, f scenarios.Fault) int {
	for _, one := range t.list {
		if one.Path != f.Path {
			continue
		}
		if _, err := s.state(&settled{list: []setting{one}}); hasFault(err, f) {
			return one.edit
		}
	}
	return -1
}

// hasFault says that a fault is among those of err.
func hasFault(err error, f scenarios.Fault) bool {
	return slices.ContainsFunc(faultsOf(err), func(g scenarios.Fault) bool { return textOf(g) == textOf(f) })
}

// culprit is an edit with which the scenario has faults, and without which, and
// those after it, it has none.
func (s *server) culprit(edits []Edit, shown string) int {
	n := sort.Search(len(edits)-1, func(i int) bool {
		t, faults := s.settle(edits[:i+1], shown)
		if len(faults) > 0 {
			return true
		}
		_, err := s.state(t)
		return err != nil
	})
	return max(n, 0)
}

// faultsOf are the faults in err.
func faultsOf(err error) scenarios.Faults {
	var faults scenarios.Faults
	if err != nil && !errors.As(err, &faults) {
		faults = scenarios.Faults{{Message: err.Error()}}
	}
	return faults
}
