package scenarios

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// Parse reads a number of dimension d with its unit and its doubt, if any:
//
//	13 in^2            0.45 lb/hp/h         -5 °C        50 %
//	13 in^2 ± 1 in^2   13 ± 1 in^2          13 in^2 ± 1  one unit serves both
//	95 degF ± 3 degF   95 degF ± 3 ddegF    the doubt of a temperature is a difference
//	40 L/min ± 10 %                         a doubt of 10 % of the value
//	0.60 ± 0.10        60 % ± 10 %          doubts of ratios are written like their values
//
// The sign ± may be written +/-. Only a ratio may be a bare number. A ratio
// and its doubt both have the sign % or neither, for 0.6 ± 10 % could be read
// in two ways. Thousands are not separated and the decimal sign is the point.
func Parse(text string, d *Dimension) (Number, error) {
	left, right, doubted, err := cutDoubt(normal(text))
	if err != nil {
		return Number{}, err
	}
	value, err := readPart(left)
	if err != nil {
		return Number{}, err
	}
	var doubt part
	if doubted {
		if doubt, err = readPart(right); err != nil {
			return Number{}, err
		}
		if value, doubt, err = shareUnit(value, doubt, d); err != nil {
			return Number{}, err
		}
	}
	n := Number{Unit: value.unit, Text: text, Written: true, Known: true}
	if n.Value, err = d.value(value); err != nil {
		return Number{}, err
	}
	if !doubted {
		return n, nil
	}
	if n.Doubt, err = d.doubt(doubt); err != nil {
		return Number{}, err
	}
	return n, nil
}

// part is a number and its unit, each as written.
type part struct {
	text   string
	number float64
	unit   string
}

// normal replaces spellings of a sign by the usual one.
func normal(text string) string {
	return strings.TrimSpace(spellings.Replace(text))
}

var spellings = strings.NewReplacer(
	"+/-", "±", "+/−", "±", "−", "-", "º", "°",
	"\u00a0", " ", "\u202f", " ", "\u2009", " ", "\t", " ",
)

// cutDoubt cuts a text at its ±.
func cutDoubt(text string) (value, doubt string, doubted bool, err error) {
	value, doubt, doubted = strings.Cut(text, "±")
	if strings.Contains(doubt, "±") {
		return "", "", false, fmt.Errorf("%s has more than one doubt", text)
	}
	return strings.TrimSpace(value), strings.TrimSpace(doubt), doubted, nil
}

// Numbers beyond these, or below their inverse, are slips of the finger,
// whatever they measure. They are so far apart that every accepted number can
// be printed in every accepted unit and be read again.
const (
	largestWritten = 1e100
	largestSI      = 1e60
	largestUnit    = 1e30
)

// within tells whether x is zero or of a size between 1/limit and limit.
func within(x, limit float64) bool {
	size := math.Abs(x)
	return x == 0 || size <= limit && size >= 1/limit
}

// readPart splits a text behind the longest number it starts with.
func readPart(text string) (part, error) {
	end := numberEnd(text)
	if end == 0 {
		return part{}, notNumber(text)
	}
	x, err := strconv.ParseFloat(text[:end], 64)
	vanished := x == 0 && strings.ContainsAny(mantissa(text[:end]), "123456789")
	if err != nil || vanished || !within(x, largestWritten) {
		return part{}, fmt.Errorf("%s is no size a quantity can have", text[:end])
	}
	unit := strings.TrimSpace(text[end:])
	if err := separators(text, unit); err != nil {
		return part{}, err
	}
	return part{text: text, number: x, unit: unit}, nil
}

// mantissa is the part of a number before its exponent.
func mantissa(number string) string {
	if i := strings.IndexAny(number, "eE"); i >= 0 {
		return number[:i]
	}
	return number
}

// numberEnd is the length of the longest number that text starts with, such
// as -13, .5 or 1e-3; 0 when there is none.
func numberEnd(text string) int {
	i := 0
	if i < len(text) && (text[i] == '-' || text[i] == '+') {
		i++
	}
	whole := digitsEnd(text, i)
	end, digits := whole, whole-i
	if end < len(text) && text[end] == '.' {
		fraction := digitsEnd(text, end+1)
		digits += fraction - end - 1
		end = fraction
	}
	if digits == 0 {
		return 0
	}
	if end < len(text) && (text[end] == 'e' || text[end] == 'E') {
		i = end + 1
		if i < len(text) && (text[i] == '-' || text[i] == '+') {
			i++
		}
		if exponent := digitsEnd(text, i); exponent > i {
			end = exponent
		}
	}
	return end
}

func digitsEnd(text string, i int) int {
	for i < len(text) && '0' <= text[i] && text[i] <= '9' {
		i++
	}
	return i
}

func notNumber(text string) error {
	switch strings.ToLower(strings.TrimLeft(text, "+-")) {
	case "nan", ".nan", "inf", ".inf", "infinity":
		return fmt.Errorf("%s is not a finite number", text)
	case "":
		return errors.New("a number is missing")
	}
	return fmt.Errorf("%q does not start with a number", text)
}

var (
	grouped   = regexp.MustCompile(`^([+-]?[1-9]\d{0,2}(?:[,'_ ]\d{3})+(?:\.\d+)?)(?:\D|$)`)
	commaOnly = regexp.MustCompile(`^[+-]?\d+,\d+`)
	mixed     = regexp.MustCompile(`^([+-]?\d+) +(\d+)/([1-9]\d*)`)
	clockTime = regexp.MustCompile(`^(\d+):([0-5]\d)`)
	noGroups  = strings.NewReplacer(",", "", "'", "", "_", "", " ", "")
)

// mixedDecimal is a whole number and a fraction as one decimal number.
func mixedDecimal(m []string) string {
	whole, _ := strconv.ParseFloat(strings.TrimLeft(m[1], "+-"), 64)
	over, _ := strconv.ParseFloat(m[2], 64)
	under, _ := strconv.ParseFloat(m[3], 64)
	sign := ""
	if m[1][0] == '-' {
		sign = "-"
	}
	return sign + strconv.FormatFloat(whole+over/under, 'g', 6, 64)
}

// separators explains what is wrong when digits or a separator of digits
// follow a number; unit is what follows it.
func separators(text, unit string) error {
	if unit == "" || !strings.ContainsRune(":,'_./0123456789", rune(unit[0])) {
		return nil
	}
	if m := mixed.FindStringSubmatch(text); m != nil {
		return fmt.Errorf("%s has a fraction; write %s", text, strings.Replace(text, m[0], mixedDecimal(m), 1))
	}
	if m := clockTime.FindStringSubmatch(text); m != nil {
		return fmt.Errorf("%s is minutes and seconds; write %s min", text, mixedDecimal([]string{m[0], m[1], m[2], "60"}))
	}
	digits := commaOnly.FindString(text)
	point := strings.Replace(digits, ",", ".", 1)
	group := grouped.FindStringSubmatch(text)
	switch {
	case group != nil && group[1] == digits:
		return fmt.Errorf("%s has a comma; write %s or %s", text, noGroups.Replace(digits), point)
	case group != nil:
		return fmt.Errorf("%s separates its thousands; write %s", text, noGroups.Replace(group[1]))
	case digits != "":
		return fmt.Errorf("%s has a decimal comma; write %s", text, point)
	case unit[0] == '/':
		return fmt.Errorf("%s is a fraction or a mixture; write a decimal number, or a share such as 50 %%", text)
	}
	return fmt.Errorf("%s: %q cannot follow a number", text, unit)
}
