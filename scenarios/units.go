package scenarios

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/agnivade/levenshtein"
)

// to turns a number in this unit into SI; reading says that it is read from a
// thermometer.
func (u unit) to(x float64, reading bool) float64 {
	if reading {
		return (x - u.zero) * u.factor
	}
	return x * u.factor
}

// from is the inverse of to.
func (u unit) from(value float64, reading bool) float64 {
	if reading {
		return value/u.factor + u.zero
	}
	return value / u.factor
}

// findUnit reads a unit such as in^2, °F or BTU/h/ft^2/ddegF. A compound is
// read from left to right: each factor behind a / divides. Unknown names are
// answered with near ones, of the wanted exponents if there are any.
func findUnit(text string, want powers) (unit, error) {
	u, err := readUnit(text, want)
	if err != nil {
		if other := respelt(text); other != text {
			if _, bad := readUnit(other, want); bad == nil {
				err = fmt.Errorf("write %s", other)
			}
		}
	}
	return u, err
}

// spelt are usual ways to write a unit that it is not read in.
var spelt = strings.NewReplacer(" per ", "/", "deg ", "deg", "° ", "°", "\"", "in", "″", "in", "''", "in", "'", "ft", "′", "ft",
	"hp-", "hp/", "(hp*h)", "hp/h", "(kW*h)", "kW/h")

// respelt is a unit in the way it is read.
func respelt(text string) string {
	text = spelt.Replace(text)
	if name, squared := strings.CutPrefix(text, "sq "); squared {
		text = name + "^2"
	}
	return text
}

// readUnit is findUnit for the accepted ways to write a unit.
func readUnit(text string, want powers) (unit, error) {
	if u, ok := units[text]; ok {
		return u, nil
	}
	compound := unit{factor: 1, difference: true}
	rest, over := text, false
	for {
		name, power, behind, err := cutFactor(rest)
		if err != nil {
			return unit{}, err
		}
		u, ok := units[name]
		switch {
		case !ok:
			return unit{}, unknownUnit(name, want)
		case !u.difference:
			return unit{}, fmt.Errorf("%s is the reading of a thermometer and cannot be part of a compound unit; write %s",
				name, strings.ReplaceAll(text, name, asDifference(name)))
		}
		if over {
			power = -power
		}
		compound.multiply(u, power)
		if behind == "" {
			return compound, nil
		}
		if over, rest, err = cutOperator(behind); err != nil {
			return unit{}, err
		}
	}
}

// multiply multiplies u by v to the power n.
func (u *unit) multiply(v unit, n int) {
	u.powers = u.powers.add(v.powers, n)
	for ; n > 0; n-- {
		u.factor *= v.factor
	}
	for ; n < 0; n++ {
		u.factor /= v.factor
	}
}

// cutFactor cuts a name and its power off the front of a unit.
func cutFactor(text string) (name string, power int, rest string, err error) {
	end := 0
	for i, r := range text {
		digit := '0' <= r && r <= '9'
		if !unicode.IsLetter(r) && r != '°' && r != '%' && (!digit || i == 0) {
			break
		}
		end = i + utf8.RuneLen(r)
	}
	name, rest = text[:end], strings.TrimLeft(text[end:], " ")
	if name == "" {
		return "", 0, "", malformed(text)
	}
	power, rest, err = cutPower(rest)
	return name, power, strings.TrimLeft(rest, " "), err
}

// malformed says what is wrong with a unit that goes on with text.
func malformed(text string) error {
	if text == "" {
		return errors.New("a unit is missing at the end")
	}
	r, _ := utf8.DecodeRuneInString(text)
	if r == '(' || r == ')' {
		return errors.New("units take no brackets; write W/m/K for W/(m*K)")
	}
	return fmt.Errorf("a unit cannot go on with %q", r)
}

// cutPower cuts a power, such as ^2, ^-1, ² or ⁻¹, off the front of text. No
// power is a power of one.
func cutPower(text string) (power int, rest string, err error) {
	digits, minus := []rune("⁰¹²³⁴⁵⁶⁷⁸⁹"), "⁻"
	rest, caret := strings.CutPrefix(text, "^")
	if caret {
		digits, minus = []rune("0123456789"), "-"
	}
	rest, negative := strings.CutPrefix(rest, minus)
	r, size := utf8.DecodeRuneInString(rest)
	power = slices.Index(digits, r)
	switch {
	case power > 0 && negative:
		return -power, rest[size:], nil
	case power > 0:
		return power, rest[size:], nil
	case caret || negative || power == 0:
		return 0, "", errors.New("a power is one digit from 1 to 9, as in in^2")
	}
	return 1, text, nil
}

// cutOperator cuts * or / off the front of text.
func cutOperator(text string) (over bool, rest string, err error) {
	r, size := utf8.DecodeRuneInString(text)
	switch r {
	case '/':
		over = true
	case '*', '·', '⋅':
	default:
		if unicode.IsLetter(r) || r == '°' {
			return false, "", errors.New("between two units stands * or /; inH2O and inHg are one word")
		}
		return false, "", malformed(text)
	}
	return over, strings.TrimLeft(text[size:], " "), nil
}

// asDifference is the unit of a difference between two readings in a unit.
func asDifference(reading string) string {
	switch reading {
	case "degF", "°F", "degR":
		return "ddegF"
	}
	return "K"
}

// mistaken are spellings whose nearest unit by letters is not the one meant.
var mistaken = map[string]string{
	"F": "degF", "f": "degF", "C": "degC", "c": "degC", "R": "degR",
	"Fahrenheit": "degF", "Celsius": "degC", "k": "K",
	"sqin": "in^2", "sqft": "ft^2", "sqcm": "cm^2", "sqm": "m^2", "sq": "in^2 or ft^2",
	"lpm": "L/min", "lph": "L/h", "foot": "ft", "feet": "ft", "inches": "in",
	"inWC": "inH2O", "inwc": "inH2O", "inAq": "inH2O", "sec": "s", "hour": "h", "hours": "h", "minutes": "min",
}

// unknownUnit names the known units nearest to a name.
func unknownUnit(name string, want powers) error {
	near := mistaken[name]
	if base := strings.TrimRight(name, "23"); near == "" && units[base].factor != 0 {
		near = base + "^" + name[len(base):]
	}
	if near == "" && want != ofRatio {
		near = strings.Join(nearestUnits(name, want), ", ")
	}
	if near == "" {
		return fmt.Errorf("%q is no known unit", name)
	}
	return fmt.Errorf("%q is no known unit; did you mean %s?", name, near)
}

// nearestUnits returns up to three units that differ least from name, at most
// by two letters and not by all of them; upper and lower case count as equal.
// If some of them have the wanted exponents, it returns only those.
func nearestUnits(name string, want powers) []string {
	var near []string
	least := min(2, utf8.RuneCountInString(name)-1)
	folded := strings.ToLower(name)
	for known := range units {
		distance := levenshtein.ComputeDistance(folded, strings.ToLower(known))
		if distance > least {
			continue
		}
		if distance < least {
			least, near = distance, near[:0]
		}
		near = append(near, known)
	}
	fits := func(name string) bool { return units[name].powers == want }
	if slices.ContainsFunc(near, fits) {
		near = slices.DeleteFunc(near, func(name string) bool { return !fits(name) })
	}
	slices.Sort(near)
	return near[:min(3, len(near))]
}
