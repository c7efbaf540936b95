package plots

import (
	"math"

	"gonum.org/v1/plot/vg"
)

// straightened leaves out the points of a line that lie within a tenth of a
// point of the rest (D. H. Douglas and T. K. Peucker, "Algorithms for the
// reduction of the number of points", Cartographica 10, 1973).
func straightened(line []vg.Point) []vg.Point {
	const tolerance = 0.1 // pt
	keep := make([]bool, len(line))
	keep[0], keep[len(line)-1] = true, true
	var reduce func(first, last int)
	reduce = func(first, last int) {
		far, most := -1, tolerance
		for i := first + 1; i < last; i++ {
			if d := offLine(line[i], line[first], line[last]); d > most {
				far, most = i, d
			}
		}
		if far >= 0 {
			keep[far] = true
			reduce(first, far)
			reduce(far, last)
		}
	}
	reduce(0, len(line)-1)
	var kept []vg.Point
	for i, k := range keep {
		if k {
			kept = append(kept, line[i])
		}
	}
	return kept
}

// offLine is the distance of p from the segment from a to b.
func offLine(p, a, b vg.Point) float64 {
	d := b.Sub(a)
	share := 0.0
	if square := d.Dot(d); square > 0 {
		share = math.Min(1, math.Max(0, float64(p.Sub(a).Dot(d)/square)))
	}
	off := p.Sub(a.Add(d.Scale(vg.Length(share))))
	return math.Hypot(off.X.Points(), off.Y.Points())
}

// outside returns the pieces of a line outside of a box.
func outside(line []vg.Point, box vg.Rectangle) [][]vg.Point {
	var pieces [][]vg.Point
	piece := line[:1:1]
	flush := func() {
		if len(piece) > 1 {
			pieces = append(pieces, piece)
		}
	}
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		enter, leave := passage(a, b, box)
		if enter >= leave { // does not pass through
			piece = append(piece, b)
			continue
		}
		d := b.Sub(a)
		if enter > 0 {
			piece = append(piece, a.Add(d.Scale(vg.Length(enter))))
		}
		flush()
		piece = nil
		if leave < 1 {
			piece = []vg.Point{a.Add(d.Scale(vg.Length(leave))), b}
		} else {
			piece = []vg.Point{b}
		}
	}
	flush()
	return pieces
}

// passage returns the shares of the way from a to b between which it is in a
// box (Y.-D. Liang and B. A. Barsky, ACM Transactions on Graphics 3, 1984);
// the first is not below the second if it does not pass.
func passage(a, b vg.Point, box vg.Rectangle) (enter, leave float64) {
	enter, leave = 0, 1
	clip := func(from, step, lo, hi vg.Length) {
		if step == 0 {
			if from < lo || from > hi {
				leave = -1
			}
			return
		}
		s, t := float64((lo-from)/step), float64((hi-from)/step)
		enter, leave = max(enter, min(s, t)), min(leave, max(s, t))
	}
	clip(a.X, b.X-a.X, box.Min.X, box.Max.X)
	clip(a.Y, b.Y-a.Y, box.Min.Y, box.Max.Y)
	return enter, leave
}
