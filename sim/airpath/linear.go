package airpath

// balance solves the mass balance of every place, linearised about the
// present flows, for the changes δ of the pressures of the places:
//
//	Σ_branches ±[ṁ + g·(off + δ_from − δ_to)] = 0
//
// Solving for changes keeps the rounding of the pressures out of the flows.
// The matrix is symmetric and positive, and singular only for places that are
// shut off from the outside, where one pressure is free and stays.
func (s *Solver) balance() {
	n := len(s.net.Places)
	a, rhs := s.matrix, s.side
	clear(a)
	clear(rhs)
	for i, g := range s.conductance {
		if g == 0 {
			continue
		}
		b := &s.net.Branches[i]
		flow := s.Field.Flow[i] + g*s.off[i]
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
}

// eliminate solves a·x = b in place for a symmetric positive semidefinite a
// (row major, lower triangle used) as L·D·Lᵀ, row by row. Where a pivot is
// lost to rounding, its x is zero.
func eliminate(a, b []float64, n int) {
	const lost = 1e-14 // of the diagonal
	for j := range n {
		row := a[j*n : j*n+j+1]
		d := row[j]
		for i := range j {
			left := a[i*n : i*n+i]
			for k, l := range left {
				row[i] -= row[k] * l
			}
		}
		for i := range j {
			l := row[i] * a[i*n+i]
			d -= l * row[i]
			b[j] -= l * b[i]
			row[i] = l
		}
		if d > lost*row[j] {
			row[j] = 1 / d
		} else {
			row[j] = 0
		}
	}
	for j := range n {
		b[j] *= a[j*n+j]
	}
	for j := n - 1; j > 0; j-- {
		for i, l := range a[j*n : j*n+j] {
			b[i] -= l * b[j]
		}
	}
}
