package plots

import (
	"math"
	"slices"
)

// field holds values on a grid, z[iy][ix]; NaN is unknown.
type field struct {
	x, y []float64
	z    [][]float64
}

// refined returns the field on a grid with k times as many cells each way,
// bilinear within a cell. Cells with an unknown corner stay unknown inside.
func (g field) refined(k int) field {
	fine := field{x: subdivided(g.x, k), y: subdivided(g.y, k)}
	rows := make([][]float64, len(g.z))
	for i, row := range g.z {
		rows[i] = subdivided(row, k)
	}
	fine.z = make([][]float64, len(fine.y))
	for j := range fine.z {
		i, t := j/k, float64(j%k)/float64(k)
		if t == 0 {
			fine.z[j] = rows[i]
			continue
		}
		fine.z[j] = make([]float64, len(fine.x))
		for n := range fine.x {
			fine.z[j][n] = between(rows[i][n], rows[i+1][n], t)
		}
	}
	return fine
}

// subdivided puts k − 1 values evenly between each two.
func subdivided(values []float64, k int) []float64 {
	fine := make([]float64, 0, (len(values)-1)*k+1)
	for i := 1; i < len(values); i++ {
		for n := range k {
			fine = append(fine, between(values[i-1], values[i], float64(n)/float64(k)))
		}
	}
	return append(fine, values[len(values)-1])
}

// between is a at t = 0, even if b is unknown.
func between(a, b, t float64) float64 {
	if t == 0 {
		return a
	}
	return a*(1-t) + b*t
}

// lesser returns the lesser of two fields on the same grid.
func lesser(a, b field) field {
	least := field{a.x, a.y, make([][]float64, len(a.z))}
	for j := range a.z {
		least.z[j] = make([]float64, len(a.x))
		for i := range a.x {
			least.z[j][i] = math.Min(a.z[j][i], b.z[j][i])
		}
	}
	return least
}

// enclosed surrounds the field by a rim at its own edge with a value far above
// all others, and gives that value to unknown places, so that the isolines of
// any level close.
func (g field) enclosed() field {
	const above = 1e30
	rim := func(v []float64, first, last float64) []float64 {
		return append(append([]float64{first}, v...), last)
	}
	last := func(v []float64) float64 { return v[len(v)-1] }
	closed := field{x: rim(g.x, g.x[0], last(g.x)), y: rim(g.y, g.y[0], last(g.y))}
	edge := make([]float64, len(closed.x))
	for i := range edge {
		edge[i] = above
	}
	closed.z = append(closed.z, edge)
	for _, row := range g.z {
		row = rim(row, above, above)
		for i, v := range row {
			if math.IsNaN(v) {
				row[i] = above
			}
		}
		closed.z = append(closed.z, row)
	}
	closed.z = append(closed.z, edge)
	return closed
}

// at returns the value at the node below and left of a place.
func (g field) at(p place) float64 {
	i, _ := slices.BinarySearch(g.x, p.x)
	j, _ := slices.BinarySearch(g.y, p.y)
	return g.z[max(0, j-1)][max(0, i-1)]
}

// bounds returns the range of the known values.
func (g field) bounds() span {
	s := nothing
	for _, row := range g.z {
		s = s.withFinite(row)
	}
	return s
}
