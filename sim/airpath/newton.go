package airpath

import "math"

// balance solves the mass balance of every place, linearised about the
// present flows, for the changes δ of the pressures of the places:
//
//	Σ_branches ±[ṁ + g·(off + δ_from − δ_to)] = 0
//
// Solving for changes keeps the rounding of the pressures out of the flows.
// The matrix is symmetric and positive, and singular only for places that are
// shut off from the outside, where one pressure is free and stays.
func (s *Solver) balance() {
	n := len(s.pressure)
	a, change, flows := s.matrix, s.change, s.Field.Flow
	clear(a)
	clear(change)
	for i := range s.links {
		l := &s.links[i]
		if !l.open {
			continue
		}
		g := l.conductance
		flow := flows[i] + g*l.off
		change[l.from] -= flow
		change[l.to] += flow
		a[l.from*n+l.from] += g
		a[l.to*n+l.to] += g
		a[max(l.from, l.to)*n+min(l.from, l.to)] -= g
	}
	change[0] = 0
	eliminate(a, change, n)
}

// eliminate solves a·x = b in place for a symmetric positive semidefinite a
// (row major, lower triangle used) as L·D·Lᵀ, row by row, where x_0 = 0 is
// known. Where a pivot is lost to rounding, its x is zero.
func eliminate(a, b []float64, n int) {
	const lost = 1e-14 // of the diagonal
	for j := 1; j < n; j++ {
		row := a[j*n : j*n+j+1]
		d := row[j]
		for i := 1; i < j; i++ {
			above := a[i*n : i*n+i+1]
			l := row[i]
			for k := 1; k < i; k++ {
				l -= row[k] * above[k]
			}
			row[i] = l
		}
		for i := 1; i < j; i++ {
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
	for j := 1; j < n; j++ {
		b[j] *= a[j*n+j]
	}
	for j := n - 1; j > 1; j-- {
		for i := 1; i < j; i++ {
			b[i] -= a[j*n+i] * b[j]
		}
	}
}

// advance takes the step that balance has found, and estimates the errors that
// it leaves. Laws are nearly quadratic, so that a step leaves ½·step²/ṁ of a
// flow; one across a kink of a law leaves all of itself, and so does every step
// of a way that turns out long. Where the slope was not its own, it is slow.
func (s *Solver) advance(iteration int) {
	flows := s.Field.Flow
	s.unrated, s.again = true, true
	moved, total := 0.0, leastFlow
	s.descent, s.left = 0, remainder{}
	for i := range s.links {
		l := &s.links[i]
		if !l.open {
			continue
		}
		g := l.conductance
		off := l.off + s.change[l.from] - s.change[l.to]
		last := flows[i]
		l.step = g * off
		flow, size := last+l.step, math.Abs(l.step)
		flows[i] = flow

		s.turned = s.turned || (flow < 0) != (last < 0)
		share := size / (2*math.Abs(flow) + size + math.SmallestNonzeroFloat64)
		switch {
		case g == 1/leastSlope:
			share = 100
		case (flow < l.full) != (last < l.full) || iteration > quick:
			share = 1
		}
		s.left.flow = max(s.left.flow, share*size)
		s.left.law = max(s.left.law, share*math.Abs(off))
		s.descent += l.step * off
		total += math.Abs(last)
		moved = max(moved, size)
	}
	for j, change := range s.change {
		s.pressure[j] += change
	}
	s.left.flow /= total
	s.left.law /= s.scale
	last := s.moved
	s.moved = moved / total
	if iteration > 1 {
		s.left.flow = max(s.left.flow, remaining(last, s.moved))
	}
}

// retreat goes back along the last step where it went too far. A step keeps
// the mass of every place, so the energy E of the flow falls along it with
// dE/dθ = Σ (drop − drive)·step, and the pressures drop out; where the step
// overshoots the minimum, θ is cut back towards it.
func (s *Solver) retreat(st *Stream) {
	theta := 1.0
	for range 12 {
		rise := 0.0
		for i := range s.links {
			rise -= s.links[i].off * s.links[i].step
		}
		if rise <= 0.5*s.descent {
			return
		}
		shorter := theta * max(0.1, s.descent/(s.descent+rise))
		for i := range s.links {
			s.Field.Flow[i] -= (theta - shorter) * s.links[i].step
		}
		theta, s.turned = shorter, true
		s.evaluate(st)
	}
}
