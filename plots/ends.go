package plots

import (
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// end is the name of a curve or a level at the right of a frame. Its leader is
// drawn in the style of the line, so that it is a key as well.
type end struct {
	words
	from vg.Point
	line draw.LineStyle
}

const (
	leader  vg.Length = 26   // length of the leaders
	flat    vg.Length = 12   // part of a leader that is level
	endGap  vg.Length = 10.5 // between baselines of names
	endRoom           = leader + 3
)

// ends lists the names at the right of a panel.
func (p *panel) ends(f frame) []end {
	var list []end
	for _, l := range p.curves {
		last := len(l.x) - 1
		list = append(list, end{words{text: l.name, size: textSize, bold: l.bold}, f.at(l.x[last], l.y[last]), l.line})
	}
	for _, r := range p.rules {
		list = append(list, end{words{text: r.name, size: textSize}, f.at(f.x.hi, r.y), r.line})
	}
	return list
}

// endWidth returns the room that the names need at the right of the frame.
func (p *panel) endWidth() vg.Length {
	width := vg.Length(0)
	for _, e := range p.ends(frame{x: span{0, 1}, y: span{0, 1}}) {
		width = max(width, e.width())
	}
	return endRoom + width
}

// nameEnds writes the names of curves and levels beside their right ends.
func (p *panel) nameEnds(c draw.Canvas, f frame) {
	list := p.ends(f)
	want := make([]float64, len(list))
	for i, e := range list {
		want[i] = e.from.Y.Points()
	}
	at := spread(want, endGap.Points(), f.Min.Y.Points()+3, f.Max.Y.Points()-3)
	for i, e := range list {
		y := vg.Length(at[i])
		right := f.Max.X + leader
		if e.from.X < f.Max.X { // the curve ends early: no leader that looks like data
			c.StrokeLine2(stroke(grey, 0.5, shortDash), e.from.X, e.from.Y, f.Max.X, e.from.Y)
		}
		c.StrokeLines(e.line, []vg.Point{{X: f.Max.X, Y: e.from.Y}, {X: f.Max.X + 2, Y: e.from.Y}, {X: right - flat, Y: y}, {X: right, Y: y}})
		write(c, vg.Point{X: f.Max.X + endRoom, Y: y - middle*e.size}, e.words)
	}
}

// spread moves levels apart to at least gap, by the least sum of squares, and
// keeps them from lo to hi as far as they fit there.
func spread(want []float64, gap, lo, hi float64) []float64 {
	n := len(want)
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int {
		switch {
		case want[i] < want[j]:
			return -1
		case want[i] > want[j]:
			return 1
		}
		return j - i // of equal levels the first lies above
	})
	at := make([]float64, n)
	for k, z := range rising(want, order, gap) {
		at[order[k]] = z
	}
	for k, i := range order {
		at[i] = min(at[i], hi-float64(n-1-k)*gap)
	}
	for k, i := range order {
		at[i] = max(at[i], lo+float64(k)*gap)
	}
	return at
}

// rising returns, in the given order, the levels nearest to want that rise by
// at least gap: the regression of want − k·gap that does not fall, by pooling
// neighbours that violate it (Ayer and others, Annals of Mathematical
// Statistics 26, 1955).
func rising(want []float64, order []int, gap float64) []float64 {
	type pool struct {
		mean float64
		size int
	}
	var pools []pool
	for k, i := range order {
		p := pool{want[i] - float64(k)*gap, 1}
		for len(pools) > 0 && pools[len(pools)-1].mean >= p.mean {
			q := pools[len(pools)-1]
			pools = pools[:len(pools)-1]
			size := p.size + q.size
			p = pool{(p.mean*float64(p.size) + q.mean*float64(q.size)) / float64(size), size}
		}
		pools = append(pools, p)
	}
	at := make([]float64, 0, len(order))
	for _, p := range pools {
		for range p.size {
			at = append(at, p.mean+float64(len(at))*gap)
		}
	}
	return at
}
