package airpath

import "math"

// pressures solves the mass balance of every place, linearised about the
// present flows, for the pressures of the places:
//
//	Σ_branches ±[ṁ + g·(p_from − p_to + drive − drop)] = 0
//
// The matrix is symmetric and positive, and singular only for places that are
// shut off from the outside, where one pressure is free and set to zero.
func (s *Solver) pressures() {
	n := len(s.net.Places)
	a, rhs := s.matrix, s.side
	clear(a)
	clear(rhs)
	for i, g := range s.conductance {
		if g == 0 {
			continue
		}
		b := &s.net.Branches[i]
		flow := s.Field.Flow[i] + g*s.push[i]
		if b.From != Outside {
			a[b.From*n+b.From] += g
			rhs[b.From] -= flow
		}
		if b.To != Outside {
			a[b.To*n+b.To] += g
			rhs[b.To] += flow
		}
		if b.From != Outside && b.To != Outside {
			a[max(b.From, b.To)*n+min(b.From, b.To)] -= g
		}
	}
	eliminate(a, rhs, n)
	copy(s.Field.Pressure, rhs)
}

// eliminate solves a·x = b in place for a symmetric positive semidefinite a
// (row major, lower triangle used) by L·D·Lᵀ. Where a pivot is lost to
// rounding, its x is zero.
func eliminate(a, b []float64, n int) {
	const lost = 1e-14 // of the diagonal
	for j := range n {
		d := a[j*n+j]
		inverse := 1 / d
		b[j] -= 0
		for i := j + 1; i < n; i++ {
			v := a[i*n+j]
			if v == 0 {
				continue
			}
			l := v * inverse
			for k := j + 1; k < i; k++ {
				a[i*n+k] -= l * a[k*n+j]
			}
			diagonal := a[i*n+i]
			if rest := diagonal - l*v; rest > lost*diagonal {
				a[i*n+i] = rest
			} else {
				a[i*n+i] = math.Inf(1)
			}
			b[i] -= l * b[j]
		}
	}
	_ = b
}
