package plots

import (
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// contourLine is a line of equal margin on the canvas.
type contourLine struct {
	level float64
	pts   []vg.Point
}

// Signs of a contour chart.
var (
	optimumMark = draw.GlyphStyle{Color: ink, Radius: 6, Shape: starGlyph{}}
	thinLine    = stroke(contourInk, 0.8, solid)
	contourInk  = color.NRGBA{0x6C, 0x6C, 0x6C, 0xFF}
	failedHatch = stroke(grey, 0.5, solid)
	flownMark   = draw.GlyphStyle{Color: grey, Radius: 1.1, Shape: draw.CircleGlyph{}}
)

const hatchPitch vg.Length = 5

// starGlyph is a star of five points.
type starGlyph struct{}

// DrawGlyph draws the star.
func (starGlyph) DrawGlyph(c *draw.Canvas, g draw.GlyphStyle, at vg.Point) {
	const inner = 0.45
	pts := make([]vg.Point, 10)
	for k := range pts {
		r := g.Radius
		if k%2 == 1 {
			r *= inner
		}
		sin, cos := math.Sincos(math.Pi/2 + float64(k)*math.Pi/5)
		pts[k] = vg.Point{X: at.X + r*vg.Length(cos), Y: at.Y + r*vg.Length(sin)}
	}
	c.FillPolygon(g.Color, pts)
}

func (l *contour) key() []keyEntry {
	key := []keyEntry{
		{"both margins hold", fillSample(white)},
		{"a margin is too small", fillSample(shade)},
	}
	if l.anyFailed() {
		key = append(key, keyEntry{"beside a run that failed", sample{lineWidth, func(c draw.Canvas, box vg.Rectangle) {
			hatch(c, box, failedHatch, hatchPitch)
			outline(c, box, 0.5)
		}}}, keyEntry{"run failed", glyphSample(failedMark)})
	}
	if l.fewFlown() {
		key = append(key, keyEntry{"flown", sample{markWidth, func(c draw.Canvas, box vg.Rectangle) { c.DrawGlyphNoClip(flownMark, center(box)) }}})
	}
	return key
}

// failed says whether the run at a node of the grid failed.
func (l *contour) failed(i, j int) bool {
	return math.IsNaN(l.Coolant[j][i]) || math.IsNaN(l.Oil[j][i])
}

func (l *contour) anyFailed() bool {
	for j := range l.Y.Values {
		for i := range l.X.Values {
			if l.failed(i, j) {
				return true
			}
		}
	}
	return false
}

// draw draws the frame and all in it.
func (l *contour) draw(c draw.Canvas, area vg.Rectangle) {
	top := area.Max.Y - vg.Length(len(l.yName))*rowHeight - headingGap
	f := frame{
		vg.Rectangle{Min: vg.Point{X: area.Min.X + l.left, Y: top - contourHeight}, Max: vg.Point{X: area.Max.X - columnGap/2, Y: top}},
		l.x.span, l.y.span,
	}
	l = l.traced(f)
	l.ground(c, f)
	room := l.room(f)
	notes := l.notes(f, room)
	labels := l.labels(room)
	l.dots(c, f, room)
	l.strokes(c, labels)
	outline(c, f.Rectangle, 0.7)
	for _, n := range notes {
		n.draw(c)
	}
	for _, label := range labels {
		label.draw(c)
	}
	for _, p := range slices.Backward(l.places()) {
		if l.inside(*p.at) {
			drawMark(c, f.at(p.at[0], p.at[1]), p.mark)
		}
	}
	s := sides{f, columnGap/2 - 2}
	s.vertical(c, l.y, true)
	s.horizontal(c, l.x, true)
	for i, line := range l.yName {
		write(c, vg.Point{X: f.Min.X, Y: f.Max.Y + headingGap + vg.Length(len(l.yName)-1-i)*rowHeight}, line)
	}
	for i, line := range l.xName {
		line.align = 1
		write(c, vg.Point{X: f.Max.X, Y: f.Min.Y - stepRoom - vg.Length(i+1)*rowHeight + 1}, line)
	}
}

// traced returns a copy with all lines on the canvas.
func (l *contour) traced(f frame) *contour {
	t := *l
	for _, level := range l.levels {
		for _, line := range l.worst.isolines(level) {
			t.lines = append(t.lines, contourLine{level, onCanvas(f, line)})
		}
	}
	for i := range t.bold {
		for _, line := range l.circuit[i].isolines(0) {
			t.bold[i] = append(t.bold[i], onCanvas(f, line))
		}
	}
	return &t
}

// onCanvas maps a line to the canvas, without points that it does not need.
func onCanvas(f frame, line []place) []vg.Point {
	pts := make([]vg.Point, len(line))
	for i, p := range line {
		pts[i] = f.at(p.x, p.y)
	}
	return straightened(pts)
}

// ground shades what does not hold and hatches what is unknown.
func (l *contour) ground(c draw.Canvas, f frame) {
	var low vg.Path
	for _, line := range l.worst.enclosed().isolines(0) {
		pts := onCanvas(f, line)
		low.Move(pts[0])
		for _, p := range pts[1:] {
			low.Line(p)
		}
		low.Close()
	}
	if len(low) > 0 {
		c.SetColor(shade)
		c.Fill(low)
	}
	for j := range len(l.Y.Values) - 1 {
		for i := range len(l.X.Values) - 1 {
			if l.failed(i, j) || l.failed(i+1, j) || l.failed(i, j+1) || l.failed(i+1, j+1) {
				hatch(c, vg.Rectangle{Min: f.at(l.X.Values[i], l.Y.Values[j]), Max: f.at(l.X.Values[i+1], l.Y.Values[j+1])}, failedHatch, hatchPitch)
			}
		}
	}
}
