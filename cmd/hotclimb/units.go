package main

import (
	"fmt"
	"strconv"
	"strings"

	"hotclimb/plots"
	"hotclimb/scenarios"
)

// system is the system of units of printed text: us or si.
type system string

// charts is the same system for charts.
func (s system) charts() plots.Units {
	if s == "si" {
		return plots.SI
	}
	return plots.US
}

// measure is how a quantity is printed for people.
type measure struct {
	us, si unit
}

// unit is a unit of printed text: value·factor + offset of a value in SI.
type unit struct {
	name           string
	factor, offset float64
	decimals       int
}

// of takes a unit of the scenario file by its name there.
func of[K scenarios.Kind](shown, name string, decimals int) unit {
	d := scenarios.DimensionOf[K]()
	zero, err := scenarios.Convert(0, name, d)
	if err != nil {
		panic(err) // a name in the table below is wrong
	}
	one, _ := scenarios.Convert(1, name, d)
	return unit{shown, one - zero, zero, decimals}
}

// poundForce is that of NIST SP 811, appendix B.8: 1 lbf = 4.4482216152605 N.
const poundForce = 4.4482216152605

// What text shows.
var (
	temperature = measure{of[scenarios.Temperature]("°F", "degF", 1), of[scenarios.Temperature]("°C", "degC", 1)}
	difference  = measure{of[scenarios.Difference]("°F", "ddegF", 1), of[scenarios.Difference]("K", "K", 1)}
	height      = measure{of[scenarios.Length]("ft", "ft", 0), of[scenarios.Length]("m", "m", 0)}
	airspeed    = measure{of[scenarios.Speed]("mph", "mph", 1), of[scenarios.Speed]("km/h", "km/h", 1)}
	climbRate   = measure{of[scenarios.ClimbRate]("ft/min", "ft/min", 0), of[scenarios.ClimbRate]("m/s", "m/s", 2)}
	power       = measure{of[scenarios.Power]("hp", "hp", 1), of[scenarios.Power]("kW", "kW", 1)}
	finePower   = measure{of[scenarios.Power]("hp", "hp", 2), of[scenarios.Power]("kW", "kW", 3)} // of differences
	heat        = measure{of[scenarios.Power]("BTU/min", "BTU/min", 0), of[scenarios.Power]("kW", "kW", 1)}
	airFlow     = measure{of[scenarios.MassFlow]("lb/min", "lb/min", 1), of[scenarios.MassFlow]("kg/s", "kg/s", 3)}
	mass        = measure{of[scenarios.Mass]("lb", "lb", 1), of[scenarios.Mass]("kg", "kg", 2)}
	force       = measure{unit{"lb", 1 / poundForce, 0, 1}, unit{"N", 1, 0, 0}}
)

func (m measure) in(s system) unit {
	if s == "si" {
		return m.si
	}
	return m.us
}

// of returns a value in the unit.
func (u unit) of(value float64) float64 { return value*u.factor + u.offset }

// number prints a value without its unit.
func (u unit) number(value float64) string {
	text := strconv.FormatFloat(u.of(value), 'f', u.decimals, 64)
	if strings.Trim(text, "-0.") == "" {
		return strings.TrimPrefix(text, "-")
	}
	return text
}

// show prints a value with its unit.
func (m measure) show(s system, value float64) string {
	u := m.in(s)
	return u.number(value) + " " + u.name
}

// change prints a difference with its sign and unit.
func (m measure) change(s system, value float64) string {
	u := m.in(s)
	text := u.number(value)
	if !strings.HasPrefix(text, "-") && strings.Trim(text, "0.") != "" {
		text = "+" + text
	}
	return text + " " + u.name
}

// clock prints a time as minutes and seconds.
func clock(seconds float64) string {
	whole := int(seconds + 0.5)
	return fmt.Sprintf("%d:%02d", whole/60, whole%60)
}

// pretty writes the units in a text as people do.
func pretty(text string) string { return unitSigns.Replace(text) }

var unitSigns = strings.NewReplacer("ddegF", "°F", "ddegC", "°C", "degF", "°F", "degC", "°C", "^2", "²", "^3", "³")
