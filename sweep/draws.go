package sweep

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/mat"
)

// Draws turn points of the unit cube into numbers that are not known exactly.
//
// Correlations are those of standard normals z = L u with R = L Lᵀ and u
// independent, each of which then becomes the number that has the same
// probability below it (A. M. Nataf, "Détermination des distributions de
// probabilités dont les marges sont données", Comptes rendus de l'Académie des
// sciences 255, 42-43 (1962), from memory). So every number keeps the doubt it
// has, cut off at its bounds, whatever it goes together with, and no point is
// lost. With bounds several deviations away the correlations are those of the
// numbers too; a cut takes something off them.
type Draws struct {
	numbers []truncated
	factor  [][]float64 // L; nil: all are independent
	groups  [][]int
}

// NewDraws prepares the drawing of numbers with their correlations, ones on the
// diagonal; nil: they are independent.
func NewDraws(normals []Normal, correlation *mat.SymDense) (*Draws, error) {
	var faults []error
	d := &Draws{numbers: make([]truncated, len(normals))}
	for k := range normals {
		if err := normals[k].Fault(); err != nil {
			faults = append(faults, fmt.Errorf("%s: %w", normals[k].Name, err))
			continue
		}
		d.numbers[k] = newTruncated(&normals[k])
	}
	if len(faults) > 0 {
		return nil, errors.Join(faults...)
	}
	if correlation != nil {
		var err error
		if d.factor, err = correlationFactor(normals, correlation); err != nil {
			return nil, err
		}
	}
	d.groups = groupsOf(len(normals), correlation)
	return d, nil
}

// Groups are the numbers by what goes together: those connected by correlations
// stand in one group, the others alone. Groups are independent of each other.
func (d *Draws) Groups() [][]int { return d.groups }

// At puts the numbers made from the coordinates of point i, from a dimension on,
// into x. It may be called by several goroutines at once.
func (d *Draws) At(points Points, i, from int, x []float64) {
	for k := range d.numbers {
		x[k] = standardNormal(points.Coordinate(i, from+k))
	}
	for k := len(d.factor) - 1; k >= 0; k-- {
		z := 0.0
		for j, l := range d.factor[k] {
			z += l * x[j] // these are independent still
		}
		x[k] = z
	}
	for k := range d.numbers {
		x[k] = d.numbers[k].at(x[k])
	}
}
