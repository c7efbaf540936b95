package calibrate

import (
	"fmt"
	"math"
)

// Loss is what a residual of size r costs. All are r² for small ones; the robust
// ones let readings that are far out pull less.
//
// They are made least by iteratively reweighted least squares: rows are weighted
// by w = ρ'(r)/2r, and w·r² less what it is at the last place is nowhere less
// than ρ(r) less what it was there, so a step that lowers the one lowers the
// other. Residuals must be in true standard deviations of the bulk of readings.
//
// Source of constants (95 % as efficient as squares where errors are normal):
// P. W. Holland and R. E. Welsch, "Robust regression using iteratively reweighted
// least-squares", Communications in Statistics A6 (1977) 813-827; from memory.
// TestLossEfficiency holds them against their integrals.
type Loss struct {
	Kind LossKind
	// Bend is the residual, in standard deviations, from which the cost is no
	// longer a square; 0 means 1.345 for Huber and 2.385 for Cauchy.
	Bend float64
}

// LossKind is the shape of a loss.
type LossKind int

const (
	// Squares: ρ = r².
	Squares LossKind = iota
	// Huber: ρ = r² up to c, and 2c|r| - c² beyond. Convex: it makes no new least.
	// An outlier pulls as much as a reading c off.
	Huber
	// Cauchy: ρ = c² ln(1 + (r/c)²). Far outliers pull less the farther they are.
	// There may be more than one least; start from an answer of Huber.
	Cauchy
)

func (k LossKind) String() string {
	return [...]string{"squares", "huber", "cauchy"}[k]
}

// check returns what is wrong with a loss.
func (l Loss) check() error {
	switch {
	case l.Kind < Squares || l.Kind > Cauchy:
		return fmt.Errorf("there is no loss of kind %d", int(l.Kind))
	case !(l.Bend >= 0) || math.IsInf(l.Bend, 1):
		return fmt.Errorf("the bend %v of the loss is not a positive number", l.Bend)
	}
	return nil
}

// bend is the residual where squares end.
func (l Loss) bend() float64 {
	return orDefault(l.Bend, [...]float64{Huber: 1.345, Cauchy: 2.385}[l.Kind])
}

// cost is ρ(r).
func (l Loss) cost(r float64) float64 {
	c := l.bend()
	switch {
	case l.Kind == Huber && math.Abs(r) > c:
		return 2*c*math.Abs(r) - c*c
	case l.Kind == Cauchy:
		return c * c * math.Log1p(r/c*(r/c))
	}
	return r * r
}

// weight is ρ'(r)/2r.
func (l Loss) weight(r float64) float64 {
	c := l.bend()
	switch {
	case l.Kind == Huber && math.Abs(r) > c:
		return c / math.Abs(r)
	case l.Kind == Cauchy:
		return 1 / (1 + r/c*(r/c))
	}
	return 1
}
