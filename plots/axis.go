package plots

import (
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// axis is the range of one side of a frame and the distance of its ticks.
type axis struct {
	span
	by float64
}

func (a axis) ticks() []float64 { return ticks(a.lo, a.hi, a.by) }

func (a axis) text(v float64) words {
	return words{text: decimal(v, places(a.by)), size: textSize}
}

// widest is the width of the longest text of the axis.
func (a axis) widest() vg.Length {
	width := vg.Length(0)
	for _, v := range a.ticks() {
		width = max(width, a.text(v).width())
	}
	return width
}

// horizontal gives a range of x as many ticks as have room for their texts.
func horizontal(s span, width vg.Length) axis {
	const most, clear = 10, 8
	for n := most; ; n-- {
		a := axis{s, step(s.hi-s.lo, n)}
		if n == 1 || a.widest()+clear <= width*vg.Length(a.by/(s.hi-s.lo)) {
			return a
		}
	}
}

// vertical gives a range of y ticks.
func vertical(s span, height vg.Length) axis {
	const each = 18 // pt, the least distance of ticks
	return axis{s, step(s.hi-s.lo, max(2, int(height/each)))}
}

// rounded widens the axis to whole ticks.
func (a axis) rounded() axis { return axis{a.outward(a.by), a.by} }

// opened widens a range of no or next to no width, for values in any unit.
func (s span) opened() span {
	size := math.Max(math.Abs(s.lo), math.Abs(s.hi))
	if s.hi-s.lo > leastRise {
		return s
	}
	return s.atLeast(math.Max(0.2*size, leastRise))
}

// sides draws ticks and texts along a frame: along x below it, along y left of
// it. Texts along x keep within overhang of the frame.
type sides struct {
	frame
	overhang vg.Length
}

// horizontal draws the ticks of x, with their texts if told and as far as they
// have room.
func (s sides) horizontal(c draw.Canvas, a axis, texts bool) {
	const clear = 3 // pt between texts
	end := vg.Length(math.Inf(-1))
	for _, v := range a.ticks() {
		x := s.at(v, s.y.lo).X
		c.StrokeLine2(stroke(ink, 0.7, solid), x, s.Min.Y, x, s.Min.Y-tickLength)
		if !texts {
			continue
		}
		w := a.text(v)
		left := min(max(x-w.width()/2, s.Min.X-s.overhang), s.Max.X+s.overhang-w.width())
		if left < end {
			continue
		}
		write(c, vg.Point{X: left, Y: s.Min.Y - tickLength - 1 - textSize}, w)
		end = left + w.width() + clear
	}
}

// vertical draws the ticks of y, with their texts if told.
func (s sides) vertical(c draw.Canvas, a axis, texts bool) {
	for _, v := range a.ticks() {
		y := s.at(s.x.lo, v).Y
		c.StrokeLine2(stroke(ink, 0.7, solid), s.Min.X-tickLength, y, s.Min.X, y)
		if texts {
			w := a.text(v)
			w.align = 1
			write(c, vg.Point{X: s.Min.X - tickLength - 3, Y: y - middle*textSize}, w)
		}
	}
}

// levels draws the lines of the grid across the frame.
func (s sides) levels(c draw.Canvas, a axis) {
	for _, v := range a.ticks() {
		y := s.at(s.x.lo, v).Y
		c.StrokeLine2(stroke(faint, 0.5, solid), s.Min.X, y, s.Max.X, y)
	}
}
