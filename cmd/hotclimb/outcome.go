package main

import (
	"errors"
	"fmt"
	"slices"

	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sweep/uncertainty"
)

// outcome is everything a run has to say.
type outcome struct {
	origin
	cases   []*flown
	caveats []warning // of the run as a whole
	doubt   *doubt    // nil when no doubt was asked for
}

// flown is one case that was flown.
type flown struct {
	name     string
	title    string // may be empty
	scenario *scenarios.Scenario
	*flight
	filed  *flight                   // as filed; nil when nothing was changed
	spread *uncertainty.FlightSpread // nil when no doubt was asked for
}

// prepare loads a scenario and builds everything there is to fly.
func (c *common) prepare(file string) (*outcome, error) {
	sc, cases, err := c.load(file)
	if err != nil {
		return nil, err
	}
	plants, err := build(cases)
	if err != nil {
		return nil, err
	}
	o := &outcome{origin: originOf(sc, cases)}
	for i, k := range cases {
		o.cases = append(o.cases, &flown{
			name: k.Name, title: k.Title, scenario: k.Scenario,
			flight: &flight{name: k.Name, plant: plants[i], sample: sampleInterval},
		})
	}
	if c.changed() {
		o.compareWith(file)
	}
	return o, nil
}

// compareWith gives every case its flight as filed, where the file alone has
// such a case.
func (o *outcome) compareWith(file string) {
	sc, err := scenarios.LoadFile(file, nil)
	if err != nil {
		o.caveat("", "no change is shown: without its overlays the scenario has faults")
		return
	}
	for _, f := range o.cases {
		if !slices.Contains(sc.CaseNames(), f.name) {
			o.caveat(f.name, "no change is shown: the scenario as filed has no such case")
			continue
		}
		plant, err := asFiled(sc, f.name)
		if err != nil {
			o.caveat(f.name, "no change is shown: the case as filed has faults")
			continue
		}
		f.filed = &flight{name: f.name, plant: plant}
	}
}

// asFiled builds one case of a scenario.
func asFiled(sc *scenarios.Scenario, name string) (*sim.Plant, error) {
	k, err := sc.Case(name)
	if err != nil {
		return nil, err
	}
	return k.Build()
}

// flights are all flights to be flown, as filed last.
func (o *outcome) flights() []*flight {
	var list, filed []*flight
	for _, f := range o.cases {
		list = append(list, f.flight)
		if f.filed != nil {
			filed = append(filed, f.filed)
		}
	}
	return append(list, filed...)
}

// finish looks at what was flown. A case that fails fails the run; one that
// fails only as filed has no change to show.
func (o *outcome) finish() error {
	for _, f := range o.cases {
		if f.err != nil {
			return f.err
		}
	}
	for _, f := range o.cases {
		if f.filed != nil && f.filed.err != nil {
			o.caveat(f.name, fmt.Sprintf("no change is shown: as filed, %v", f.filed.err))
			f.filed = nil
		}
	}
	return nil
}

func (o *outcome) caveat(name, text string) { o.caveats = append(o.caveats, warning{name, text}) }

// addFaults adds the faults in err, each once.
func addFaults(all scenarios.Faults, err error) scenarios.Faults {
	var faults scenarios.Faults
	if !errors.As(err, &faults) {
		faults = scenarios.Faults{{Message: err.Error()}}
	}
	for _, f := range faults {
		if !slices.Contains(all, f) {
			all = append(all, f)
		}
	}
	return all
}
