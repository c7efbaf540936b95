package optimum

import (
	"errors"
	"math"
)

// errNoUse ends a search that cannot come to anything.
var errNoUse = errors.New("there is nothing to search")

// probe is one evaluation of a margin: good when it is 0 or more, bad when it is
// negative or NaN, which stands for no flight at all.
type probe struct{ x, margin float64 }

func (p probe) isGood() bool { return p.margin >= 0 }

// edge is where good turns into bad.
type edge struct {
	good, bad       probe
	hasGood, hasBad bool
}

func (e *edge) take(p probe) {
	if p.isGood() {
		e.good, e.hasGood = p, true
	} else {
		e.bad, e.hasBad = p, true
	}
}

// temperatureTolerance is how near a highest temperature is found [K].
const temperatureTolerance = 0.05

// highest finds the highest field temperature of a good margin between
// ColdestField and HottestField, from a first guess. The margin falls with the
// temperature, about 1 K/K.
func highest(guess float64, margin func(float64) (float64, error)) (edge, error) {
	var e edge
	x, more := math.Max(ColdestField, math.Min(guess, HottestField)), 1.0
	for {
		m, err := margin(x)
		if err != nil {
			return e, err
		}
		e.take(probe{x, m})
		if e.hasGood && e.hasBad {
			return refine(e, temperatureTolerance, margin)
		}
		if e.hasGood && x == HottestField || e.hasBad && x == ColdestField {
			return e, nil
		}
		step := nextStep(m) * more
		more *= 2
		x = math.Max(ColdestField, math.Min(x+step, HottestField))
	}
}

// nextStep is how far to go for the other side of an edge [K]: a little beyond
// where the margin would be used up at 1 K/K.
func nextStep(margin float64) float64 {
	const beyond, least, blind = 1.15, 0.5, 5.0
	switch {
	case math.IsNaN(margin):
		return -blind
	case margin < 0:
		return margin*beyond - least
	}
	return margin*beyond + least
}

// refine narrows an edge that is bracketed until good and bad are not farther
// apart than tol, whichever lies higher. It goes by the secant, aimed a little
// to either side of the zero so that the bracket closes from both, and halves
// the bracket whenever two evaluations have not done so.
func refine(e edge, tol float64, margin func(float64) (float64, error)) (edge, error) {
	width := func() float64 { return math.Abs(e.bad.x - e.good.x) }
	aimGood, before := true, [2]float64{math.Inf(1), math.Inf(1)}
	for width() > tol {
		x := 0.5 * (e.good.x + e.bad.x)
		if width() <= 0.5*before[0] && !math.IsNaN(e.bad.margin) {
			x = e.aim(aimGood, tol)
		}
		before = [2]float64{before[1], width()}
		m, err := margin(x)
		if err != nil {
			return e, err
		}
		p := probe{x, m}
		e.take(p)
		aimGood = !p.isGood()
	}
	return e, nil
}

// aim is the zero of the secant, moved by 0.4 tol to the good or the bad side,
// and kept inside the bracket.
func (e *edge) aim(toGood bool, tol float64) float64 {
	way := e.bad.x - e.good.x
	share := e.good.margin / (e.good.margin - e.bad.margin)
	by := 0.4 * tol / math.Abs(way)
	if toGood {
		by = -by
	}
	const rim = 0.02
	return e.good.x + way*math.Max(rim, math.Min(share+by, 1-rim))
}
