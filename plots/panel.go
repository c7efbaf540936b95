package plots

import (
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// curve is a line over time, named at its right end.
type curve struct {
	name string
	bold bool
	line draw.LineStyle
	x, y []float64 // [min], in the unit of the panel
}

// rule is a level across the whole panel, named at the right.
type rule struct {
	name string
	line draw.LineStyle
	y    float64
}

// band is a range of levels that is shaded.
type band struct {
	from, to float64
	fill     draw.LineStyle // only its colour counts
}

// mark is a point with a note beside it.
type mark struct {
	x, y    float64
	note    string
	more    string // a second line of the note; may be empty
	shape   draw.GlyphStyle
	passing bool // of a limit, else a peak
}

// panel is one frame over the common time axis.
type panel struct {
	name, unit string
	height     vg.Length
	steps      int // most intervals between labelled levels
	bands      []band
	areas      []area
	rules      []rule
	curves     []curve
	marks      []mark
	y          span
	inside     vg.Rectangle // of the frame, set by the layout
	above      vg.Length    // room for names between the frame and the heading
}

// heading is the label of the vertical axis; it lies above the frame, where
// it reads without turning the head.
func (p *panel) heading() string { return p.name + ", " + p.unit }

// frame maps values to the canvas.
type frame struct {
	vg.Rectangle
	x, y span
}

func (f frame) at(x, y float64) vg.Point {
	share := func(v float64, s span) vg.Length { return vg.Length((v - s.lo) / (s.hi - s.lo)) }
	size := f.Size()
	return vg.Point{X: f.Min.X + share(x, f.x)*size.X, Y: f.Min.Y + share(y, f.y)*size.Y}
}

// back is the place of a point of the canvas.
func (f frame) back(p vg.Point) place {
	size := f.Size()
	return place{
		x: f.x.lo + float64((p.X-f.Min.X)/size.X)*(f.x.hi-f.x.lo),
		y: f.y.lo + float64((p.Y-f.Min.Y)/size.Y)*(f.y.hi-f.y.lo),
	}
}

func (f frame) points(c curve) []vg.Point {
	pts := make([]vg.Point, len(c.x))
	for i := range c.x {
		pts[i] = f.at(c.x[i], c.y[i])
	}
	return pts
}

// levels returns the distance of the labelled levels of a panel.
func (p *panel) levels() float64 { return step(p.y.hi-p.y.lo, p.steps) }

// draw paints the panel over the times x, with vertical lines at the
// boundaries of legs.
func (p *panel) draw(c draw.Canvas, x span, boundaries []float64) {
	f := frame{p.inside, x, p.y}
	p.ground(c, f, boundaries)
	for i := range p.areas {
		p.areas[i].draw(c, f)
	}
	for _, r := range p.rules {
		c.StrokeLine2(r.line, f.Min.X, f.at(x.lo, r.y).Y, f.Max.X, f.at(x.lo, r.y).Y)
	}
	for _, l := range p.curves {
		pts := f.points(l)
		c.StrokeLines(l.line, pts)
		if len(pts) == 1 {
			c.DrawGlyph(draw.GlyphStyle{Color: l.line.Color, Radius: 2 * l.line.Width, Shape: draw.CircleGlyph{}}, pts[0])
		}
	}
	outline := f.Path()
	c.SetLineStyle(stroke(ink, 0.7, solid))
	c.Stroke(outline)
	p.nameEnds(c, f)
	p.note(c, f)
	write(c, vg.Point{X: f.Min.X, Y: f.Max.Y + p.above + headingGap}, words{text: p.heading(), size: headingSize, bold: true})
}

// ground paints what lies behind the curves: bands, grid, boundaries of legs
// and the labels of the levels.
func (p *panel) ground(c draw.Canvas, f frame, boundaries []float64) {
	for _, b := range p.bands {
		low, high := f.at(f.x.lo, b.from), f.at(f.x.hi, b.to)
		c.FillPolygon(b.fill.Color, []vg.Point{low, {X: high.X, Y: low.Y}, high, {X: low.X, Y: high.Y}})
	}
	by := p.levels()
	for _, v := range ticks(p.y.lo, p.y.hi, by) {
		y := f.at(f.x.lo, v).Y
		c.StrokeLine2(stroke(faint, 0.5, solid), f.Min.X, y, f.Max.X, y)
		c.StrokeLine2(stroke(ink, 0.7, solid), f.Min.X-tickLength, y, f.Min.X, y)
		write(c, vg.Point{X: f.Min.X - tickLength - 3, Y: y - middle*textSize},
			words{text: decimal(v, places(by)), size: textSize, align: 1})
	}
	for _, t := range boundaries {
		x := f.at(t, f.y.lo).X
		c.StrokeLine2(stroke(grey, 0.5, solid), x, f.Min.Y, x, f.Max.Y)
	}
}
