package calibrate

import (
	"slices"

	"gonum.org/v1/gonum/mat"
)

// weights are what every flight counts for in the difference of flights a less
// flights b, those of a first: positive and 1 together for a, negative and −1
// together for b. They give the difference its least variance,
//
//	min wᵀ V w,  V = diag(u²) + G C Gᵀ
//
// with the variance u² of each flight by itself and what the numbers of the model do
// to all (A. C. Aitken, "On least squares and linear combination of observations",
// Proc. Roy. Soc. Edinburgh 55, 1935, from memory). So flights in like air are held
// against each other, and a flight that showed little counts for little. A flight
// that would count with the wrong sign, to lengthen a line to the reference, is left
// out.
func (n *numbers) weights(a, b []*ComparedReading) []float64 {
	list := slices.Concat(a, b)
	in := make([]int, len(list))
	for i := range in {
		in[i] = i
	}
	for {
		w := n.best(list, in, len(a))
		worst := 0
		for k, i := range in {
			if signed(w[i], i < len(a)) < signed(w[in[worst]], in[worst] < len(a)) {
				worst = k
			}
		}
		if i := in[worst]; signed(w[i], i < len(a)) >= 0 {
			return w
		}
		in = slices.Delete(in, worst, worst+1)
	}
}

func signed(w float64, plus bool) float64 {
	if plus {
		return w
	}
	return -w
}

// best are the weights of those flights that are in, 0 of the others; the first
// flights of the list are those of a. With x = V⁻¹ 1_a and y = V⁻¹ 1_b they are
// the sum α x + β y that has the sums 1 and −1.
func (n *numbers) best(list []*ComparedReading, in []int, first int) []float64 {
	v := mat.NewSymDense(len(in), nil)
	sides := mat.NewDense(len(in), 2, nil)
	for r, i := range in {
		for s, j := range in[:r+1] {
			v.SetSym(r, s, n.covariance(list[i].slopes, list[j].slopes))
		}
		v.SetSym(r, r, v.At(r, r)+list[i].variance)
		side := 0
		if i >= first {
			side = 1
		}
		sides.Set(r, side, 1)
	}
	var solved, sums mat.Dense
	if err := solved.Solve(v, sides); err != nil {
		solved.CloneFrom(sides) // V is singular to rounding: all count alike
	}
	sums.Mul(sides.T(), &solved)
	aa, ab, bb := sums.At(0, 0), sums.At(0, 1), sums.At(1, 1)
	det := aa*bb - ab*ab
	all := make([]float64, len(list))
	for r, i := range in {
		all[i] = ((bb+ab)*solved.At(r, 0) - (aa+ab)*solved.At(r, 1)) / det
	}
	return all
}
