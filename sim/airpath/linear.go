package airpath

import (
	"fmt"
	"math"
)

// pressures solves the mass balance of every place, linearised about the
// present flows, for the pressures of the places:
//
//	Σ_branches ±[ṁ + g·(p_from − p_to + drive − drop)] = 0
//
// The matrix is symmetric and, with a whiff of conductance to the outside for
// places that are shut off, positive definite.
func (s *Solver) pressures() error {
	n := len(s.net.Places)
	a, rhs := s.matrix, s.side
	clear(a)
	clear(rhs)
	for i := range s.net.Branches {
		if !s.open[i] {
			continue
		}
		b, g := &s.net.Branches[i], s.conductance[i]
		flow := s.Field.Flow[i] + g*(s.drive[i]-s.drop[i])
		if b.From != Outside {
			a[b.From*n+b.From] += g
			rhs[b.From] -= flow
		}
		if b.To != Outside {
			a[b.To*n+b.To] += g
			rhs[b.To] += flow
		}
		if b.From != Outside && b.To != Outside {
			a[b.From*n+b.To] -= g
			a[b.To*n+b.From] -= g
		}
	}
	const whiff = 1e-14
	for j := range n {
		a[j*n+j] += whiff
	}
	if !cholesky(a, rhs, n) {
		return fmt.Errorf("%w: the pressure equations are singular", ErrNoConvergence)
	}
	copy(s.Field.Pressure, rhs)
	return nil
}

// cholesky solves a·x = b in place for a symmetric positive definite a (row
// major, lower triangle used) and reports whether it was one.
func cholesky(a, b []float64, n int) bool {
	for j := range n {
		d := a[j*n+j]
		for k := range j {
			d -= a[j*n+k] * a[j*n+k]
		}
		if !(d > 0) {
			return false
		}
		d = math.Sqrt(d)
		a[j*n+j] = d
		for i := j + 1; i < n; i++ {
			v := a[i*n+j]
			for k := range j {
				v -= a[i*n+k] * a[j*n+k]
			}
			a[i*n+j] = v / d
		}
	}
	for i := range n {
		for k := range i {
			b[i] -= a[i*n+k] * b[k]
		}
		b[i] /= a[i*n+i]
	}
	for i := n - 1; i >= 0; i-- {
		for k := i + 1; k < n; k++ {
			b[i] -= a[k*n+i] * b[k]
		}
		b[i] /= a[i*n+i]
	}
	return true
}
