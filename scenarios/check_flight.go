package scenarios

import (
	"fmt"
	"slices"
)

// flight tells legs that cannot be flown.
func (c *checker) flight() {
	const at = "flight"
	f := &c.sc.Flight
	if f.Coolant.Known != f.Oil.Known {
		c.tell(at, "start_coolant and start_oil go together", "give both or none")
	}
	for _, leg := range f.Legs {
		c.leg(join(at, join("legs", leg.Name)), leg)
	}
}

// airborne are the kinds of leg that need an airspeed.
var airborne = []string{"take_off", "climb", "level", "descend"}

func (c *checker) leg(at string, leg *Leg) {
	if !leg.ToAltitude.Known && !leg.For.Known && leg.Until == "" && !leg.AfterPeak.Known {
		c.tell(at, "has no end", "give to_altitude, for, until or after_peak")
	}
	c.slope(at, leg)
	if slices.Contains(airborne, leg.Kind) && !leg.Speed.Known {
		c.tell(join(at, "speed"), "is missing", fmt.Sprintf("a leg of kind %s needs its airspeed", leg.Kind))
	}
	if leg.Kind == "shut_down" && (leg.Throttle.Written && leg.Throttle.Value > 0 || leg.Power.Written && leg.Power.Value > 0) {
		c.tell(at, "has power though the engine is shut down", "remove throttle and power")
	}
}

// slope tells altitudes and rates of climb that do not go with the kind of leg.
func (c *checker) slope(at string, leg *Leg) {
	const rate = "rate_of_climb"
	switch leg.Kind {
	case "take_off", "climb":
		if leg.Rate.Known && leg.Rate.Value <= 0 {
			c.tell(join(at, rate), fmt.Sprintf("%s is no climb", leg.Rate), "above 0, or a leg of kind descend")
		}
	case "descend":
		if leg.Rate.Known && leg.Rate.Value >= 0 {
			c.tell(join(at, rate), fmt.Sprintf("%s is no descent", leg.Rate), "below 0, or a leg of kind climb")
		}
	default:
		if leg.ToAltitude.Known {
			c.tell(join(at, "to_altitude"), fmt.Sprintf("a leg of kind %s keeps its altitude and never ends so", leg.Kind), "give for, until or after_peak")
		}
		if leg.Rate.Known && leg.Rate.Value != 0 {
			c.tell(join(at, rate), fmt.Sprintf("a leg of kind %s keeps its altitude", leg.Kind), "remove it, or a leg of kind climb or descend")
		}
	}
}

// legNames are the names of the legs of all flights of the file, each once, also
// for the effective scenario of a case.
func (sc *Scenario) legNames() []string {
	if sc.legs != nil {
		return sc.legs
	}
	var names []string
	add := func(f *Flight) {
		for _, leg := range f.Legs {
			if !slices.Contains(names, leg.Name) {
				names = append(names, leg.Name)
			}
		}
	}
	add(&sc.Flight)
	for _, k := range sc.Cases {
		if k.Flight != nil {
			add(k.Flight)
		}
	}
	return names
}

// neverSprays says that the spray runs in a leg of other cases only.
func (sc *Scenario) neverSprays() bool {
	if sc.Spray == nil || sc.Spray.Leg == "" || !slices.Contains(sc.legs, sc.Spray.Leg) {
		return false
	}
	return !slices.ContainsFunc(sc.Flight.Legs, func(leg *Leg) bool { return leg.Name == sc.Spray.Leg })
}
