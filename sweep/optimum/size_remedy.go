package optimum

import (
	"errors"
	"maps"
	"slices"

	"hotclimb/scenarios"
)

// remedy is a cure and how its numbers move: from 0, the file, to 1, the end of
// what is tried.
type remedy struct {
	Cure
	at   func(m Move, share float64) float64
	also func(*scenarios.Scenario) error // set besides; nil for nothing
}

// How far cures are tried.
const (
	mostSpray   = 4.0 / 60000 // [m³/s]
	mostSpeedUp = 1.5         // of the speed of a leg
	leastPower  = 0.5         // of the power of a leg
	mostCore    = 3.0         // of the face of a core
	mostCooler  = 40.0        // [K]
)

// remedies are all that there are, nil for one that there is not.
func (w *ward) remedies() []*remedy {
	return []*remedy{w.spray(), w.speed(), w.power(), w.cores(), w.day()}
}

// compile is the number at a path of the case of the limit.
func (w *ward) compile(path string) (Move, bool) {
	sc := w.scenarios[w.limit.Case]
	param, err := sc.Compile(path)
	if err != nil {
		return Move{}, false
	}
	n, known := param.Get(sc)
	return Move{Param: param, From: n.Value}, known
}

// towards moves a number to an end.
func towards(end func(from float64) float64) func(Move, float64) float64 {
	return func(m Move, share float64) float64 {
		to := end(m.From)
		return clamp(m.From+share*(to-m.From), m.Param.Lo, m.Param.Hi)
	}
}

// spray is more water on a core of the circuit, from a tank that lasts. Where
// the file sprays nothing, it is on the core that gives off most.
func (w *ward) spray() *remedy {
	onto := w.addSpray()
	sc := w.scenarios[w.limit.Case]
	rate, ok := w.compile("spray.rate")
	if !ok || sc.Exchangers[sc.Spray.Onto].Serves != w.circuit() {
		return nil
	}
	tank, _ := w.compile("spray.tank")
	return &remedy{
		Cure: Cure{Kind: SprayCure, Case: w.limit.Case, All: true, Moves: []Move{rate}, Onto: onto, Tank: tank.From * waterDensity},
		at:   towards(func(float64) float64 { return mostSpray }),
		also: func(sc *scenarios.Scenario) error { return setWhereIn(sc, tank.Param, tank.Param.Hi) },
	}
}

// addSpray gives scenarios without spray one that does not run, and names the
// core; "" when the file has spray, or the circuit no core in the air.
func (w *ward) addSpray() (onto string) {
	most := 0.0
	for _, x := range w.atWorst {
		if of := w.scenarios[w.limit.Case].Exchangers[x.Name]; of.Serves == w.circuit() && of.CooledBy == "air" && x.Heat > most {
			onto, most = x.Name, x.Heat
		}
	}
	if onto == "" || slices.ContainsFunc(w.scenarios, func(sc *scenarios.Scenario) bool { return sc.Spray != nil }) {
		return ""
	}
	for k, sc := range w.scenarios {
		dry, err := sc.Edit(func(sc *scenarios.Scenario) error {
			sc.Spray = &scenarios.Spray{Onto: onto}
			return errors.Join(setAt(sc, "spray.rate", 0), setAt(sc, "spray.tank", 0))
		})
		if err == nil {
			w.scenarios[k] = dry
		}
	}
	return onto
}

// setAt sets the number at a path.
func setAt(sc *scenarios.Scenario, path string, value float64) error {
	param, err := sc.Compile(path)
	if err != nil {
		return err
	}
	return param.Set(sc, value)
}

// speed is a faster climb.
func (w *ward) speed() *remedy {
	if w.leg == nil || w.leg.Kind != "climb" {
		return nil
	}
	m, ok := w.compile("flight.legs." + w.leg.Name + ".speed")
	if !ok {
		return nil
	}
	return &remedy{
		Cure: Cure{Kind: SpeedCure, Case: w.limit.Case, Moves: []Move{m}},
		at:   towards(func(from float64) float64 { return from * mostSpeedUp }),
	}
}

// power is less power in the leg of the peak, or in the one before a take-off,
// which takes all there is.
func (w *ward) power() *remedy {
	leg := w.leg
	for i, l := range w.scenarios[w.limit.Case].Flight.Legs {
		if l == leg && l.Kind == "take_off" && i > 0 {
			leg = w.scenarios[w.limit.Case].Flight.Legs[i-1]
		}
	}
	if leg == nil || !slices.Contains([]string{"taxi", "run_up", "climb", "level"}, leg.Kind) {
		return nil
	}
	m, ok := w.compile("flight.legs." + leg.Name + ".power")
	if !ok {
		if m, ok = w.compile("flight.legs." + leg.Name + ".throttle"); !ok {
			m.From = 1 // all there is
		}
	}
	return &remedy{
		Cure: Cure{Kind: PowerCure, Case: w.limit.Case, Moves: []Move{m}},
		at:   towards(func(from float64) float64 { return from * leastPower }),
	}
}

// sizesOfCore are what grows alike when a core is taken several times side by
// side: its face, what it is rated for, and the flows that this holds for.
var sizesOfCore = []string{
	"height", "face_area", "rating.heat", "rating.air_flow", "rating.liquid_flow",
	"conductance.air", "conductance.air_flow", "conductance.liquid", "conductance.liquid_flow", "liquid_drop_flow",
}

// cores are all cores of the circuit in the air with a larger face.
func (w *ward) cores() *remedy {
	sc := w.scenarios[w.limit.Case]
	c := &remedy{
		Cure: Cure{Kind: CoreCure, Case: w.limit.Case, All: true},
		at:   towards(func(from float64) float64 { return from * mostCore }),
	}
	for _, name := range slices.Sorted(maps.Keys(sc.Exchangers)) {
		if x := sc.Exchangers[name]; x.Serves != w.circuit() || x.CooledBy != "air" {
			continue
		}
		for _, size := range sizesOfCore {
			if m, ok := w.compile("exchangers." + name + "." + size); ok {
				c.Moves = append(c.Moves, m)
			}
		}
	}
	if len(c.Moves) == 0 {
		return nil
	}
	return c
}

// day is a cooler field.
func (w *ward) day() *remedy {
	m, _ := w.compile("day.temperature")
	m.From = w.field
	return &remedy{
		Cure: Cure{Kind: DayCure, Case: w.limit.Case, Moves: []Move{m}},
		at:   towards(func(from float64) float64 { return from - mostCooler }),
	}
}

// set moves the numbers of a remedy.
func (c *remedy) set(sc *scenarios.Scenario, share float64) error {
	for _, m := range c.Moves {
		if err := setWhereIn(sc, m.Param, c.at(m, share)); err != nil {
			return err
		}
	}
	if c.also == nil {
		return nil
	}
	return c.also(sc)
}

// setWhereIn sets a number in a case that has it.
func setWhereIn(sc *scenarios.Scenario, p scenarios.Param, value float64) error {
	if !p.In(sc) {
		return nil
	}
	return p.Set(sc, value)
}
