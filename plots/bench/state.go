package bench

import (
	"hotclimb/scenarios"
	"hotclimb/sim"
)

// state is the scenario with some edits, ready to fly.
type state struct {
	settings []setting
	cases    []readyCase
}

// readyCase is one case of a state.
type readyCase struct {
	scenarios.CaseScenario
	key   string // of the case and the settings that count for it
	plant *sim.Plant
}

// state makes the scenario of settings, nil for none. The error is a
// scenarios.Faults.
func (s *server) state(t *settled) (*state, error) {
	if t == nil {
		t = &settled{}
	}
	key := t.key()
	if st, ok := s.states.find(key); ok {
		return st, nil
	}
	cases, err := s.Scenario.CasesWith(s.filed, t.caseSettings())
	if err != nil {
		return nil, err
	}
	st := &state{settings: t.list}
	var faults scenarios.Faults
	for _, k := range cases {
		plant, err := k.Scenario.Build()
		if err != nil {
			faults = append(faults, faultsOf(err)...)
			continue
		}
		st.cases = append(st.cases, readyCase{k, t.keyOf(k.Name), plant})
	}
	if len(faults) > 0 {
		return nil, faults
	}
	s.states.keep(key, st)
	return st, nil
}
