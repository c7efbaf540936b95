package calibrate

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sim/atmos"
)

// NextFlight is a flight that could be flown to learn from it.
type NextFlight struct {
	Name, Title string
	Caution     string              // of the file; may be empty
	Hazards     []Hazard            // of its own
	Scenario    *scenarios.Scenario // effective, as it would be flown
	Outside     float64             // air at its field [°C]

	ownDay bool // the file says on what day it is flown
}

// Hazard is what makes a flight more dangerous than a usual climb.
type Hazard int

const (
	Taped     Hazard = iota // an opening is partly or fully shut
	Slow                    // it climbs slower than usual
	FullPower               // full power in level flight
	Sprayed                 // water is sprayed
)

// LeftOut is a flight that is not proposed.
type LeftOut struct {
	Name, Why string
	Outside   float64 // air at its field [°C]; NaN when it is left out in any
}

// AirRange is the air at the field of the target in which a builder can fly:
// every flight is proposed at both of its ends.
type AirRange struct {
	Given     bool    // else from 15 K below the day of the target up to it
	Low, High float64 // [°C]
}

// cooler is how much cooler than the hot day a builder can usually have it by
// flying early or in another month [K]: engineering judgement.
const cooler = 15.0

// ends are the temperatures of a range, one when both are the same.
func (a AirRange) ends(hot float64) []float64 {
	if !a.Given {
		return []float64{hot - cooler, hot}
	}
	if a.Low == a.High {
		return []float64{a.Low}
	}
	return []float64{a.Low, a.High}
}

// NextFlights lists flights to choose from: those of the section next of a
// scenario, or when it has none those that can be made from the target, one of
// its effective cases. See made for what these are. What could be meant but
// cannot be flown is left out, with the reason. The error is a fault of the
// scenario.
func NextFlights(sc *scenarios.Scenario, cases []scenarios.CaseScenario, target int, air AirRange) ([]NextFlight, []LeftOut, error) {
	m := &maker{sc: cases[target].Scenario}
	var err error
	if m.plant, err = m.sc.Build(); err != nil {
		return nil, nil, err
	}
	if len(sc.Next) == 0 {
		m.made(cases[target].Name)
	}
	for _, n := range sc.Next {
		if err := m.own(n, cases, target); err != nil {
			return nil, nil, err
		}
	}
	var list []NextFlight
	for _, f := range m.list {
		list = append(list, m.inAir(f, air)...)
	}
	return list, m.left, nil
}

// maker makes a list of flights.
type maker struct {
	sc    *scenarios.Scenario // the target
	plant *sim.Plant          // of it
	list  []NextFlight
	left  []LeftOut
}

// own adds a flight of the section next.
func (m *maker) own(n *scenarios.Next, cases []scenarios.CaseScenario, target int) error {
	from := cases[target].Scenario
	for _, k := range cases {
		if k.Name == n.Case {
			from = k.Scenario
		}
	}
	sc, err := from.With(scenarios.Settings(n.Set))
	if err != nil {
		return fmt.Errorf("next.%s: %w", n.Name, err)
	}
	f := NextFlight{Name: n.Name, Title: n.Title, Caution: n.Caution, Scenario: sc}
	for path := range n.Set {
		f.ownDay = f.ownDay || strings.HasPrefix(path, "day.")
	}
	if m.tapes(from, sc) {
		f.Hazards = append(f.Hazards, Taped)
	}
	if slower(from, sc) {
		f.Hazards = append(f.Hazards, Slow)
	}
	if atFullPower(sc) {
		f.Hazards = append(f.Hazards, FullPower)
	}
	m.add(f)
	return nil
}

// tapes says that an opening or a core is smaller than before.
func (m *maker) tapes(from, sc *scenarios.Scenario) bool {
	was := map[string]float64{}
	for _, o := range from.Openings() {
		was[o.Path] = o.Area
	}
	for _, o := range sc.Openings() {
		if area, ok := was[o.Path]; ok && o.Area < area*(1-1e-9) {
			return true
		}
	}
	for name, x := range sc.Exchangers {
		if old := from.Exchangers[name]; old != nil && x.OpenShare.Value < old.OpenShare.Value {
			return true
		}
	}
	return false
}

// slower says that a climb is slower than before.
func slower(from, sc *scenarios.Scenario) bool {
	for i, leg := range sc.Flight.Legs {
		if i < len(from.Flight.Legs) && leg.Kind == "climb" && leg.Name == from.Flight.Legs[i].Name &&
			leg.Speed.Value < from.Flight.Legs[i].Speed.Value {
			return true
		}
	}
	return false
}

// nearlyAll is the share of the power that counts as full: engineering judgement.
const nearlyAll = 0.95

// atFullPower says that level flight takes nearly all of the power.
func atFullPower(sc *scenarios.Scenario) bool {
	return slices.ContainsFunc(sc.Flight.Legs, func(l *scenarios.Leg) bool {
		return l.Kind == "level" && (l.Throttle.Value >= nearlyAll || l.Power.Value >= nearlyAll*sc.Engine.RatedPower.Value)
	})
}

// fieldAir is the air at the field of a plant [°C].
func fieldAir(p *sim.Plant) float64 { return p.Weather.Day.Temperature(p.Weather.Elevation) }

// inAir is a flight in the air of both ends of a range, or in that of its own day
// where the file gives it one and no range is asked for.
func (m *maker) inAir(f NextFlight, air AirRange) []NextFlight {
	p, err := f.Scenario.Build()
	if err != nil {
		m.leave(f.Name, err)
		return nil
	}
	if f.ownDay && !air.Given {
		f.Outside = fieldAir(p)
		return []NextFlight{f}
	}
	hot, standard := fieldAir(m.plant), atmos.Standard()
	var list []NextFlight
	for _, t := range air.ends(hot) {
		// The same air mass, at the height of this field.
		at := t + standard.Temperature(p.Weather.Elevation) - standard.Temperature(m.plant.Weather.Elevation)
		one := f
		one.Outside = fieldAir(p)
		if math.Abs(at-one.Outside) > 1e-6 {
			sc, err := set(f.Scenario, "day.temperature", at)
			if err != nil {
				m.left = append(m.left, LeftOut{f.Name, err.Error(), at})
				continue
			}
			one.Scenario, one.Outside = sc, at
		}
		list = append(list, one)
	}
	return list
}

// leave notes a flight that is not proposed in any air.
func (m *maker) leave(name string, why error) {
	m.left = append(m.left, LeftOut{name, why.Error(), math.NaN()})
}

// set is a copy of a scenario with one number set.
func set(sc *scenarios.Scenario, path string, value float64) (*scenarios.Scenario, error) {
	p, err := sc.Compile(path)
	if err != nil {
		return nil, err
	}
	return sc.Edit(func(c *scenarios.Scenario) error { return p.Set(c, value) })
}
