package plots

import (
	"errors"
	"strconv"
	"strings"
)

// Units is the system of units of a chart.
type Units int

// The systems of units; the zero value is that of the trade in the US.
const (
	US Units = iota // °F, ft, lb/min
	SI              // °C, m, kg/s
)

// scale turns a value as the simulator gives it into that of an axis.
type scale struct {
	unit           string
	factor, offset float64
}

func (s scale) of(x float64) float64 { return x*s.factor + s.offset }

func (s scale) all(x []float64) []float64 {
	y := make([]float64, len(x))
	for i := range x {
		y[i] = s.of(x[i])
	}
	return y
}

func scaleOf(m Measure, u Units) scale {
	unit := m.In(u)
	return scale{unit.Name, unit.Factor, unit.Offset}
}

func (u Units) temperature() scale { return scaleOf(Temperature, u) } // of readings in °C
func (u Units) altitude() scale    { return scaleOf(Height, u) }      // of heights in m
func (u Units) airFlow() scale     { return scaleOf(AirFlow, u) }     // of mass flows in kg/s
func (u Units) difference() scale  { return scaleOf(Warmth, u) }      // of margins and gains in K
func (u Units) power() scale       { return scaleOf(Power, u) }       // of powers in W
func (u Units) area() scale        { return scaleOf(Opening, u) }     // of openings in m²

// known says whether u is one of the systems.
func (u Units) known() error {
	if u != US && u != SI {
		return errors.New("the units of a chart are US or SI")
	}
	return nil
}

// minutes is the scale of times in s.
func minutes() scale { return scale{"min", 1.0 / 60, 0} }

// signed prints x with its sign, unless it is zero.
func signed(x float64, places int) string {
	text := decimal(x, places)
	if x > 0 && strings.Trim(text, "0.") != "" {
		return "+" + text
	}
	return text
}

// decimal prints x with that many decimal places and a true minus sign.
func decimal(x float64, places int) string {
	text := strconv.FormatFloat(x, 'f', places, 64)
	if digits := strings.TrimPrefix(text, "-"); digits != text {
		if strings.Trim(digits, "0.") == "" {
			return digits
		}
		return "−" + digits
	}
	return text
}

// clock prints a time in minutes to 0.1 min, with its unit.
func clock(t float64) string { return decimal(t, 1) + " min" }
