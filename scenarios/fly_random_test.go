package scenarios_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sim/flight"
)

// tally counts how random plants ended.
type tally struct{ refused, flown, lost, unsettled, scorched int }

// TestRandomPlants: whatever a file may say, a run gives finite numbers that
// keep heat and mass, or says why not.
//
// A number is drawn from a third to three times its usual value, as far as its
// range allows, and one in six from its whole range; a word from all its
// words. Sections, names and connections stay.
func TestRandomPlants(t *testing.T) {
	var bases []*scenarios.Scenario
	for _, file := range builtIns {
		sc, err := scenarios.LoadFile(file, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range sc.CaseNames() {
			c, err := sc.Case(name)
			if err != nil {
				t.Fatal(err)
			}
			bases = append(bases, c)
		}
	}
	var n tally
	rapid.Check(t, func(rt *rapid.T) {
		sc, told := drawScenario(rt, rapid.SampledFrom(bases).Draw(rt, "case"))
		if sc == nil {
			n.refused++
			return
		}
		plant, err := sc.Build()
		if err != nil {
			n.refused++
			return
		}
		plant.Legs = rapid.SliceOfN(rapid.Custom(drawLeg), 1, 4).Draw(rt, "legs")
		flyRandom(rt, plant, told, &n)
	})
	t.Logf("%+v", n)
	if n.refused > 3*n.flown {
		t.Errorf("too few are flown: %+v", n)
	}
}

// drawScenario changes one to six values of a scenario; nil when it refuses
// one of them, which it must do with a word.
func drawScenario(rt *rapid.T, base *scenarios.Scenario) (*scenarios.Scenario, string) {
	sc := base.Clone()
	paths := slices.DeleteFunc(base.Paths(), func(p string) bool {
		return strings.HasPrefix(p, "flight.legs") || strings.HasSuffix(p, ".serves") || p == "display"
	})
	var told []string
	for range rapid.IntRange(1, 6).Draw(rt, "changes") {
		path := rapid.SampledFrom(paths).Draw(rt, "path")
		p, err := sc.Compile(path)
		if err != nil {
			rt.Fatal(err)
		}
		if p.IsNumber() {
			err = p.Set(sc, drawNumber(rt, sc, &p))
		} else if len(p.Words) > 0 {
			err = p.SetText(sc, rapid.SampledFrom(p.Words).Draw(rt, "word"))
		}
		if err != nil {
			return nil, ""
		}
		told = append(told, path+"="+p.Text(sc))
	}
	same, err := sc.With(nil) // fills anew and checks
	if err != nil {
		return nil, ""
	}
	return same, strings.Join(told, ", ")
}

func drawNumber(rt *rapid.T, sc *scenarios.Scenario, p *scenarios.Param) float64 {
	lo, hi := p.Lo, p.Hi
	n, known := p.Get(sc)
	if known && n.Value > 0 && rapid.IntRange(0, 5).Draw(rt, "whole range") > 0 {
		lo, hi = max(lo, n.Value/3), min(hi, 3*n.Value)
	}
	return rapid.Float64Range(lo, hi).Draw(rt, p.Path)
}

// drawLeg draws a leg of any kind with at least one end that comes soon.
func drawLeg(rt *rapid.T) flight.Leg {
	l := flight.Leg{
		Name: "leg", Kind: flight.Kind(rapid.IntRange(0, int(flight.ShutDown)).Draw(rt, "kind")),
		SpeedKind: flight.SpeedKind(rapid.IntRange(0, int(flight.True)).Draw(rt, "speed kind")),
		Speed:     rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(0, 15), rapid.Float64Range(25, 80)).Draw(rt, "speed"),
		Throttle:  rapid.OneOf(rapid.Just(0.0), rapid.Just(1.0), rapid.Float64Range(0, 1)).Draw(rt, "throttle"),
		Duration:  rapid.Float64Range(1, 400).Draw(rt, "duration"),
	}
	switch rapid.IntRange(0, 5).Draw(rt, "extra") {
	case 0:
		l.Settled = true
	case 1:
		l.AfterPeak = rapid.Float64Range(1, 300).Draw(rt, "after peak")
	case 2:
		l.HasAltitude, l.ToAltitude = true, rapid.Float64Range(-300, 4000).Draw(rt, "altitude")
	case 3:
		l.Prescribed, l.RateOfClimb = true, rapid.Float64Range(-8, 12).Draw(rt, "rate")
	}
	return l
}

// flyRandom flies a plant and checks what must hold of any.
func flyRandom(rt *rapid.T, p *sim.Plant, told string, n *tally) {
	r, err := sim.Run(rt.Context(), p, sim.Settings{Sample: 10})
	if err != nil {
		rt.Fatalf("%s: %v", told, err)
	}
	n.flown++
	if slices.ContainsFunc(r.Warnings, func(w string) bool { return strings.Contains(w, "does not begin") }) {
		n.unsettled++
	}
	if slices.ContainsFunc(r.Warnings, func(w string) bool { return strings.Contains(w, "breaks off") }) {
		n.lost++
	}
	closes := r.EnergyResidual < 1e-6
	if !closes && scorched(r) {
		n.scorched++
		closes = slices.ContainsFunc(r.Warnings, func(w string) bool { return strings.Contains(w, "unaccounted for") })
	}
	if !closes || !(r.MassResidual < 1e-9) {
		rt.Errorf("%s: energy is off by %.2g, mass by %.2g", told, r.EnergyResidual, r.MassResidual)
	}
	if err := sound(r); err != nil {
		rt.Errorf("%s: %v", told, err)
	}
}

// scorched reports whether cowl air stood at the 1500 °C at which the air field
// holds it: the heat of a megawatt engine in a cowl that is all but shut. Heat
// is lost there, and the run must say so.
func scorched(r *sim.Result) bool {
	for _, c := range r.Trajectory.Channels {
		if c.Unit == "°C" && slices.Max(c.Values) > 1499 {
			return true
		}
	}
	return false
}

// sound returns what is wrong with a result.
func sound(r *sim.Result) error {
	for _, c := range r.Trajectory.Channels {
		for i, v := range c.Values {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return fmt.Errorf("%s is %g in sample %d", c.Name, v, i)
			}
		}
	}
	for _, p := range r.Peaks {
		if p.Exceeded != (p.Value > p.Limit) || p.Exceeded && !(p.TimeToLimit <= p.Time) {
			return fmt.Errorf("%+v", p)
		}
		if p.Exceeded && p.TimeToLimit == 0 && r.Trajectory.Find(p.Channel + "_degC").Values[0] <= p.Limit {
			return fmt.Errorf("no time to the limit: %+v", p)
		}
		for _, v := range r.Trajectory.Find(p.Channel + "_degC").Values {
			if v > p.Value+1e-9 {
				return fmt.Errorf("%g °C in %s, above the peak %g", v, p.Channel, p.Value)
			}
		}
	}
	for i := 1; i < len(r.Legs); i++ {
		if r.Legs[i].Start != r.Legs[i-1].End {
			return fmt.Errorf("legs %v", r.Legs)
		}
	}
	return nil
}
