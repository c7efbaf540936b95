package plots

import (
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

func (l *sensitivity) key() []keyEntry {
	key := []keyEntry{
		{"coolant", lineSample(coolantStyle.sensed(), coolantStyle.mark)},
		{"oil", lineSample(oilStyle.sensed(), oilStyle.mark)},
		{"over the limit", fillSample(shade)},
	}
	present, failed, doubt := false, false, [2]bool{}
	for _, p := range l.panels {
		for k := range doubt {
			doubt[k] = doubt[k] || len(p.areas[k]) > 0
		}
		present = present || !math.IsNaN(p.Present)
		failed = failed || len(p.failed()) > 0
	}
	for k, banded := range doubt {
		if banded {
			key = append(key, keyEntry{circuitNames[k] + ", 5 % to 95 %", areaSample(circuitStyles[k])})
		}
	}
	if present {
		key = append(key, keyEntry{"present value", uprightSample(presentLine)})
	}
	if failed {
		key = append(key, keyEntry{"run failed", glyphSample(failedMark)})
	}
	return key
}

var (
	presentLine = stroke(ink, 1, shortDash)
	failedMark  = draw.GlyphStyle{Color: ink, Radius: 3.5, Shape: crossGlyph{}}
)

// failed lists the values at which a margin is missing.
func (p *sensitivityPanel) failed() []float64 {
	var at []float64
	for i, x := range p.Values {
		if math.IsNaN(p.Coolant[i]) || math.IsNaN(p.Oil[i]) {
			at = append(at, x)
		}
	}
	return at
}

// draw draws the panels row by row.
func (l *sensitivity) draw(c draw.Canvas, area vg.Rectangle) {
	name := words{text: axisText("Least margin over the cases", l.unit.unit), size: headingSize, bold: true}
	y := area.Max.Y
	for _, row := range l.rows() {
		corner := vg.Point{X: area.Min.X + l.left, Y: y - headRoom - l.size.Y}
		write(c, vg.Point{X: corner.X, Y: corner.Y + l.size.Y + headingGap}, name)
		for i := range row {
			f := frame{vg.Rectangle{Min: corner, Max: corner.Add(l.size)}, row[i].x.span, l.y.span}
			l.panel(c, &row[i], f, i == 0)
			corner.X += l.size.X + columnGap
		}
		y -= l.rowHeight(row)
	}
}

func (l *sensitivity) panel(c draw.Canvas, p *sensitivityPanel, f frame, texts bool) {
	s := sides{f, columnGap/2 - 2}
	if l.y.lo < 0 {
		fillBox(c, vg.Rectangle{Min: f.Min, Max: vg.Point{X: f.Max.X, Y: f.at(f.x.lo, 0).Y}}, shade)
	}
	s.levels(c, l.y)
	c.StrokeLine2(stroke(ink, 1.1, solid), f.Min.X, f.at(f.x.lo, 0).Y, f.Max.X, f.at(f.x.lo, 0).Y)
	if !math.IsNaN(p.Present) {
		x := f.at(p.Present, f.y.lo).X
		c.StrokeLine2(presentLine, x, f.Min.Y, x, f.Max.Y)
	}
	for i := range circuitStyles {
		for k := range p.areas[i] {
			p.areas[i][k].edged(c, f, i)
		}
	}
	for i, style := range circuitStyles {
		p.curve(c, f, p.circuits[i], style)
	}
	for _, at := range p.failedMarks(f) {
		drawMark(c, at, failedMark)
	}
	for _, n := range p.names(f) {
		n.draw(c)
	}
	outline(c, f.Rectangle, 0.7)
	s.vertical(c, l.y, texts)
	s.horizontal(c, p.x, true)
	for i, line := range p.name {
		line.align = 1
		write(c, vg.Point{X: f.Max.X, Y: f.Min.Y - stepRoom - vg.Length(i+1)*rowHeight + 1}, line)
	}
}

// failedMarks are the places of failed runs, at the foot of the frame.
func (p *sensitivityPanel) failedMarks(f frame) []vg.Point {
	const above = 5 // pt
	var marks []vg.Point
	for _, x := range p.failed() {
		at := f.at(x, f.y.lo)
		marks = append(marks, vg.Point{X: at.X, Y: at.Y + above})
	}
	return marks
}

// names writes coolant and oil beside their curves where there is room.
func (p *sensitivityPanel) names(f frame) []note {
	const dearest = 150 // as the placer counts; without a name the key remains
	var lines [2][][]vg.Point
	for i := range lines {
		for _, run := range runsOf(p.Values, p.circuits[i]) {
			run.x, run.y = thin(run.x, run.y)
			lines[i] = append(lines[i], f.points(run))
		}
	}
	room := roomIn(f, slices.Concat(lines[0], lines[1])...)
	room.rules = along([]vg.Point{f.at(f.x.lo, 0), f.at(f.x.hi, 0)})
	if !math.IsNaN(p.Present) {
		room.points = append(room.points, along([]vg.Point{f.at(p.Present, f.y.lo), f.at(p.Present, f.y.hi)})...)
	}
	for _, at := range p.failedMarks(f) {
		room.taken = append(room.taken, around(at, failedMark.Radius+1))
	}
	var names []note
	for i, name := range circuitNames {
		n, cost := room.beside(lines[i], lines[1-i], words{text: name, size: smallSize})
		if cost < dearest {
			room.keep(n.at, n.box)
			names = append(names, n.on(f.back(center(n.box)).y < 0))
		}
	}
	return names
}

// runsOf cuts a line at NaN.
func runsOf(x, y []float64) []curve {
	var runs []curve
	open := false
	for i, v := range y {
		if math.IsNaN(v) {
			open = false
			continue
		}
		if !open {
			runs, open = append(runs, curve{}), true
		}
		last := &runs[len(runs)-1]
		last.x, last.y = append(last.x, x[i]), append(last.y, v)
	}
	return runs
}

// curve draws a line with a mark at each flown value while they are few.
func (p *sensitivityPanel) curve(c draw.Canvas, f frame, y []float64, style circuitStyle) {
	const few = 12
	mark := draw.GlyphStyle{Color: style.color, Radius: markRadius, Shape: style.mark}
	for _, run := range runsOf(p.Values, y) {
		run.x, run.y = thin(run.x, run.y)
		pts := f.points(run)
		c.StrokeLines(style.sensed(), pts)
		if len(p.Values) > few && len(pts) > 1 {
			continue
		}
		for _, at := range pts {
			drawMark(c, at, mark)
		}
	}
}
