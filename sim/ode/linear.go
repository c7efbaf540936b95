package ode

import "math"

// factor replaces the m×m row-major matrix a by its triangular factors,
// P·A = L·U with unit lower L and row exchanges piv (partial pivoting); the
// diagonal of U is stored inverted. It reports whether the matrix is regular.
func factor(a []float64, piv []int, m int) bool {
	for k := range m {
		p := k
		for i := k + 1; i < m; i++ {
			if math.Abs(a[i*m+k]) > math.Abs(a[p*m+k]) {
				p = i
			}
		}
		piv[k] = p
		if p != k {
			for j := range m {
				a[k*m+j], a[p*m+j] = a[p*m+j], a[k*m+j]
			}
		}
		d := a[k*m+k]
		if d == 0 || math.IsNaN(d) {
			return false
		}
		d = 1 / d
		a[k*m+k] = d
		rowk := a[k*m+k+1 : k*m+m]
		for i := k + 1; i < m; i++ {
			l := a[i*m+k] * d
			a[i*m+k] = l
			if l == 0 {
				continue
			}
			rowi := a[i*m+k+1 : i*m+m]
			for j, u := range rowk {
				rowi[j] -= l * u
			}
		}
	}
	return true
}

// backSolve overwrites x with the solution of A·x = x, from the factors made by
// factor.
func backSolve(lu []float64, piv []int, x []float64) {
	m := len(piv)
	for k, p := range piv {
		x[k], x[p] = x[p], x[k]
	}
	for i := range m {
		s := x[i]
		for j, l := range lu[i*m : i*m+i] {
			s -= l * x[j]
		}
		x[i] = s
	}
	for i := m - 1; i >= 0; i-- {
		row, rest := lu[i*m+i:i*m+m], x[i:m]
		s := rest[0]
		for j := 1; j < len(row) && j < len(rest); j++ {
			s -= row[j] * rest[j]
		}
		rest[0] = s * row[0]
	}
}
