package calibrate

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// Direction is a way in which the parameters can be moved together.
type Direction struct {
	// Seen is by how many of their standard deviations the readings move in all
	// (root of the sum of squares) when the parameters go by one unit in this
	// direction. By the readings alone the standard deviation along it is 1/Seen
	// units, or without end where Seen is 0.
	Seen float64
	// Weights say how far each parameter goes, in its units; their squares add up
	// to 1, and the largest is positive.
	Weights []float64
	// Units are the units: the scale of each parameter, or the standard deviation
	// of its prior, or its own size where it has neither.
	Units []float64
}

// Leaders are the parameters that make up a direction, largest weight first:
// all with at least the share of the largest weight.
func (d Direction) Leaders(share float64) []int {
	most := 0.0
	for _, w := range d.Weights {
		most = math.Max(most, math.Abs(w))
	}
	var leaders []int
	for k, w := range d.Weights {
		if w != 0 && math.Abs(w) >= share*most {
			leaders = append(leaders, k)
		}
	}
	slices.SortStableFunc(leaders, func(a, b int) int {
		// Weights that differ by rounding alone keep the order of the parameters.
		switch gap := math.Abs(d.Weights[b]) - math.Abs(d.Weights[a]); {
		case gap > 1e-6:
			return 1
		case gap < -1e-6:
			return -1
		}
		return 0
	})
	return leaders
}

// Directions are the directions that the readings tell apart, the least seen
// first: the right singular vectors of the slopes of the weighted residuals at X,
// each parameter in its units, without the priors.
func (s *Solution) Directions() []Direction {
	m, n := s.slopes.Dims()
	a := mat.NewDense(m, n, nil)
	a.Apply(func(_, k int, v float64) float64 { return v * s.units[k] }, s.slopes)
	return directions(newTriangle(a, nil).r, s.units)
}

// directions are the right singular vectors of a, the least seen first.
func directions(a *mat.Dense, units []float64) []Direction {
	n := len(units)
	var svd mat.SVD
	if !svd.Factorize(a, mat.SVDThin) {
		return nil // no convergence, which is not known to happen to finite numbers
	}
	var v mat.Dense
	svd.VTo(&v)
	all := make([]Direction, n)
	for j, value := range svd.Values(nil) {
		all[n-1-j] = Direction{Seen: value, Weights: upright(mat.Col(nil, j, &v)), Units: units}
	}
	return all
}

// upright turns a direction so that its largest weight is positive; of equal
// ones, the first.
func upright(w []float64) []float64 {
	at := 0
	for k := range w {
		if math.Abs(w[k]) > math.Abs(w[at])+1e-6 {
			at = k
		}
	}
	if w[at] < 0 {
		for k := range w {
			w[k] = -w[k]
		}
	}
	return w
}

// Blind are the directions along which the readings alone leave the parameters
// more doubtful than the given number of units: those with Seen below 1/units.
// With priors as units, 1 asks where the readings know less than was known
// before.
//
// Any mixture of two directions that are not seen is not seen either, so they
// are turned among themselves until each is made of as few parameters as can be
// (varimax), which puts parameters together that stand in for each other and
// leaves others out. Seen is that of the turned direction, and they come in the
// order of their leading parameters.
//
// Source: H. F. Kaiser, "The varimax criterion for analytic rotation in factor
// analysis", Psychometrika 23 (1958) 187-200.
func (s *Solution) Blind(units float64) []Direction {
	all := s.Directions()
	count := 0
	for count < len(all) && all[count].Seen*units < 1 {
		count++
	}
	blind := all[:count]
	varimax(blind)
	for j := range blind {
		blind[j].Weights = upright(blind[j].Weights)
		blind[j].Seen = s.seen(blind[j])
	}
	slices.SortStableFunc(blind, func(a, b Direction) int {
		return slices.Compare(a.Leaders(0.1), b.Leaders(0.1))
	})
	return blind
}

// seen is by how much the readings move along a direction.
func (s *Solution) seen(d Direction) float64 {
	move := mat.NewVecDense(len(d.Weights), nil)
	for k, w := range d.Weights {
		move.SetVec(k, w*d.Units[k])
	}
	var r mat.VecDense
	r.MulVec(s.slopes, move)
	return mat.Norm(&r, 2)
}

// varimax turns directions two by two until the sum of the fourth powers of the
// weights is the most.
func varimax(all []Direction) {
	for range 100 {
		turned := 0.0
		for j := range all {
			for i := range j {
				turned = math.Max(turned, math.Abs(turn(all[i].Weights, all[j].Weights)))
			}
		}
		if turned < 1e-10 {
			return
		}
	}
}

// turn turns two directions in their plane to the most of Σ a⁴ + b⁴ and returns
// the angle. With u = a² - b² and v = 2ab the sum goes as
// Σ(u² - v²) cos 4φ + 2 Σuv sin 4φ.
func turn(a, b []float64) float64 {
	sin, cos := 0.0, 0.0
	for k := range a {
		u, v := a[k]*a[k]-b[k]*b[k], 2*a[k]*b[k]
		cos += u*u - v*v
		sin += 2 * u * v
	}
	phi := math.Atan2(sin, cos) / 4
	for k := range a {
		a[k], b[k] = a[k]*math.Cos(phi)+b[k]*math.Sin(phi), b[k]*math.Cos(phi)-a[k]*math.Sin(phi)
	}
	return phi
}
