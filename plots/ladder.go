package plots

import (
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// ladder is rows of a frame with names at the left of it.
type ladder struct {
	rungs []rung
	left  vg.Length // of the frame, for the names
}

// rung is one row.
type rung struct {
	name   []words
	height vg.Length
}

// add appends a row with a name and a note below it, not wider than most, and
// at least so high.
func (l *ladder) add(name, note string, most, least vg.Length) {
	r := rung{name: breakText(name, words{size: textSize}, most, 3)}
	r.name = append(r.name, breakText(note, words{size: smallSize, color: noteInk}, most, 3)...)
	for _, line := range r.name {
		l.left = max(l.left, line.width()+nameGap)
	}
	r.height = max(least, vg.Length(len(r.name))*rowHeight) + barGap
	l.rungs = append(l.rungs, r)
}

func (l *ladder) height() vg.Length {
	height := vg.Length(0)
	for _, r := range l.rungs {
		height += r.height
	}
	return height
}

// middles are the heights of the middles of the rows below a top.
func (l *ladder) middles(top vg.Length) []vg.Length {
	at := make([]vg.Length, len(l.rungs))
	for i, r := range l.rungs {
		at[i] = top - r.height/2
		top -= r.height
	}
	return at
}

// draw writes the names of the rows before left, the first row below top, and
// draws lines between the rows from a point to another.
func (l *ladder) draw(c draw.Canvas, left, top vg.Length, lines [2]vg.Length) {
	for i, middleY := range l.middles(top) {
		r := l.rungs[i]
		head := middleY + vg.Length(len(r.name))*rowHeight/2
		for k, line := range r.name {
			line.align = 1
			write(c, vg.Point{X: left - nameGap, Y: head - (vg.Length(k)+0.5)*rowHeight - middle*line.size}, line)
		}
		if foot := middleY - r.height/2; i < len(l.rungs)-1 {
			c.StrokeLine2(stroke(faint, 0.5, solid), lines[0], foot, lines[1], foot)
		}
	}
}

// uprights draws the lines of the grid up the frame.
func (s sides) uprights(c draw.Canvas, a axis) {
	for _, v := range a.ticks() {
		x := s.at(v, s.y.lo).X
		c.StrokeLine2(stroke(faint, 0.5, solid), x, s.Min.Y, x, s.Max.Y)
	}
}

// whisker draws a line along x with a stroke at both ends.
func whisker(c draw.Canvas, from, to, y vg.Length, line draw.LineStyle) {
	const half = 2.5 // pt
	c.StrokeLine2(line, from, y, to, y)
	line.Dashes = solid
	c.StrokeLine2(line, from, y-half, from, y+half)
	c.StrokeLine2(line, to, y-half, to, y+half)
}

// nameBelow writes the name of the axis below a frame.
func nameBelow(c draw.Canvas, f frame, name string) {
	write(c, vg.Point{X: f.Max.X, Y: f.Min.Y - stepRoom - rowHeight + 1}, words{text: name, size: headingSize, bold: true, align: 1})
}
