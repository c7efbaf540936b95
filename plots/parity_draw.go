package plots

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// refusedAt is where a refused reading is marked, and how.
func refusedAt(f frame, q parityPoint) (vg.Point, draw.GlyphStyle) {
	const inside = 4 // pt from the frame
	at := f.at(math.Min(math.Max(q.model, f.x.lo), f.x.hi), math.Min(math.Max(q.read, f.y.lo), f.y.hi))
	switch {
	case q.read > f.y.hi:
		at.Y -= inside
		return at, beyondMark(true)
	case q.read < f.y.lo:
		at.Y += inside
		return at, beyondMark(false)
	}
	return at, refusedMark
}

func (l *parity) key() []keyEntry {
	var key []keyEntry
	for i := range l.records[:min(len(l.records), len(recordMarks))] {
		key = append(key, keyEntry{l.records[i].Name, glyphSample(markOfRecord(i))})
	}
	if rest := len(l.records) - len(recordMarks); rest > 0 {
		key = append(key, keyEntry{counted(rest, "further record"), glyphSample(restMark)})
	}
	refused, beyond, noise := false, false, false
	for _, p := range l.panels {
		noise = noise || p.noise > 0
		for _, q := range p.points {
			outside := q.read < p.axis.lo || q.read > p.axis.hi
			refused, beyond = refused || q.refused && !outside, beyond || outside
		}
	}
	key = append(key, refusedKey(refused, beyond)...)
	key = append(key, keyEntry{"reading as the model says", lineSample(agreeing, nil)})
	if noise {
		key = append(key, keyEntry{l.bandText(), fillSample(shade)})
	}
	return key
}

// bandText explains the band of noise.
func (l *parity) bandText() string {
	text, even := "two standard deviations of a reading", true
	var widths []string
	for _, p := range l.panels {
		if p.noise == 0 {
			continue
		}
		even = even && p.even
		widths = append(widths, fmt.Sprintf("%s ±%s %s", circuitNames[p.circuit], figures(wideSigmas*p.noise), l.unit.unit))
	}
	if !even {
		text += ", of the noisiest record"
	}
	return text + ": " + strings.Join(widths, ", ")
}

// agreeing is the line on which reading and model agree.
var agreeing = stroke(ink, 1.1, solid)

func (l *parity) draw(c draw.Canvas, area vg.Rectangle) {
	corner := vg.Point{X: area.Min.X + l.left, Y: area.Max.Y - headRoom - l.size}
	for i := range l.panels {
		p := &l.panels[i]
		f := frame{vg.Rectangle{Min: corner, Max: corner.Add(vg.Point{X: l.size, Y: l.size})}, p.axis.span, p.axis.span}
		l.panel(c, p, f)
		corner.X += l.size + columnGap + l.left
	}
}

func (l *parity) panel(c draw.Canvas, p *parityPanel, f frame) {
	s := sides{f, columnGap/2 - 2}
	p.band(c, f)
	s.levels(c, p.axis)
	s.uprights(c, p.axis)
	c.StrokeLine2(agreeing, f.Min.X, f.Min.Y, f.Max.X, f.Max.Y)
	for _, q := range p.points {
		if !q.refused {
			c.DrawGlyphNoClip(markOfRecord(q.record), f.at(q.model, q.read))
		}
	}
	for _, q := range p.points {
		if q.refused {
			at, mark := refusedAt(f, q)
			c.DrawGlyphNoClip(mark, at)
		}
	}
	outline(c, f.Rectangle, 0.7)
	s.horizontal(c, p.axis, true)
	s.vertical(c, p.axis, true)
	name := circuitNames[p.circuit]
	write(c, vg.Point{X: f.Min.X, Y: f.Max.Y + headingGap},
		words{text: axisText("Reading of the "+name, l.unit.unit), size: headingSize, bold: true})
	write(c, vg.Point{X: f.Max.X, Y: f.Min.Y - stepRoom - rowHeight + 1},
		words{text: axisText("The "+name+" by the model", l.unit.unit), size: headingSize, bold: true, align: 1})
}

// band shades what lies within two standard deviations of the line.
func (p *parityPanel) band(c draw.Canvas, f frame) {
	if p.noise == 0 {
		return
	}
	lo, hi := f.x.lo, f.x.hi
	w := min(wideSigmas*p.noise, hi-lo)
	var corners []vg.Point
	for _, at := range [][2]float64{{lo, lo}, {lo, lo + w}, {hi - w, hi}, {hi, hi}, {hi, hi - w}, {lo + w, lo}} {
		corners = append(corners, f.at(at[0], at[1]))
	}
	c.FillPolygon(shade, corners)
	for _, edge := range [][2]vg.Point{{corners[1], corners[2]}, {corners[4], corners[5]}} {
		c.StrokeLines(bandEdge, edge[:])
	}
}

// bandEdge is the edge of a band of noise.
var bandEdge = stroke(grey, 0.5, solid)
