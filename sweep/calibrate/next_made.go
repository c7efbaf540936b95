package calibrate

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"hotclimb/scenarios"
	"hotclimb/sim/atmos"
)

// Numbers of the list that is made: engineering judgement.
const (
	bySpeed   = 0.1   // share by which a climb is slower or faster [-]
	mostLift  = 1.0   // lift coefficient of a slow climb: 1.2 times the stall of a plain wing, at 1.4 [-]
	aboveIt   = 900.0 // level flight is this high above the field [m]
	levelTime = 900.0 // for as long [s]
	fastest   = 130.0 // level flight that is looked for [m/s]
)

// made adds the flights that a scenario without a list of its own is given:
//
//   - the case as it is
//   - each inlet taped to half of its area, and shut, unless a circuit would have
//     no core left with air from another inlet
//   - each exit closed to half of its area; a flap also shut, at 0°
//   - climbs a tenth slower, unless near the stall, and a tenth faster
//   - up to 900 m above the field, then level for 15 minutes, with 75 % of the
//     power available and with all of it
func (m *maker) made(name string) {
	m.add(NextFlight{Name: "as_it_is", Title: "The case " + name + " flown as it is", Scenario: m.sc})
	for _, o := range m.sc.Openings() {
		_, own, _ := strings.Cut(o.Path, ".")
		if o.Area <= 0 {
			continue
		}
		if o.Exit {
			m.edit(NextFlight{Name: "half_" + own, Title: "Exit " + own + " closed to half of its area", Hazards: []Hazard{Taped}}, o.Path+".area", o.Area/2)
			m.flap(own)
			continue
		}
		m.edit(NextFlight{Name: "half_" + own, Title: "Inlet " + own + " taped to half of its area", Hazards: []Hazard{Taped}}, o.Path+".area", o.Area/2)
		if circuit := m.starved(own); circuit != "" {
			m.leave("shut_"+own, fmt.Errorf("inlet %s taped shut would leave the %s no core with air", own, circuit))
			continue
		}
		m.edit(NextFlight{Name: "shut_" + own, Title: "Inlet " + own + " taped shut", Hazards: []Hazard{Taped}}, o.Path+".area", 0)
	}
	m.climbs()
	m.level("level_75", 0.75, "with 75 % of the power available", nil)
	m.level("level_full", 1, "with full power", []Hazard{FullPower})
}

// add adds a flight; water that is sprayed is a hazard of any.
func (m *maker) add(f NextFlight) {
	if f.Scenario.Spray != nil && f.Scenario.Spray.Rate.Value > 0 {
		f.Hazards = append(f.Hazards, Sprayed)
	}
	m.list = append(m.list, f)
}

// edit adds the target with one number set.
func (m *maker) edit(f NextFlight, path string, value float64) {
	var err error
	if f.Scenario, err = set(m.sc, path, value); err != nil {
		m.leave(f.Name, err)
		return
	}
	m.add(f)
}

// flap adds a flap that is shut.
func (m *maker) flap(exit string) {
	if e := m.sc.Exits[exit]; e.Kind == "flap" && e.FlapAngle.Value > 0 {
		f := NextFlight{Name: "flap_" + exit, Title: "Flap of exit " + exit + " shut, at 0°", Hazards: []Hazard{Taped}}
		m.edit(f, "exits."+exit+".flap_angle", 0)
	}
}

// starved is a circuit all of whose cores in air get it from this inlet alone;
// "" when there is none. A plate exchanger has no air of its own.
func (m *maker) starved(inlet string) string {
	for _, circuit := range []string{"coolant", "oil"} {
		served, other := false, false
		for name, x := range m.sc.Exchangers {
			if x.Serves != circuit || x.CooledBy == "coolant" {
				continue
			}
			from := map[string]bool{}
			m.feed(name, from, map[string]bool{})
			served = served || from[inlet]
			delete(from, inlet)
			other = other || len(from) > 0
		}
		if served && !other {
			return circuit
		}
	}
	return ""
}

// feed gathers the inlets from which the air of an exchanger comes, through
// other exchangers and through compartments that they blow into.
func (m *maker) feed(exchanger string, from, seen map[string]bool) {
	if seen[exchanger] {
		return
	}
	seen[exchanger] = true
	source := m.sc.Exchangers[exchanger].From
	if _, ok := m.sc.Inlets[source]; ok {
		from[source] = true
		return
	}
	if _, ok := m.sc.Exchangers[source]; ok {
		m.feed(source, from, seen)
		return
	}
	for _, name := range slices.Sorted(maps.Keys(m.sc.Exchangers)) {
		if m.sc.Exchangers[name].Into == source {
			m.feed(name, from, seen)
		}
	}
}

// climbs adds a slower and a faster climb.
func (m *maker) climbs() {
	const slow, fast = "slower_climb", "faster_climb"
	var legs []int
	nearStall := false
	for i := range m.plant.Legs {
		if m.sc.Flight.Legs[i].Kind != "climb" {
			continue
		}
		legs = append(legs, i)
		nearStall = nearStall || m.lift(i, 1-bySpeed) > mostLift
	}
	switch {
	case len(legs) == 0:
		m.leave(slow, errors.New("the case has no climb"))
		m.leave(fast, errors.New("the case has no climb"))
		return
	case nearStall:
		m.leave(slow, fmt.Errorf("the climb would be too near the stall: a lift coefficient above %g", mostLift))
	default:
		m.speed(NextFlight{Name: slow, Title: "Climb a tenth slower", Hazards: []Hazard{Slow}}, legs, 1-bySpeed)
	}
	m.speed(NextFlight{Name: fast, Title: "Climb a tenth faster"}, legs, 1+bySpeed)
}

// lift is the lift coefficient of a leg flown at a share of its speed, at sea
// level, where a true airspeed has the most pressure.
func (m *maker) lift(leg int, share float64) float64 {
	v := m.plant.Legs[leg].Speed * share
	if m.sc.Flight.Legs[leg].SpeedKind == "indicated" {
		v = m.plant.Airspeed.Calibrated(v)
	}
	rho := atmos.SeaLevelDensity
	if m.sc.Flight.Legs[leg].SpeedKind == "true" {
		rho = m.plant.Weather.Day.At(m.top(leg)).Density
	}
	a := &m.plant.Aircraft
	return a.Weight() / (0.5 * rho * v * v * a.WingArea)
}

// top is the altitude of the end of a leg, or of the field where it has none.
func (m *maker) top(leg int) float64 {
	return math.Max(m.plant.Weather.Elevation, m.plant.Legs[leg].ToAltitude)
}

// speed adds the target with some legs at a share of their speeds.
func (m *maker) speed(f NextFlight, legs []int, share float64) {
	var err error
	f.Scenario, err = m.sc.Edit(func(c *scenarios.Scenario) error {
		for _, i := range legs {
			p, err := c.Compile("flight.legs." + c.Flight.Legs[i].Name + ".speed")
			if err == nil {
				err = p.Set(c, c.Flight.Legs[i].Speed.Value*share)
			}
			if err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		m.leave(f.Name, err)
		return
	}
	m.add(f)
}

// level adds a climb and then a level flight at the speed that a share of the
// power gives.
func (m *maker) level(name string, throttle float64, with string, hazards []Hazard) {
	first := slices.IndexFunc(m.sc.Flight.Legs, func(l *scenarios.Leg) bool { return l.Kind == "climb" })
	if first < 0 {
		m.leave(name, errors.New("the case has no climb that leads up to it"))
		return
	}
	high := m.plant.Weather.Elevation + aboveIt
	if leg := m.plant.Legs[first]; leg.HasAltitude {
		high = math.Min(high, leg.ToAltitude)
	}
	v, ok := m.levelSpeed(high, throttle)
	if !ok {
		m.leave(name, errors.New("the power does not carry the aircraft at a safe speed"))
		return
	}
	sc, err := m.sc.Edit(func(c *scenarios.Scenario) error {
		legs := c.Flight.Legs[:first+1]
		up := *legs[first]
		up.For, up.Until, up.AfterPeak = scenarios.Quantity[scenarios.Time]{}, "", scenarios.Quantity[scenarios.Time]{}
		up.ToAltitude.Number = known(high, "m")
		flat := &scenarios.Leg{Name: "level_flight", Kind: "level", SpeedKind: "true"}
		flat.Speed.Number, flat.Throttle.Number, flat.For.Number = known(v, "m/s"), known(throttle, ""), known(levelTime, "s")
		c.Flight.Legs = append(slices.Clone(legs[:first]), &up, flat)
		return nil
	})
	if err != nil {
		m.leave(name, err)
		return
	}
	m.add(NextFlight{Name: name, Title: "Level for 15 minutes " + with, Hazards: hazards, Scenario: sc})
}

// known is a number that is set, in SI.
func known(value float64, unit string) scenarios.Number {
	return scenarios.Number{Value: value, Unit: unit, Written: true, Known: true}
}

// levelSpeed is the true airspeed [m/s] at which a share of the power available
// carries the drag with that of cooling as the parasite drag holds it; not ok
// where that is nearer the stall than a slow climb may be.
func (m *maker) levelSpeed(altitude, throttle float64) (v float64, ok bool) {
	a, air := m.plant.Aircraft, m.plant.Weather.Day.At(altitude)
	a.CoolingDrag = 0
	thrust := m.plant.Propeller.EfficiencyCruise * throttle * m.plant.Available(m.plant.Weather.Day, altitude)
	lacks := func(v float64) bool { return a.Drag(0.5*air.Density*v*v)*v > thrust }
	low := math.Sqrt(2 * a.Weight() / (air.Density * a.WingArea * mostLift))
	if lacks(low) {
		return 0, false
	}
	high := fastest
	if !lacks(high) {
		return high, true
	}
	for high-low > 1e-3 {
		if v := (low + high) / 2; lacks(v) {
			high = v
		} else {
			low = v
		}
	}
	return low, true
}
