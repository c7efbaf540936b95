package calibrate

import (
	"slices"

	"gonum.org/v1/gonum/mat"
)

// bounded is the step of the triangle t, which without bounds is p, within them.
//
// It starts from no step and goes towards the least of the variables that are
// free. One that meets its bound first rests there; when the least of the others
// is reached, the one that pulls hardest away from its bound is let go. Each move
// makes the linearised sum less, and where none is left it is the least of all,
// since it is convex.
//
// Source: P. B. Stark and R. L. Parker, "Bounded-variable least-squares: an
// algorithm and applications", Computational Statistics 10 (1995) 129-141.
func (f *field) bounded(t *triangle, p []float64, full bool) step {
	at := make([]float64, len(p))
	if f.contains(p) {
		copy(at, p)
	} else {
		f.walk(t, at)
	}
	moves := make([]float64, f.all)
	for j, k := range f.free {
		moves[k] = at[j]
	}
	return step{p: moves, length: f.length(at), gain: f.gain(at), full: full}
}

// contains reports whether a step is within the bounds.
func (f *field) contains(p []float64) bool {
	for k, v := range p {
		if v < f.lo[k] || v > f.hi[k] {
			return false
		}
	}
	return true
}

// walk moves at to the least of t within the bounds.
func (f *field) walk(t *triangle, at []float64) {
	free := make([]int, len(at))
	for k := range free {
		free[k] = k
	}
	for range 10 * (len(at) + 1) { // rounding could make it go in circles
		if len(free) > 0 {
			goal := t.leastOf(free, at)
			if met := f.towards(goal, at, free); met >= 0 {
				free = slices.DeleteFunc(free, func(k int) bool { return k == met })
				continue
			}
		}
		loose := f.pulling(t, at, free)
		if loose < 0 {
			return
		}
		free = append(free, loose)
	}
}

// towards moves at to the goal or until a free variable meets its bound, and
// returns which, or -1.
func (f *field) towards(goal, at []float64, free []int) int {
	met, bound, share := -1, 0.0, 1.0
	for _, k := range free {
		limit := clamp(goal[k], f.lo[k], f.hi[k])
		if limit == goal[k] {
			continue
		}
		if s := (limit - at[k]) / (goal[k] - at[k]); met < 0 || s < share {
			met, bound, share = k, limit, s
		}
	}
	for _, k := range free {
		at[k] = clamp(at[k]+share*(goal[k]-at[k]), f.lo[k], f.hi[k])
	}
	if met >= 0 {
		at[met] = bound
	}
	return met
}

// pulling is the variable, of those that are not free, that pulls the hardest away
// from its bound, or -1.
func (f *field) pulling(t *triangle, at []float64, free []int) int {
	hardest, most := -1, 1e-12*mat.Norm(mat.NewVecDense(len(t.q), t.q), 2)
	for k, g := range t.slope(at) {
		if slices.Contains(free, k) {
			continue
		}
		if at[k] == f.lo[k] {
			g = -g
		}
		if pull := g / f.size[k]; pull > most {
			hardest, most = k, pull
		}
	}
	return hardest
}
