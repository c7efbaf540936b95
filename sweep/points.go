package sweep

import (
	"fmt"
	"math"
	"math/bits"
	"math/rand/v2"
)

// Points is a set of points in the unit cube, by number.
type Points interface {
	// Coordinate is one coordinate of point i, from 0 and less than 1.
	Coordinate(i, dimension int) float64
}

// PointFault is the error of n points in a design that has no such number of
// them; nil when it has.
func PointFault(design string, n int) error {
	switch {
	case design != SobolDesign && design != LatinDesign:
		return fmt.Errorf("design %q is not known: take %s or %s", design, SobolDesign, LatinDesign)
	case n > 0 && design == SobolDesign && bits.OnesCount(uint(n)) != 1:
		return fmt.Errorf("%d points: a Sobol sequence needs a power of two", n)
	}
	return nil
}

// NewPoints returns n points that stand for draws: the start of a Sobol sequence,
// for which n is a power of two, or a Latin hypercube.
func NewPoints(design string, n, dimensions int, seed uint64) (Points, error) {
	if err := PointFault(design, n); err != nil {
		return nil, err
	}
	if design == LatinDesign {
		return NewLatin(n, dimensions, seed), nil
	}
	sobol, err := NewSobol(dimensions)
	if err != nil {
		return nil, fmt.Errorf("%w; a Latin hypercube has no such bound", err)
	}
	return net{sobol.Shifted(seed), float64(n), seed}, nil
}

// net is the start of a Sobol sequence, n = 2^m points, each at a random place
// within its stratum of every dimension.
//
// These points have m binary digits. The others all come from the shift, the same
// for each of them, so that the last stratum may hold its point far too near to 1,
// where a normal goes off to infinity, or far too near to its other end. Places of
// their own leave the net as it is, which lives in the first m digits, and take
// the error of one dimension from n^-1 to n^-3/2 as strata do.
type net struct {
	shifted Sobol
	n       float64
	seed    uint64
}

func (p net) Coordinate(i, dimension int) float64 {
	var r rand.PCG
	r.Seed(p.seed, uint64(dimension)<<32|uint64(i))
	const places = 1 << 31 // with 2^20 points the sum is exact, and below 1
	return (math.Floor(p.shifted.Coordinate(i, dimension)*p.n) + float64(r.Uint64()>>33)/places) / p.n
}
