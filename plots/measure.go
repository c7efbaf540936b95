package plots

import (
	"fmt"
	"strconv"
	"strings"

	"hotclimb/scenarios"
)

// Measure is how a quantity is written for people, in text and on pages.
type Measure struct {
	US, SI Unit
}

// Unit is a unit of text: value·Factor + Offset of a value in SI, or in °C.
type Unit struct {
	Name           string
	Factor, Offset float64
	Decimals       int
}

// UnitOf takes a unit of the scenario file by its name there.
func UnitOf[K scenarios.Kind](shown, name string, decimals int) Unit {
	d := scenarios.DimensionOf[K]()
	zero, err := scenarios.Convert(0, name, d)
	if err != nil {
		panic(err) // a name in the table below is wrong
	}
	one, _ := scenarios.Convert(1, name, d)
	return Unit{shown, one - zero, zero, decimals}
}

// poundForce is that of NIST SP 811, appendix B.8: 1 lbf = 4.4482216152605 N.
const poundForce = 4.4482216152605

// What text shows.
var (
	Temperature = Measure{UnitOf[scenarios.Temperature]("°F", "degF", 1), UnitOf[scenarios.Temperature]("°C", "degC", 1)}
	Warmth      = Measure{UnitOf[scenarios.Difference]("°F", "ddegF", 1), UnitOf[scenarios.Difference]("K", "K", 1)} // a difference of temperatures
	Height      = Measure{UnitOf[scenarios.Length]("ft", "ft", 0), UnitOf[scenarios.Length]("m", "m", 0)}
	Airspeed    = Measure{UnitOf[scenarios.Speed]("mph", "mph", 1), UnitOf[scenarios.Speed]("km/h", "km/h", 1)}
	ClimbRate   = Measure{UnitOf[scenarios.ClimbRate]("ft/min", "ft/min", 0), UnitOf[scenarios.ClimbRate]("m/s", "m/s", 2)}
	Power       = Measure{UnitOf[scenarios.Power]("hp", "hp", 1), UnitOf[scenarios.Power]("kW", "kW", 1)}
	FinePower   = Measure{UnitOf[scenarios.Power]("hp", "hp", 2), UnitOf[scenarios.Power]("kW", "kW", 3)} // of differences
	Heat        = Measure{UnitOf[scenarios.Power]("BTU/min", "BTU/min", 0), UnitOf[scenarios.Power]("kW", "kW", 1)}
	AirFlow     = Measure{UnitOf[scenarios.MassFlow]("lb/min", "lb/min", 1), UnitOf[scenarios.MassFlow]("kg/s", "kg/s", 3)}
	Mass        = Measure{UnitOf[scenarios.Mass]("lb", "lb", 1), UnitOf[scenarios.Mass]("kg", "kg", 2)}
	Force       = Measure{Unit{"lb", 1 / poundForce, 0, 1}, Unit{"N", 1, 0, 0}}
	Pressure    = Measure{UnitOf[scenarios.Pressure]("inH2O", "inH2O", 2), UnitOf[scenarios.Pressure]("Pa", "Pa", 0)}
	Opening     = Measure{UnitOf[scenarios.Area]("in²", "in^2", 1), UnitOf[scenarios.Area]("cm²", "cm^2", 0)}
)

// UnitsOf is the system that a scenario asks for: us or si.
func UnitsOf(display string) Units {
	if display == "si" {
		return SI
	}
	return US
}

// In is the unit of a system.
func (m Measure) In(s Units) Unit {
	if s == SI {
		return m.SI
	}
	return m.US
}

// Of returns a value in the unit.
func (u Unit) Of(value float64) float64 { return value*u.Factor + u.Offset }

// Number prints a value without its unit.
func (u Unit) Number(value float64) string {
	text := strconv.FormatFloat(u.Of(value), 'f', u.Decimals, 64)
	if strings.Trim(text, "-0.") == "" {
		return strings.TrimPrefix(text, "-")
	}
	return text
}

// Show prints a value with its unit.
func (m Measure) Show(s Units, value float64) string {
	u := m.In(s)
	return u.Number(value) + " " + u.Name
}

// Signed prints a difference with its sign, without its unit.
func (u Unit) Signed(value float64) string {
	text := u.Number(value)
	if !strings.HasPrefix(text, "-") && strings.Trim(text, "0.") != "" {
		text = "+" + text
	}
	return text
}

// Change prints a difference with its sign and unit.
func (m Measure) Change(s Units, value float64) string {
	u := m.In(s)
	return u.Signed(value) + " " + u.Name
}

// Clock prints a time [s] as minutes and seconds.
func Clock(seconds float64) string {
	whole := int(seconds + 0.5)
	return fmt.Sprintf("%d:%02d", whole/60, whole%60)
}
