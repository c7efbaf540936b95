package plots

import "math"

// place is a point in the units of a field.
type place struct{ x, y float64 }

// crossing names an edge of the grid: from node (i, j) along x, or along y.
type crossing struct {
	i, j   int
	upward bool
}

// segment joins two crossings of one cell, lower values on its left.
type segment struct{ from, to crossing }

// isolines returns the lines of a level by marching squares (W. E. Lorensen and
// H. E. Cline, "Marching cubes", Computer Graphics 21, 1987, in two
// dimensions), joined to polylines with the lower values on their left; closed
// ones end where they begin. In a saddle the mean of the corners decides what
// belongs together. No line goes through a cell with an unknown corner.
func (g field) isolines(level float64) [][]place {
	var segments []segment
	for j := range len(g.y) - 1 {
		below, above := g.z[j], g.z[j+1]
		for i := range len(g.x) - 1 {
			low := below[i] < level
			if low == (below[i+1] < level) && low == (above[i] < level) && low == (above[i+1] < level) {
				continue // no corner on the other side
			}
			segments = g.march(segments, i, j, level)
		}
	}
	return g.join(segments, level)
}

// march adds the segments of cell i, j.
func (g field) march(to []segment, i, j int, level float64) []segment {
	// Corners and edges counterclockwise from the lower left; edge k leads from
	// corner k to the next.
	corners := [4]float64{g.z[j][i], g.z[j][i+1], g.z[j+1][i+1], g.z[j+1][i]}
	edges := [4]crossing{{i, j, false}, {i + 1, j, true}, {i, j + 1, false}, {i, j, true}}
	sum := corners[0] + corners[1] + corners[2] + corners[3]
	if math.IsNaN(sum) {
		return to
	}
	// A walk around the cell enters low ground at some edges and leaves it at
	// others. With low ground on its left a line runs from where the walk leaves
	// to where it enters.
	var enter, leave []int
	for k := range 4 {
		switch a, b := corners[k] < level, corners[(k+1)%4] < level; {
		case b && !a:
			enter = append(enter, k)
		case a && !b:
			leave = append(leave, k)
		}
	}
	for _, e := range enter {
		l := leave[0]
		if len(enter) == 2 { // a saddle
			l = (e + 1) % 4 // cuts off the low corner
			if sum/4 < level {
				l = (e + 3) % 4 // cuts off the high corner
			}
		}
		to = append(to, segment{edges[l], edges[e]})
	}
	return to
}

// join follows segments from crossing to crossing: first those lines that
// begin at an end, then the closed ones.
func (g field) join(segments []segment, level float64) [][]place {
	next, inner := map[crossing]crossing{}, map[crossing]bool{}
	for _, s := range segments {
		next[s.from], inner[s.to] = s.to, true
	}
	var lines [][]place
	follow := func(at crossing) {
		line := []place{g.place(at, level)}
		for to, ok := next[at]; ok; to, ok = next[at] {
			delete(next, at)
			at = to
			line = append(line, g.place(at, level))
		}
		if len(line) > 1 {
			lines = append(lines, line)
		}
	}
	for _, s := range segments {
		if !inner[s.from] {
			follow(s.from)
		}
	}
	for _, s := range segments {
		follow(s.from)
	}
	return lines
}

// place returns where a level crosses an edge.
func (g field) place(c crossing, level float64) place {
	a := g.z[c.j][c.i]
	if c.upward {
		t := (level - a) / (g.z[c.j+1][c.i] - a)
		return place{g.x[c.i], between(g.y[c.j], g.y[c.j+1], t)}
	}
	t := (level - a) / (g.z[c.j][c.i+1] - a)
	return place{between(g.x[c.i], g.x[c.i+1], t), g.y[c.j]}
}
