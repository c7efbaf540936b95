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

const (
	foot          = 0.3048     // m, exact, international foot
	pound         = 0.45359237 // kg, exact, avoirdupois pound
	inch          = 0.0254     // m, exact, international inch
	secondsPerMin = 60.0

	// horsepower is 550 ft·lbf/s [W]: NIST SP 811, appendix B.8.
	horsepower = 745.69987
)

// temperature is the scale of readings in °C.
func (u Units) temperature() scale {
	if u == SI {
		return scale{"°C", 1, 0}
	}
	return scale{"°F", 1.8, 32}
}

// altitude is the scale of heights in m.
func (u Units) altitude() scale {
	if u == SI {
		return scale{"m", 1, 0}
	}
	return scale{"ft", 1 / foot, 0}
}

// airFlow is the scale of mass flows in kg/s.
func (u Units) airFlow() scale {
	if u == SI {
		return scale{"kg/s", 1, 0}
	}
	return scale{"lb/min", secondsPerMin / pound, 0}
}

// difference is the scale of margins and gains in K.
func (u Units) difference() scale {
	if u == SI {
		return scale{"K", 1, 0}
	}
	return scale{"°F", 1.8, 0}
}

// power is the scale of powers in W.
func (u Units) power() scale {
	if u == SI {
		return scale{"kW", 1e-3, 0}
	}
	return scale{"hp", 1 / horsepower, 0}
}

// area is the scale of openings in m².
func (u Units) area() scale {
	if u == SI {
		return scale{"cm²", 1e4, 0}
	}
	return scale{"in²", 1 / (inch * inch), 0}
}

// known says whether u is one of the systems.
func (u Units) known() error {
	if u != US && u != SI {
		return errors.New("the units of a chart are US or SI")
	}
	return nil
}

// minutes is the scale of times in s.
func minutes() scale { return scale{"min", 1 / secondsPerMin, 0} }

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
