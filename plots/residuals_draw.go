package plots

import (
	"math"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

func (l *residuals) key() []keyEntry {
	var key []keyEntry
	noise, refused, beyond := false, false, false
	for _, k := range l.circuits {
		style := circuitStyles[k]
		key = append(key, keyEntry{circuitNames[k], lineSample(residualLine(k), style.mark)})
	}
	for _, row := range l.rows {
		for _, p := range row.panels {
			if p == nil {
				continue
			}
			noise = noise || p.noise > 0
			for _, y := range p.refused.y {
				outside := y < l.y.lo || y > l.y.hi
				refused, beyond = refused || !outside, beyond || outside
			}
		}
	}
	if noise {
		key = append(key, keyEntry{"two standard deviations of a reading", fillSample(shade)})
	}
	return append(key, refusedKey(refused, beyond)...)
}

// residualLine joins the readings of a circuit: without dashes, which would
// drown in noise; each circuit has panels of its own.
func residualLine(circuit int) draw.LineStyle {
	return stroke(circuitStyles[circuit].color, 0.8, solid)
}

func (l *residuals) draw(c draw.Canvas, area vg.Rectangle) {
	y := area.Max.Y
	for i := range l.rows {
		row := &l.rows[i]
		at := y
		for _, line := range row.name {
			at -= rowHeight
			write(c, vg.Point{X: area.Min.X, Y: at + 2}, line)
		}
		corner := vg.Point{X: area.Min.X + l.left, Y: at - headRoom - l.size.Y}
		for k, p := range row.panels {
			f := frame{vg.Rectangle{Min: corner, Max: corner.Add(l.size)}, row.x.span, l.y.span}
			l.panel(c, p, f, sidesOfPanel{row.x, k == 0, circuitNames[l.circuits[k]]})
			corner.X += l.size.X + columnGap
		}
		y -= row.height(l.size)
	}
	write(c, vg.Point{X: area.Max.X - columnGap/2, Y: area.Min.Y + 2},
		words{text: timeLabel + ", from the start of each record", size: headingSize, bold: true, align: 1})
}

// sidesOfPanel is what is written around the frame of a panel.
type sidesOfPanel struct {
	x     axis
	texts bool // of the levels
	name  string
}

func (l *residuals) panel(c draw.Canvas, p *residualPanel, f frame, around sidesOfPanel) {
	s := sides{f, columnGap/2 - 2}
	name := axisText(strings.ToUpper(around.name[:1])+around.name[1:]+", reading less model", l.unit.unit)
	write(c, vg.Point{X: f.Min.X, Y: f.Max.Y + headingGap}, words{text: name, size: headingSize})
	if p == nil {
		write(c, vg.Point{X: center(f.Rectangle).X, Y: center(f.Rectangle).Y - middle*textSize},
			words{text: "not read on this record", size: textSize, color: noteInk, align: 0.5})
	} else {
		p.draw(c, f, s, l.y)
	}
	outline(c, f.Rectangle, 0.7)
	s.horizontal(c, around.x, true)
	s.vertical(c, l.y, around.texts)
}

// draw draws the band, the levels and the readings.
func (p *residualPanel) draw(c draw.Canvas, f frame, s sides, y axis) {
	low, high := f.at(f.x.lo, -wideSigmas*p.noise).Y, f.at(f.x.lo, wideSigmas*p.noise).Y
	if p.noise > 0 {
		fillBox(c, vg.Rectangle{Min: vg.Point{X: f.Min.X, Y: low}, Max: vg.Point{X: f.Max.X, Y: high}}, shade)
	}
	s.levels(c, y)
	if p.noise > 0 {
		c.StrokeLine2(bandEdge, f.Min.X, low, f.Max.X, low)
		c.StrokeLine2(bandEdge, f.Min.X, high, f.Max.X, high)
	}
	c.StrokeLine2(stroke(ink, 0.9, solid), f.Min.X, f.at(0, 0).Y, f.Max.X, f.at(0, 0).Y)
	style := circuitStyles[p.circuit]
	mark := draw.GlyphStyle{Color: style.color, Radius: markRadius - 0.6, Shape: style.mark}
	for _, piece := range p.pieces {
		pts := f.points(piece)
		c.StrokeLines(residualLine(p.circuit), pts)
		for _, at := range pts {
			if !p.many || len(pts) == 1 {
				drawMark(c, at, mark)
			}
		}
	}
	p.refusals(c, f)
}

// refusals marks the refused readings, at the edge if they lie beyond it.
func (p *residualPanel) refusals(c draw.Canvas, f frame) {
	const inside = 4 // pt from the frame
	for i, y := range p.refused.y {
		at := f.at(p.refused.x[i], math.Min(math.Max(y, f.y.lo), f.y.hi))
		switch {
		case y > f.y.hi:
			c.DrawGlyphNoClip(beyondMark(true), vg.Point{X: at.X, Y: at.Y - inside})
		case y < f.y.lo:
			c.DrawGlyphNoClip(beyondMark(false), vg.Point{X: at.X, Y: at.Y + inside})
		default:
			c.DrawGlyphNoClip(refusedMark, at)
		}
	}
}
