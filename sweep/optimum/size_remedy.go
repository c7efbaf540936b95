package optimum

import (
	"cmp"
	"context"
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
	mostSpray    = 4.0 / 60000 // [m³/s]
	mostSpeedUp  = 1.5         // of the speed of a leg
	leastPower   = 0.5         // of the power of a leg
	mostCore     = 3.0         // of the heat that a core moves
	mostCooler   = 40.0        // [K]
	cureSteps    = 10          // of the range, until one mends the limit
	cureHalvings = 9           // of the step in which that happens
)

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

// spray is more water on a core of the circuit, from a tank that lasts.
func (w *ward) spray() *remedy {
	sc := w.scenarios[w.limit.Case]
	rate, ok := w.compile("spray.rate")
	if !ok || sc.Exchangers[sc.Spray.Onto].Serves != w.circuit() {
		return nil
	}
	tank, _ := w.compile("spray.tank")
	return &remedy{
		Cure: Cure{Kind: SprayCure, Case: w.limit.Case, All: true, Moves: []Move{rate}, Tank: tank.From * waterDensity},
		at:   towards(func(float64) float64 { return mostSpray }),
		also: func(sc *scenarios.Scenario) error { return passAbsent(tank.Param.Set(sc, tank.Param.Hi)) },
	}
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

// cores are all cores of the circuit in the air, moving more heat. Those that are
// given by their fins are left as they are.
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
		for _, heat := range []string{"rating.heat", "conductance.air", "conductance.liquid"} {
			if m, ok := w.compile("exchangers." + name + "." + heat); ok {
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

// try looks for the least of a remedy that brings about what it aims at. The
// range is walked in steps, as more is not always better; the step in which the
// limit is mended is halved.
func (w *ward) try(ctx context.Context, c *remedy) error {
	bad, good := 0.0, 0.0
	var best *Design
	for n := 1; n <= cureSteps && best == nil; n++ {
		share := float64(n) / cureSteps
		d, err := w.with(ctx, c, share)
		if err != nil {
			return err
		}
		if d != nil && w.mended(c, d) {
			best, good = d, share
		} else {
			bad = share
		}
	}
	for n := 0; n < cureHalvings && best != nil; n++ {
		half := (bad + good) / 2
		d, err := w.with(ctx, c, half)
		if err != nil {
			return err
		}
		if d != nil && w.mended(c, d) {
			best, good = d, half
		} else {
			bad = half
		}
	}
	w.tell(c, best, good)
	return nil
}

// tell notes what a remedy comes to.
func (w *ward) tell(c *remedy, best *Design, share float64) {
	if best == nil {
		share = 1
	}
	for i := range c.Moves {
		c.Moves[i].To = c.at(c.Moves[i], share)
	}
	if best == nil {
		return
	}
	c.Found = true
	c.Water = best.Flights[c.Case].WaterUsed
	for i := range w.limits {
		if best.slack(w.limits, i) < -settings().Shortfall {
			c.Rest = append(c.Rest, i)
		}
	}
	c.Fits = len(c.Rest) == 0
	slices.SortStableFunc(c.Rest, func(a, b int) int {
		return cmp.Compare(best.slack(w.limits, a), best.slack(w.limits, b))
	})
}

// mended says that what the remedy aims at is kept, in flights that reach their
// ends.
func (w *ward) mended(c *remedy, d *Design) bool {
	for i := range w.limits {
		if l := &w.limits[i]; w.aim(c, l) && (d.slack(w.limits, i) < 0 || d.Flights[l.Case].Incomplete != "") {
			return false
		}
	}
	return true
}

// with flies a remedy, in every case; nil when it cannot be flown.
func (w *ward) with(ctx context.Context, c *remedy, share float64) (*Design, error) {
	list := slices.Clone(w.scenarios)
	for k, sc := range list {
		if !c.All && k != c.Case {
			continue
		}
		edited, err := sc.Edit(func(sc *scenarios.Scenario) error { return c.set(sc, share) })
		if err != nil {
			return nil, nil // beyond what a file may hold
		}
		list[k] = edited
	}
	d, err := w.flyCases(ctx, func(ctx context.Context, k int) (Flight, error) { return w.flown(ctx, list[k]) })
	if err != nil {
		return nil, ctx.Err() // what cannot be flown is no cure
	}
	return d, nil
}

// set moves the numbers of a remedy.
func (c *remedy) set(sc *scenarios.Scenario, share float64) error {
	for _, m := range c.Moves {
		if err := passAbsent(m.Param.Set(sc, c.at(m, share))); err != nil {
			return err
		}
	}
	if c.also == nil {
		return nil
	}
	return c.also(sc)
}

// passAbsent passes over a path that a case does not have.
func passAbsent(err error) error {
	var unknown *scenarios.UnknownPath
	if errors.As(err, &unknown) {
		return nil
	}
	return err
}
