package plots

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// FrontPoint is a design that no other beats in both margin and drag.
type FrontPoint struct {
	Margin    float64 // least over both circuits and the cases [K]
	DragPower float64 // cooling drag times speed [W]
	Area      float64 // of all openings [m²]
}

func (p FrontPoint) check(what string) error {
	for _, v := range []struct {
		name  string
		value float64
	}{{"margin", p.Margin}, {"drag power", p.DragPower}, {"area", p.Area}} {
		if err := shown("the "+v.name+" of "+what, v.value); err != nil {
			return err
		}
	}
	return nil
}

// Front draws drag power and area of openings against margin, the points
// joined in the order of their margins, and the present design beside them; a
// present margin of NaN leaves it out. Other numbers that are not finite are
// errors that say which.
func Front(points []FrontPoint, present FrontPoint, u Units, c Caption) (*Figure, error) {
	if err := u.known(); err != nil {
		return nil, err
	}
	if len(points) == 0 {
		return nil, errors.New("the front has no points to draw")
	}
	for i, p := range points {
		if err := p.check(fmt.Sprintf("point %d of the front", i+1)); err != nil {
			return nil, err
		}
	}
	l := &front{units: u, points: slices.Clone(points)}
	slices.SortStableFunc(l.points, func(a, b FrontPoint) int { return cmp.Compare(a.Margin, b.Margin) })
	if !math.IsNaN(present.Margin) {
		if err := present.check("the present design"); err != nil {
			return nil, err
		}
		l.present = &present
	}
	l.layOut()
	s := &sheet{
		heading: c.heading("Drag against margin"), caption: c, key: l.key(),
		height: l.height(), body: l.draw, data: l.tables(),
	}
	return s.figure(l.describe()), nil
}

// front is two panels over a common axis of margins.
type front struct {
	units   Units
	points  []FrontPoint
	present *FrontPoint
	panels  [2]frontPanel
	x       axis
	left    vg.Length
}

// frontPanel is one quantity against margin.
type frontPanel struct {
	name   string
	unit   scale
	of     func(FrontPoint) float64
	line   draw.LineStyle
	mark   draw.GlyphDrawer
	height vg.Length
	y      axis
}

// value of a point in the unit of the panel.
func (p *frontPanel) value(q FrontPoint) float64 { return p.unit.of(p.of(q)) }

const frontGap vg.Length = 8 // below the upper frame

func (l *front) layOut() {
	l.panels = [2]frontPanel{
		{name: "Cooling-drag power", unit: l.units.power(), of: func(p FrontPoint) float64 { return p.DragPower },
			line: stroke(ink, 1.6, solid), mark: draw.CircleGlyph{}, height: 190},
		{name: "Area of all openings", unit: l.units.area(), of: func(p FrontPoint) float64 { return p.Area },
			line: stroke(green, 1.6, dashed), mark: draw.BoxGlyph{}, height: 120},
	}
	all := l.points
	if l.present != nil {
		all = append(slices.Clone(all), *l.present)
	}
	const share = 0.05 // of its size that a quantity spans at least
	x := nothing
	for _, q := range all {
		x = x.with(l.units.difference().of(q.Margin))
	}
	for i := range l.panels {
		p := &l.panels[i]
		y := nothing
		for _, q := range all {
			y = y.with(p.value(q))
		}
		size := math.Max(math.Abs(y.lo), math.Abs(y.hi))
		p.y = vertical(y.opened().atLeast(share*size).padded(0.06), p.height).rounded()
		l.left = max(l.left, p.y.widest()+tickLength+3)
	}
	l.x = horizontal(x.atLeast(l.units.difference().factor).padded(0.04), l.width())
}

// padded widens s by a share of its width at both ends.
func (s span) padded(share float64) span { return s.atLeast((1 + 2*share) * (s.hi - s.lo)) }

func (l *front) width() vg.Length { return pageWidth - 2*margin - l.left - columnGap/2 }

func (l *front) height() vg.Length {
	return 2*headRoom + l.panels[0].height + l.panels[1].height + frontGap + stepRoom + rowHeight + 2
}

// presentMark is a hollow diamond.
var presentMark = draw.GlyphStyle{Color: ink, Radius: 4.5, Shape: diamondGlyph{}}

// diamondGlyph is a hollow diamond with a white body.
type diamondGlyph struct{}

// DrawGlyph draws the diamond.
func (diamondGlyph) DrawGlyph(c *draw.Canvas, g draw.GlyphStyle, at vg.Point) {
	corners := []vg.Point{{X: at.X, Y: at.Y + g.Radius}, {X: at.X + g.Radius, Y: at.Y}, {X: at.X, Y: at.Y - g.Radius}, {X: at.X - g.Radius, Y: at.Y}}
	c.FillPolygon(white, corners)
	c.StrokeLines(stroke(g.Color, 1.4, solid), append(corners, corners[0]))
}

func (l *front) key() []keyEntry {
	key := []keyEntry{
		{"least drag for each margin", lineSample(l.panels[0].line, l.panels[0].mark)},
		{"openings of the same designs", lineSample(l.panels[1].line, l.panels[1].mark)},
	}
	if l.present != nil {
		key = append(key, keyEntry{"present design", glyphSample(presentMark)})
	}
	if l.x.lo < 0 {
		key = append(key, keyEntry{"over a limit", fillSample(shade)})
	}
	return key
}

func (l *front) draw(c draw.Canvas, area vg.Rectangle) {
	y := area.Max.Y
	for i := range l.panels {
		p := &l.panels[i]
		y -= headRoom + p.height
		f := frame{
			vg.Rectangle{Min: vg.Point{X: area.Min.X + l.left, Y: y}, Max: vg.Point{X: area.Max.X - columnGap/2, Y: y + p.height}},
			l.x.span, p.y.span,
		}
		l.panel(c, p, f, i == len(l.panels)-1)
		y -= frontGap
	}
}

func (l *front) panel(c draw.Canvas, p *frontPanel, f frame, last bool) {
	s, margin := sides{f, columnGap/2 - 2}, l.units.difference()
	if f.x.lo < 0 {
		right := min(f.at(0, f.y.lo).X, f.Max.X)
		fillBox(c, vg.Rectangle{Min: f.Min, Max: vg.Point{X: right, Y: f.Max.Y}}, shade)
	}
	s.levels(c, p.y)
	run := curve{}
	for _, q := range l.points {
		run.x, run.y = append(run.x, margin.of(q.Margin)), append(run.y, p.value(q))
	}
	pts := f.points(run)
	c.StrokeLines(p.line, pts)
	const many = 60
	for _, at := range pts {
		if len(pts) <= many {
			drawMark(c, at, draw.GlyphStyle{Color: p.line.Color, Radius: markRadius, Shape: p.mark})
		}
	}
	outline(c, f.Rectangle, 0.7)
	if l.present != nil {
		l.namePresent(c, p, f, pts)
	}
	s.vertical(c, p.y, true)
	s.horizontal(c, l.x, last)
	write(c, vg.Point{X: f.Min.X, Y: f.Max.Y + headingGap}, words{text: axisText(p.name, p.unit.unit), size: headingSize, bold: true})
	if last {
		write(c, vg.Point{X: f.Max.X, Y: f.Min.Y - stepRoom - rowHeight + 1},
			words{text: axisText("Least margin of coolant and oil over the cases", margin.unit), size: headingSize, bold: true, align: 1})
	}
}

// namePresent marks the present design and writes its value beside it.
func (l *front) namePresent(c draw.Canvas, p *frontPanel, f frame, front []vg.Point) {
	at := f.at(l.units.difference().of(l.present.Margin), p.value(*l.present))
	w := words{text: fmt.Sprintf("present, %s %s", figures(p.value(*l.present)), p.unit.unit), size: textSize, bold: true}
	room := roomIn(f, front)
	room.taken = append(room.taken, around(at, presentMark.Radius+1))
	n := note{words: w, box: room.place(at, noteSize(w)), at: at, leader: true}
	n.on(f.back(n.box.Min).x < 0 && f.back(n.box.Max).x < 0).draw(c)
	drawMark(c, at, presentMark)
}

// describe says in words what the figure shows.
func (l *front) describe() string {
	var text strings.Builder
	fmt.Fprintf(&text, "Least cooling-drag power against margin, %s. ", counted(len(l.points), "design"))
	fmt.Fprintf(&text, "From %s to %s. ", l.told(l.points[0]), l.told(l.points[len(l.points)-1]))
	if l.present != nil {
		fmt.Fprintf(&text, "The present design: %s. ", l.told(*l.present))
	}
	text.WriteString("An " + reminder + ".")
	return text.String()
}

func (l *front) told(q FrontPoint) string {
	m, p, a := l.units.difference(), l.units.power(), l.units.area()
	return fmt.Sprintf("%s %s of margin for %s %s and %s %s", signed(m.of(q.Margin), 1), m.unit,
		decimal(p.of(q.DragPower), 2), p.unit, decimal(a.of(q.Area), 1), a.unit)
}
