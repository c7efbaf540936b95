package sweep

import (
	"math"

	"hotclimb/scenarios"
)

// Price is what a change takes besides drag.
type Price struct {
	Weight float64 // added, negative when taken out [kg]
	Moment float64 // of that weight about the datum, positive aft [kg m]
	Cost   float64 // in the currency of the file
	Hours  float64 // of work [h]
}

func priceOf(c *scenarios.Change) Price {
	w := c.Weight.Value
	return Price{w, w * c.Arm.Value, c.Cost.Value, c.Hours.Value}
}

func (p Price) plus(q Price) Price {
	return Price{p.Weight + q.Weight, p.Moment + q.Moment, p.Cost + q.Cost, p.Hours + q.Hours}
}

// What a variant must take for a gain to be divided by it: below, it takes as
// good as none (engineering judgement: a tenth of a horsepower, 5 ft/min).
const (
	leastDragPower = 75.0  // W
	leastClimb     = 0.025 // m/s
)

// PerDragPower is the gain of the lesser margin over the cooling-drag power that
// the variant adds [K/W]; NaN when it adds less than 75 W.
func (e *Effect) PerDragPower() float64 {
	if e.DragPower < leastDragPower {
		return math.NaN()
	}
	return e.LeastGain / e.DragPower
}

// PerClimb is the gain of the lesser margin over the rate of climb that the
// variant takes [K s/m]; NaN when it takes less than 0.025 m/s.
func (e *Effect) PerClimb() float64 {
	if e.Climb > -leastClimb {
		return math.NaN()
	}
	return e.LeastGain / -e.Climb
}

// Per is a gain of the lesser margin [K] over what it takes; NaN when that is
// nothing or less.
func Per(gain, takes float64) float64 {
	if takes <= 0 {
		return math.NaN()
	}
	return gain / takes
}
