package sweep

import (
	"fmt"
	"math"
)

// Kinds of designs, as the file names them.
const (
	GridDesign  = "grid"
	LatinDesign = "latin_hypercube"
	SobolDesign = "sobol"
)

// NewDesigns returns the designs of a kind. The grid is every combination of
// the values of its factors; points and seed do not matter to it. The other
// kinds draw that many points from the seed. Then a factor with values or words
// takes each of them equally often, as nearly as the points allow, and one with
// bounds alone anything between them, or whole numbers when it counts pieces.
//
// A design follows from kind, points, seed, and its number alone.
func NewDesigns(kind string, factors []Factor, points int, seed uint64) (Designs, error) {
	if kind == GridDesign {
		return Grid(factors)
	}
	if err := drawable(factors, points); err != nil {
		return nil, err
	}
	switch kind {
	case LatinDesign:
		return &drawn{factors, points, NewLatin(points, len(factors), seed)}, nil
	case SobolDesign:
		s, err := NewSobol(len(factors))
		if err != nil {
			return nil, err
		}
		return &drawn{factors, points, s.Shifted(seed)}, nil
	}
	return nil, fmt.Errorf("design %q is not known: take %s, %s or %s", kind, GridDesign, LatinDesign, SobolDesign)
}

// drawable is the error of factors that no points can be drawn for.
func drawable(factors []Factor, points int) error {
	if len(factors) == 0 {
		return errNothingVaries
	}
	if points < 1 || points > mostPoints {
		return fmt.Errorf("%d points: take 1 to %d", points, mostPoints)
	}
	for _, f := range factors {
		lo, hi := wholeBounds(f)
		switch {
		case values(f) > 0:
		case !f.Param.IsNumber():
			return fmt.Errorf("%s: has no words to draw from: write a list separated by commas", f.Param.Path)
		case f.Param.Whole && lo > hi:
			return fmt.Errorf("%s: counts pieces, and no whole number lies from %g to %g: widen the bounds", f.Param.Path, f.Lo, f.Hi)
		}
	}
	return nil
}

// drawn are points of the unit cube, stretched over what the factors take.
type drawn struct {
	factors []Factor
	n       int
	points  interface {
		// Coordinate is one coordinate of point i, from 0 and less than 1.
		Coordinate(i, dimension int) float64
	}
}

func (d *drawn) Len() int { return d.n }

func (d *drawn) At(i int, levels []Level) {
	for k := range d.factors {
		levels[k] = levelAt(&d.factors[k], d.points.Coordinate(i, k))
	}
}

// levelAt is what a factor takes at u, from 0 and less than 1.
func levelAt(f *Factor, u float64) Level {
	if n := values(*f); n > 0 {
		return level(*f, int(u*float64(n)))
	}
	if f.Param.Whole {
		lo, hi := wholeBounds(*f)
		return Level{Number: lo + math.Floor(u*(hi-lo+1))}
	}
	return Level{Number: min(f.Lo+(f.Hi-f.Lo)*u, f.Hi)} // rounding may pass the bound
}

// wholeBounds are the least and the greatest whole number between the bounds.
func wholeBounds(f Factor) (lo, hi float64) { return math.Ceil(f.Lo), math.Floor(f.Hi) }
