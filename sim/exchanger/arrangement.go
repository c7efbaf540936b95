package exchanger

import "math"

// Arrangement is the way the two streams of a core pass each other. The zero
// value is [BothUnmixed].
type Arrangement int

const (
	// BothUnmixed is crossflow without mixing in either stream: several rows of
	// tubes, or multi-port tubes, with fins.
	BothUnmixed Arrangement = iota
	// AirUnmixed is crossflow with the liquid mixed across the depth: a single
	// row of flat tubes. As a function of NTU and Cr alone it takes the air as
	// the smaller stream; [Arrangement.Between] picks [LeastMixed] otherwise.
	AirUnmixed
	// LeastMixed is crossflow with the smaller stream mixed and the larger one
	// unmixed: what AirUnmixed becomes when the air is the larger stream.
	LeastMixed
	// Counterflow runs the streams in opposite directions: a brazed plate
	// exchanger.
	Counterflow
	// ParallelFlow runs the streams in the same direction.
	ParallelFlow
)

// arrangementNames holds the text of each Arrangement, in order.
var arrangementNames = [...]string{
	"both unmixed", "air unmixed", "least mixed", "counterflow", "parallel flow",
}

// String returns the name in words.
func (a Arrangement) String() string {
	if a < 0 || int(a) >= len(arrangementNames) {
		return "unknown arrangement"
	}
	return arrangementNames[a]
}

// Between returns the smaller capacity rate cmin [W/K], the capacity ratio
// cr = Cmin/Cmax [-] and the arrangement that holds for streams of capacity
// rates air and liquid [W/K]. Only AirUnmixed depends on which is smaller.
// A stream at rest gives cmin = 0 and cr = 0.
func (a Arrangement) Between(air, liquid float64) (cmin, cr float64, actual Arrangement) {
	cmin, cmax, actual := air, liquid, a
	if liquid < air {
		cmin, cmax = liquid, air
		if a == AirUnmixed {
			actual = LeastMixed
		}
	}
	if !(cmin > 0) {
		return 0, 0, actual
	}
	return cmin, cmin / cmax, actual
}

// Effectiveness returns ε [-] at ntu = UA/Cmin [-] and cr = Cmin/Cmax [-].
//
// ntu below 0 counts as 0, cr is clamped to [0, 1]; NaN in gives 0. The result
// is in [0, 1], rises with ntu and falls with cr. At cr = 0 every arrangement
// gives 1 − e^{−ntu}.
//
// Formulae: Incropera & DeWitt, Fundamentals of Heat and Mass Transfer,
// table 11.3; for BothUnmixed the series of Mason (1954), see
// [CrossBothUnmixed]. An unknown arrangement counts as BothUnmixed.
func (a Arrangement) Effectiveness(ntu, cr float64) float64 { return a.effect(ntu, cr).eps }

// effect is [Arrangement.Effectiveness] with its slopes.
func (a Arrangement) effect(ntu, cr float64) effect {
	if !(ntu > 0) {
		return effect{}
	}
	cr = max(0, min(1, cr))
	if !(cr >= 1e-12) { // the difference to the limit is of order cr
		gone := -math.Expm1(-ntu)
		return effect{eps: gone, byNTU: 1 - gone}
	}
	e := a.formula(ntu, cr)
	e.eps = min(1, e.eps) // rounding may pass 1 by 2e-16
	return e
}

// formula returns the effect of the arrangement, without guards.
func (a Arrangement) formula(ntu, cr float64) effect {
	switch a {
	case AirUnmixed:
		return crossLargerMixed(ntu, cr)
	case LeastMixed:
		return crossSmallerMixed(ntu, cr)
	case Counterflow:
		return counter(ntu, cr)
	case ParallelFlow:
		return parallel(ntu, cr)
	}
	return crossBothUnmixed(ntu, cr)
}
