package plots

import (
	"image/color"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// cornered is a mark with straight edges, full or hollow. Its corners are for
// a radius of one.
type cornered struct {
	corners []vg.Point
	hollow  bool
}

// DrawGlyph draws the mark.
func (m cornered) DrawGlyph(c *draw.Canvas, g draw.GlyphStyle, at vg.Point) {
	pts := make([]vg.Point, len(m.corners))
	for i, p := range m.corners {
		pts[i] = at.Add(p.Scale(g.Radius))
	}
	if !m.hollow {
		c.FillPolygon(g.Color, pts)
		return
	}
	c.FillPolygon(white, pts)
	c.StrokeLines(stroke(g.Color, 0.9, solid), append(pts, pts[0]))
}

// ringGlyph is a hollow circle with a white body.
type ringGlyph struct{}

// DrawGlyph draws the ring.
func (ringGlyph) DrawGlyph(c *draw.Canvas, g draw.GlyphStyle, at vg.Point) {
	inner := g
	inner.Radius -= 0.9
	draw.CircleGlyph{}.DrawGlyph(c, g, at)
	c.SetColor(white)
	draw.CircleGlyph{}.DrawGlyph(c, inner, at)
}

// plusGlyph is an upright cross.
type plusGlyph struct{}

// DrawGlyph draws both strokes of the cross.
func (plusGlyph) DrawGlyph(c *draw.Canvas, g draw.GlyphStyle, at vg.Point) {
	line := stroke(g.Color, 0.4*g.Radius, solid)
	c.StrokeLine2(line, at.X-g.Radius, at.Y, at.X+g.Radius, at.Y)
	c.StrokeLine2(line, at.X, at.Y-g.Radius, at.X, at.Y+g.Radius)
}

// Corners of marks.
var (
	upward   = []vg.Point{{X: 0, Y: 1.1}, {X: 1, Y: -0.7}, {X: -1, Y: -0.7}}
	downward = []vg.Point{{X: 0, Y: -1.1}, {X: 1, Y: 0.7}, {X: -1, Y: 0.7}}
	square   = []vg.Point{{X: 0.85, Y: 0.85}, {X: -0.85, Y: 0.85}, {X: -0.85, Y: -0.85}, {X: 0.85, Y: -0.85}}
	diamond  = []vg.Point{{X: 0, Y: 1.2}, {X: 1.2, Y: 0}, {X: 0, Y: -1.2}, {X: -1.2, Y: 0}}
)

// recordMarks tell records apart, by their shapes alone if need be.
var recordMarks = []draw.GlyphStyle{
	{Color: blue, Shape: draw.CircleGlyph{}},
	{Color: vermillion, Shape: cornered{upward, true}},
	{Color: green, Shape: cornered{square, false}},
	{Color: ink, Shape: ringGlyph{}},
	{Color: purple, Shape: cornered{downward, false}},
	{Color: ink, Shape: plusGlyph{}},
	{Color: skyBlue, Shape: cornered{diamond, false}},
	{Color: orange, Shape: cornered{square, true}},
	{Color: vermillion, Shape: cornered{upward, false}},
	{Color: blue, Shape: cornered{downward, true}},
	{Color: green, Shape: cornered{diamond, true}},
}

// restMark is of the records for which there is no mark of their own.
var restMark = draw.GlyphStyle{Color: color.NRGBA{0x99, 0x99, 0x99, 0xFF}, Radius: 1.4, Shape: draw.CircleGlyph{}}

// markOfRecord is the mark of a record by its number.
func markOfRecord(i int) draw.GlyphStyle {
	if i >= len(recordMarks) {
		return restMark
	}
	m := recordMarks[i]
	m.Radius = markRadius
	return m
}
