package scenarios

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// digits is the number of significant digits of a printed value that has no
// doubt. Digits before the decimal point are never dropped.
const digits = 4

// DisplayUnit returns the unit in which results of dimension d are printed for
// display: us or si; any other system counts as us.
func DisplayUnit(d *Dimension, system string) string {
	if system == "si" {
		return d.Metric
	}
	return d.US
}

// Convert turns a value in SI into a unit; "" stands for the SI unit.
func Convert(value float64, unit string, d *Dimension) (float64, error) {
	u, err := d.printUnit(unit)
	if err != nil {
		return 0, err
	}
	return u.from(value, d.thermometer), nil
}

// printUnit is the unit of that name if it can print a value of dimension d.
func (d *Dimension) printUnit(name string) (unit, error) {
	if name == "" {
		name = d.SI
	}
	p := part{text: name, unit: name}
	u, err := d.unit(p)
	if err == nil && d.thermometer != u.thermometer && !(u.thermometer && u.difference) {
		err = d.mismatch(p, u)
	}
	return u, err
}

// Format prints a value in SI in a unit, with four significant digits; "" and
// units that do not fit stand for the SI unit.
func Format(value float64, unit string, d *Dimension) string {
	return Number{Value: value, Unit: unit}.Format(d)
}

// Exact prints a value in SI in a unit with all the digits needed to read it
// back unchanged.
func Exact(value float64, unit string, d *Dimension) string {
	return Number{Value: value, Unit: unit}.Exact(d)
}

// Format prints n in its own unit for people: with four significant digits,
// or as far as its doubt, of which two digits are shown.
func (n Number) Format(d *Dimension) string {
	u, name := n.printed(d)
	x := u.from(n.Value, d.thermometer)
	if n.Doubt <= 0 {
		return joinUnit(round(x, digits-1-exponent(x)), name)
	}
	s := u.from(n.Doubt, false)
	places := 1 - exponent(s)
	return joinDoubt(round(x, places), round(s, places), name, d)
}

// Exact prints n in its own unit so that Parse finds the same numbers again.
func (n Number) Exact(d *Dimension) string {
	u, name := n.printed(d)
	x := u.exact(n.Value, d.thermometer)
	if n.Doubt <= 0 {
		return joinUnit(x, name)
	}
	return joinDoubt(x, u.exact(n.Doubt, false), name, d)
}

// printed is the unit n is printed in: its own, or that of SI when it has none
// or one that does not fit.
func (n Number) printed(d *Dimension) (unit, string) {
	if u, err := d.printUnit(n.Unit); err == nil && n.Unit != "" {
		return u, n.Unit
	}
	u, err := d.printUnit(d.SI)
	if err != nil {
		return unit{factor: 1}, ""
	}
	return u, d.SI
}

func joinUnit(x, unit string) string {
	if unit == "" {
		return x
	}
	return x + " " + unit
}

func joinDoubt(x, doubt, unit string, d *Dimension) string {
	if d.powers == ofRatio {
		x = joinUnit(x, unit)
	}
	return fmt.Sprintf("%s ± %s", x, joinUnit(doubt, unit))
}

// exponent is the power of ten of the first digit of x.
func exponent(x float64) int {
	if x == 0 {
		return 0
	}
	return int(math.Floor(math.Log10(math.Abs(x))))
}

// round prints x with that many decimal places, without trailing zeros behind
// the point.
func round(x float64, places int) string {
	text := strconv.FormatFloat(x, 'f', max(places, 0), 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return text
}

// exact prints a value with the fewest digits from which to returns the same
// value, or, where rounding leaves none, one of its neighbours.
func (u unit) exact(value float64, reading bool) string {
	x := u.from(value, reading)
	for _, near := range []float64{x, math.Nextafter(x, math.Inf(-1)), math.Nextafter(x, math.Inf(1))} {
		for precision := 15; precision <= 17; precision++ {
			text := strconv.FormatFloat(near, 'g', precision, 64)
			y, err := strconv.ParseFloat(text, 64)
			if err == nil && u.to(y, reading) == value {
				return text
			}
		}
	}
	return strconv.FormatFloat(x, 'g', -1, 64)
}
