package calibrate

import "gonum.org/v1/gonum/mat"

// apart divides slopes of readings along the numbers of a flight into those
// along the numbers of the target and those along nuisances of unit variance,
// nil when there are none. A number is that of the target where the flight has
// it at the same value with the same doubt. Others are of this flight alone, and
// take from what it tells, but for what follows from shared numbers.
func apart(moved *mat.Dense, own, target []openNumber, correlation *mat.SymDense) (slopes, nuisance *mat.Dense, err error) {
	n, _ := moved.Dims()
	slopes = mat.NewDense(n, len(target), nil)
	var shared, place, others []int
	for k := range own {
		j := same(&own[k], target)
		if j < 0 {
			others = append(others, k)
			continue
		}
		shared, place = append(shared, k), append(place, j)
		slopes.SetCol(j, mat.Col(nil, k, moved))
	}
	if len(others) == 0 {
		return slopes, nil, nil
	}
	gain, rest, err := following(correlation, shared, others)
	if err != nil {
		return nil, nil, err
	}
	along := picked(moved, nil, others)
	if gain != nil {
		var more mat.Dense
		more.Mul(along, gain)
		for i, j := range place {
			for r := range n {
				slopes.Set(r, j, slopes.At(r, j)+more.At(r, i))
			}
		}
	}
	nuisance = &mat.Dense{}
	nuisance.Mul(along, rest.root)
	return slopes, nuisance, nil
}

// same is the place of a number in the target; -1 when it is another there.
func same(u *openNumber, target []openNumber) int {
	for j := range target {
		if t := &target[j]; t.param.Path == u.param.Path && t.mean == u.mean && t.sigma == u.sigma {
			return j
		}
	}
	return -1
}

// following is what some numbers x are when others s are known, by their
// correlations R:
//
//	x = R_xs R_ss⁺ s + e,  cov e = R_xx - R_xs R_ss⁺ R_sx
//
// (the conditional normal distribution, from memory). The gain R_xs R_ss⁺ is nil
// without s.
func following(r *mat.SymDense, s, x []int) (gain *mat.Dense, rest belief, err error) {
	left := picked(r, x, x)
	if len(s) > 0 {
		cross := picked(r, s, x)
		var svd mat.SVD
		svd.Factorize(picked(r, s, s), mat.SVDThin)
		var g, taken mat.Dense
		svd.SolveTo(&g, cross, svd.Rank(almost))
		gain = mat.DenseCopyOf(g.T())
		taken.Mul(gain, cross)
		left.Sub(left, &taken)
	}
	cov := mat.NewSymDense(len(x), nil)
	for i := range x {
		for j := range i + 1 {
			cov.SetSym(i, j, left.At(i, j))
		}
	}
	rest, err = newBelief(cov)
	return gain, rest, err
}

// picked are some rows, nil for all, and some columns of a matrix.
func picked(m mat.Matrix, rows, columns []int) *mat.Dense {
	n, _ := m.Dims()
	if rows != nil {
		n = len(rows)
	}
	p := mat.NewDense(n, len(columns), nil)
	for i := range n {
		from := i
		if rows != nil {
			from = rows[i]
		}
		for j, k := range columns {
			p.Set(i, j, m.At(from, k))
		}
	}
	return p
}
