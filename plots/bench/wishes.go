package bench

import (
	"strings"

	"hotclimb/scenarios"
)

// Spans of sliders for which the file names no bounds. What they leave out can be
// typed; they only say how far a hand moves. Engineering judgement.
const (
	leastOpening = 0.5 // of the opening as filed
	mostOpening  = 2
	newOpening   = 0.01 // where there is none [m²]

	leastSpeed = 0.75 // of the speed as filed
	mostSpeed  = 1.25

	leastPower = 0.4 // of the throttle or of the rated power

	moreSpray  = 2   // times the rate as filed
	sprayEmpty = 180 // or, where none runs, the tank in this time [s]

	warmer   = 30.0 / 1.8 // of the air [K]: 30 °F, or
	warmerSI = 15.0       // where degrees are Celsius
)

// openings are the inlets and exits.
func openings(k readyCase) []wish {
	var list []wish
	for _, o := range k.Scenario.Openings() {
		kind, name, _ := strings.Cut(o.Path, ".")
		w := wish{
			path: o.Path + ".area", label: words(name) + " (" + strings.TrimSuffix(kind, "s") + ")", group: groupOpenings,
			at: o.Area, lo: leastOpening * o.Area, hi: mostOpening * o.Area,
		}
		if o.Area == 0 {
			w.hi = newOpening
		}
		list = append(list, w)
	}
	return list
}

// spray is the rate of spray water.
func spray(k readyCase) []wish {
	sp := k.Scenario.Spray
	if sp == nil {
		return nil
	}
	most := moreSpray * sp.Rate.Value
	if most == 0 {
		most = sp.Tank.Value / sprayEmpty
	}
	return []wish{{path: "spray.rate", label: "spray water on the " + words(sp.Onto), group: groupSpray, at: sp.Rate.Value, hi: most}}
}

// air is the temperature of the outside air, in the way the day gives it.
func air(k readyCase) []wish {
	d := &k.Scenario.Day
	span := warmer
	if k.Scenario.Display == "si" {
		span = warmerSI
	}
	weather := k.plant.Weather
	w := wish{path: "day.temperature", label: "air at the field", group: groupAir, at: weather.Day.Temperature(weather.Elevation)}
	if d.Offset.Known {
		w.path, w.label, w.at = "day.isa_offset", "air warmer than standard", d.Offset.Value
	}
	w.lo, w.hi = w.at-span, w.at+span
	return []wish{w}
}

// climb is how fast and with which power each climb leg is flown; in a case without
// one, each level leg.
func climb(k readyCase) []wish {
	for _, kind := range []string{"climb", "level"} {
		var list []wish
		for _, leg := range k.Scenario.Flight.Legs {
			if leg.Kind == kind {
				list = append(list, legWishes(k, leg)...)
			}
		}
		if list != nil {
			return list
		}
	}
	return nil
}

// legWishes are the speed and the power of one leg.
func legWishes(k readyCase, leg *scenarios.Leg) []wish {
	at, name := "flight.legs."+leg.Name+".", words(leg.Name)
	v := leg.Speed.Value
	speed := wish{path: at + "speed", label: name + ": airspeed", group: groupClimb, at: v, lo: leastSpeed * v, hi: mostSpeed * v}
	power := wish{path: at + "throttle", label: name + ": power", group: groupClimb, at: 1, lo: leastPower, hi: 1, unit: "%"}
	switch {
	case leg.Power.Known:
		rated := k.Scenario.Engine.RatedPower.Value
		power = wish{path: at + "power", label: name + ": power", group: groupClimb, at: leg.Power.Value, lo: leastPower * rated, hi: rated}
	case leg.Throttle.Known:
		power.at = leg.Throttle.Value
	}
	return []wish{speed, power}
}
