package scenarios

import (
	"fmt"
	"math"
)

// shareUnit gives the one unit of a value and its doubt to both, and turns a
// doubt in percent of the value into that unit.
func shareUnit(value, doubt part, d *Dimension) (part, part, error) {
	if doubt.number < 0 || math.Signbit(doubt.number) {
		return value, doubt, fmt.Errorf("a doubt is not negative, as %s is", doubt.text)
	}
	if d.powers == ofRatio {
		if (value.unit == "") != (doubt.unit == "") {
			return value, doubt, fmt.Errorf("%s ± %s can be read in two ways; write 0.6 ± 0.1 or 60 %% ± 10 %%", value.text, doubt.text)
		}
		return value, doubt, nil
	}
	switch {
	case doubt.unit == "%" && d.thermometer:
		return value, doubt, fmt.Errorf("%s of a temperature has no meaning; write its doubt in ddegF or K", doubt.text)
	case doubt.unit == "%":
		doubt.number *= math.Abs(value.number) / 100
		doubt.unit = value.unit
	case doubt.unit == "":
		doubt.unit = value.unit
	case value.unit == "":
		value.unit = doubt.unit
		value.text += " " + doubt.unit
	}
	return value, doubt, nil
}

// value is p in SI.
func (d *Dimension) value(p part) (float64, error) {
	u, err := d.unit(p)
	if err != nil {
		return 0, err
	}
	if d.thermometer != u.thermometer && !(u.thermometer && u.difference) {
		return 0, d.mismatch(p, u)
	}
	return sized(u.to(p.number, d.thermometer), p)
}

// doubt is the doubt p in SI. That of a temperature is a
// difference, whichever way its unit is written.
func (d *Dimension) doubt(p part) (float64, error) {
	u, err := d.unit(p)
	if err != nil {
		return 0, err
	}
	if !d.thermometer && !u.difference {
		return 0, d.mismatch(p, u)
	}
	return sized(u.to(p.number, false), p)
}

// unit is the unit of p if it has the exponents of d.
func (d *Dimension) unit(p part) (unit, error) {
	if p.unit == "" && d.powers == ofRatio {
		return unit{factor: 1, difference: true}, nil
	}
	if p.unit == "" {
		return unit{}, fmt.Errorf("%s has no unit; %s", p.text, d.takes())
	}
	u, err := findUnit(p.unit, d.powers)
	if err != nil {
		return unit{}, fmt.Errorf("%s: %w", p.text, err)
	}
	if u.powers != d.powers {
		return unit{}, d.mismatch(p, u)
	}
	if !within(u.factor, largestUnit) {
		return unit{}, fmt.Errorf("%s: %s is no size a unit can have", p.text, p.unit)
	}
	return u, nil
}

// mismatch says what p measures and what d takes.
func (d *Dimension) mismatch(p part, u unit) error {
	if name := measures(u); name != "" {
		return fmt.Errorf("%s is %s; %s", p.text, withArticle(name), d.takes())
	}
	return fmt.Errorf("%s is not %s; %s", p.text, withArticle(d.Name), d.takes())
}

// sized returns x, the SI value of p, if it has a size that quantities have.
func sized(x float64, p part) (float64, error) {
	if !within(x, largestSI) {
		return 0, fmt.Errorf("%s is no size a quantity can have", p.text)
	}
	return x, nil
}
