package main

import (
	"fmt"
	"math"

	"hotclimb/plots"
	"hotclimb/scenarios"
	"hotclimb/sweep/optimum"
)

// Quantities of spray water.
var (
	waterRate   = measure{US: plots.UnitOf[scenarios.VolumeFlow]("gal/h", "gph", 1), SI: plots.UnitOf[scenarios.VolumeFlow]("L/min", "L/min", 2)}
	waterVolume = measure{US: plots.UnitOf[scenarios.Volume]("gal", "gal", 2), SI: plots.UnitOf[scenarios.Volume]("L", "L", 1)}
)

// sprayLimits adds what spray does.
func (p *page) sprayLimits(s *optimum.SprayClimb) {
	p.line("  With water spray on %s, from %s of %s on:", s.Onto, temperature.Show(p.units, s.Starts), s.Circuit)
	if s.Trouble != "" {
		p.entry("", "%s", s.Trouble)
		if s.Brings > 0 {
			p.entry("", "it brings at most %s at %s outside", difference.Show(p.units, s.Brings), temperature.Show(p.units, s.RateFor))
		}
	}
	if s.Rate == 0 {
		return
	}
	chosen := "as filed"
	if s.Least {
		chosen = "the least that holds the limits at " + temperature.Show(p.units, s.RateFor)
	}
	p.entry("rate", "%s, %s", waterRate.Show(p.units, s.Rate), chosen)
	p.entry("carried", "%s, %s min", waterVolume.Show(p.units, s.Tank), minutesOf(s.Carried))
	for _, n := range s.Needed {
		p.entry("at "+temperature.Show(p.units, n.Temperature), "%s", sprayNeed(&n))
	}
	switch s.Ceiling.Bound {
	case optimum.Found:
		p.entry("unlimited to", "%s with it; then %s", temperature.Show(p.units, s.Ceiling.Temperature), limiter(s.Ceiling.By))
	case optimum.Hotter:
		p.entry("unlimited to", "above %s with it", temperature.Show(p.units, s.Ceiling.Temperature))
	}
}

// sprayNeed says how long spray must run on one day.
func sprayNeed(n *optimum.SprayTime) string {
	switch {
	case math.IsNaN(n.Time):
		return "spray at this rate does not hold the limits"
	case n.Enough:
		return minutesUp(n.Time) + " min needed: enough is carried"
	}
	return minutesUp(n.Time) + " min needed: NOT enough is carried"
}

// minutesUp prints a time as minutes to a tenth, rounded up.
func minutesUp(seconds float64) string { return fmt.Sprintf("%.1f", math.Ceil(seconds/6)/10) }
