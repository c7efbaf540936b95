package sweep

import (
	"cmp"
	"maps"
	"math"
	"slices"
	"strings"

	"hotclimb/scenarios"
)

// massPath is the path of the mass flown with.
const massPath = "aircraft.mass"

// singles are the changes alone.
func (k *ranker) singles() []*variant {
	variants := make([]*variant, len(k.Changes))
	for n, c := range k.Changes {
		variants[n] = &variant{in: func(i int) (*scenarios.Scenario, error) {
			return withChanges(k.Cases[i].Scenario, c)
		}}
	}
	return variants
}

// withChanges returns an effective scenario with changes, nil when they change
// nothing in it: the paths that it has are set, and the weight of each change is
// added, unless that change sets the mass itself.
func withChanges(sc *scenarios.Scenario, changes ...*scenarios.Change) (*scenarios.Scenario, error) {
	set := map[string]string{}
	weight := 0.0
	for _, c := range changes {
		maps.Copy(set, c.Set)
		if _, ok := c.Set[massPath]; !ok {
			weight += c.Weight.Value
		}
	}
	settings := slices.DeleteFunc(scenarios.Settings(set), func(s scenarios.Setting) bool {
		_, err := sc.Compile(s.Path)
		return err != nil
	})
	if len(settings) == 0 && weight == 0 {
		return nil, nil
	}
	changed, err := sc.With(settings)
	if err != nil || weight == 0 {
		return changed, err
	}
	return heavier(changed, weight)
}

// heavier returns a scenario flown with more mass [kg].
func heavier(sc *scenarios.Scenario, weight float64) (*scenarios.Scenario, error) {
	p, err := sc.Compile(massPath)
	if err != nil {
		return nil, err
	}
	return sc.Edit(func(c *scenarios.Scenario) error {
		m, _ := p.Get(c)
		return p.Set(c, m.Value+weight)
	})
}

// rankSingles compares changes, the best first.
func (k *ranker) rankSingles(variants []*variant) []Single {
	list := make([]Single, len(variants))
	for i, v := range variants {
		list[i] = Single{k.Changes[i], priceOf(k.Changes[i]), k.effect(v)}
	}
	slices.SortStableFunc(list, func(a, b Single) int { return a.order(&b) })
	return list
}

// tie is the difference of gains that does not decide [K]: peaks are this sure.
const tie = 0.01

// class is 0 for a change that flew whole, 1 for one with a flight that did not
// reach its end, 2 for one that failed.
func (s *Single) class() int {
	switch {
	case s.Err != nil:
		return 2
	case !s.whole():
		return 1
	}
	return 0
}

// order is negative when s ranks before t: it flew better, gains more, or as
// much for less weight or less cost.
func (s *Single) order(t *Single) int {
	return cmp.Or(
		cmp.Compare(s.class(), t.class()),
		cmp.Compare(math.Round(t.LeastGain/tie), math.Round(s.LeastGain/tie)),
		cmp.Compare(s.Weight, t.Weight),
		cmp.Compare(s.Cost, t.Cost),
	)
}

// FliesOnly says that a change sets how it is flown and nothing that is built.
func FliesOnly(c *scenarios.Change) bool {
	for path := range c.Set {
		if !strings.HasPrefix(path, "flight.") {
			return false
		}
	}
	return true
}
