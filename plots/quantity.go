package plots

import (
	"errors"
	"fmt"
	"math"
)

// Axis is one varied path.
type Axis struct {
	Label  string
	Unit   string    // of the values, in print or as in scenario files; empty for a pure number
	Values []float64 // in the unit that is shown, rising
}

// mostShown bounds what an axis can show, so that its texts have room.
const mostShown = 1e9

// leastRise is the least difference of two values of an axis, so that their
// texts have an end.
const leastRise = 1e-7

// check returns what keeps the axis from being drawn.
func (a Axis) check() error {
	if a.Label == "" {
		return errors.New("an axis has no label")
	}
	if len(a.Values) == 0 {
		return fmt.Errorf("axis %s has no values", a.Label)
	}
	for i, v := range a.Values {
		if err := shown(fmt.Sprintf("value %d of axis %s", i+1, a.Label), v); err != nil {
			return err
		}
		if i > 0 && v-a.Values[i-1] < leastRise {
			return fmt.Errorf("value %d of axis %s does not rise by %g at least: %g after %g", i+1, a.Label, leastRise, v, a.Values[i-1])
		}
	}
	return nil
}

// shown returns an error that names what if a value is not finite or too large
// for an axis.
func shown(what string, v float64) error {
	if err := number(what, v); err != nil {
		return err
	}
	if math.Abs(v) > mostShown {
		return fmt.Errorf("%s has the value %g: a chart shows at most %g", what, v, mostShown)
	}
	return nil
}

// margins checks a margin for every one of n values; NaN is a run that failed.
func margins(what string, list []float64, n int) error {
	if len(list) != n {
		return fmt.Errorf("%s: %d margins for %d values", what, len(list), n)
	}
	for i, v := range list {
		if math.IsNaN(v) {
			continue
		}
		if err := shown(fmt.Sprintf("%s: margin %d", what, i+1), v); err != nil {
			return err
		}
	}
	return nil
}

// figures prints x with three digits, or to the sixth decimal.
func figures(x float64) string {
	if x == 0 {
		return "0"
	}
	digits := 2 - int(math.Floor(math.Log10(math.Abs(x))))
	const most = 6 // decimals
	return decimal(x, min(max(0, digits), most))
}
