package sweep

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/mat"
)

// rounded is by what share correlations may be taken smaller so that they hold
// together: they may be written with three digits (engineering judgement).
const rounded = 1e-3

// correlationFactor is the factor L of correlations, R = L Lᵀ, row by row. The
// error names numbers whose correlations cannot hold together.
func correlationFactor(normals []Normal, correlation *mat.SymDense) ([][]float64, error) {
	if rows := correlation.SymmetricDim(); rows != len(normals) {
		return nil, fmt.Errorf("the correlations have %d rows for %d numbers", rows, len(normals))
	}
	for j := range normals {
		for k := range j + 1 {
			rho := correlation.At(j, k)
			switch {
			case j == k && rho != 1:
				return nil, fmt.Errorf("the correlation of %s with itself is %g, not 1", normals[j].Name, rho)
			case !(math.Abs(rho) <= 1):
				return nil, fmt.Errorf("the correlation of %s and %s is %g: it lies between -1 and 1", normals[k].Name, normals[j].Name, rho)
			}
		}
	}
	all := make([]int, len(normals))
	for k := range all {
		all[k] = k
	}
	for _, share := range []float64{1, 1 - rounded} {
		if factor := cholesky(correlation, all, share); factor != nil {
			return factor, nil
		}
	}
	return nil, conflict(normals, correlation)
}

// cholesky is the factor of some rows and columns of a matrix with ones on its
// diagonal, the rest of which counts a share; nil when it is not positive
// semidefinite. Where a number follows from those before it, its pivot is 0, and
// so is the rest of its column (N. J. Higham, "Analysis of the Cholesky
// decomposition of a semi-definite matrix", in Reliable numerical computation,
// 1990).
func cholesky(of *mat.SymDense, rows []int, share float64) [][]float64 {
	const still = 1e-10 // what rounding leaves of a pivot, and its root of the rest
	l := make([][]float64, len(rows))
	for j := range rows {
		l[j] = make([]float64, j+1)
		for k := range j + 1 {
			rest := share * of.At(rows[j], rows[k])
			if j == k {
				rest = 1
			}
			for i := range k {
				rest -= l[j][i] * l[k][i]
			}
			switch {
			case j == k && rest < -still:
				return nil
			case j == k && rest > still:
				l[k][k] = math.Sqrt(rest)
			case j == k: // follows from others
			case l[k][k] > 0:
				l[j][k] = rest / l[k][k]
			case math.Abs(rest) > math.Sqrt(still):
				return nil
			}
		}
	}
	return l
}

// conflict is the error of correlations that cannot hold together. It names as
// few numbers as do not, so that without any of them the others would.
func conflict(normals []Normal, correlation *mat.SymDense) error {
	var rows []int
	for k := range normals {
		if rows = append(rows, k); cholesky(correlation, rows, 1-rounded) == nil {
			break
		}
	}
	for i := len(rows) - 1; i >= 0; i-- {
		if fewer := slices.Delete(slices.Clone(rows), i, i+1); cholesky(correlation, fewer, 1-rounded) == nil {
			rows = fewer
		}
	}
	var pairs []string
	for i, j := range rows {
		for _, k := range rows[:i] {
			if rho := correlation.At(j, k); rho != 0 {
				pairs = append(pairs, fmt.Sprintf("%g of %s with %s", rho, normals[k].Name, normals[j].Name))
			}
		}
	}
	return fmt.Errorf("the correlations %s cannot hold together: change or leave out one of them", strings.Join(pairs, ", "))
}

// groupsOf are the numbers in groups: those connected by correlations stand in
// one, each in its order, the groups in the order of their first.
func groupsOf(n int, correlation *mat.SymDense) [][]int {
	var groups [][]int
	seen := make([]bool, n)
	for k := range n {
		if seen[k] {
			continue
		}
		seen[k] = true
		group := []int{k}
		for next := 0; correlation != nil && next < len(group); next++ {
			for j := range n {
				if !seen[j] && correlation.At(group[next], j) != 0 {
					seen[j] = true
					group = append(group, j)
				}
			}
		}
		slices.Sort(group)
		groups = append(groups, group)
	}
	return groups
}
