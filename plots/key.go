package plots

import (
	"image/color"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// keyEntry explains one sign of a figure.
type keyEntry struct {
	text string
	sample
}

// sample is a piece of what a key explains, of some width.
type sample struct {
	width vg.Length
	draw  func(c draw.Canvas, box vg.Rectangle)
}

const (
	keyHeight vg.Length = 13
	lineWidth vg.Length = 26 // of a sample of a line or a shade
	markWidth vg.Length = 10 // of a sample of a mark
	sampleGap vg.Length = 4  // between a sample and its text
	entryGap  vg.Length = 14 // between entries
)

// keyRow is a row of a key with the left ends of its entries.
type keyRow struct {
	entries []keyEntry
	left    []vg.Length
}

func (e keyEntry) words() words { return words{text: e.text, size: textSize} }

// keyRows breaks a key into rows not wider than room.
func keyRows(key []keyEntry, room vg.Length) []keyRow {
	var rows []keyRow
	x := room
	for _, e := range key {
		e.text = e.words().fit(room - e.width - sampleGap).text
		width := e.width + sampleGap + e.words().width()
		if len(rows) == 0 || x+width > room {
			rows, x = append(rows, keyRow{}), 0
		}
		last := &rows[len(rows)-1]
		last.entries, last.left = append(last.entries, e), append(last.left, margin+x)
		x += width + entryGap
	}
	return rows
}

// draw draws the row with the baseline of its texts just above y.
func (r keyRow) draw(c draw.Canvas, y vg.Length) {
	const baseline, half = 3, 4
	for i, e := range r.entries {
		middleY := y + baseline + middle*textSize
		e.sample.draw(c, vg.Rectangle{
			Min: vg.Point{X: r.left[i], Y: middleY - half},
			Max: vg.Point{X: r.left[i] + e.width, Y: middleY + half},
		})
		write(c, vg.Point{X: r.left[i] + e.width + sampleGap, Y: y + baseline}, e.words())
	}
}

func center(box vg.Rectangle) vg.Point { return box.Min.Add(box.Max).Scale(0.5) }

// lineSample shows a line, and a mark on it if there is one.
func lineSample(line draw.LineStyle, mark draw.GlyphDrawer) sample {
	return sample{lineWidth, func(c draw.Canvas, box vg.Rectangle) {
		at := center(box)
		c.StrokeLine2(line, box.Min.X, at.Y, box.Max.X, at.Y)
		if mark != nil {
			drawMark(c, at, draw.GlyphStyle{Color: line.Color, Radius: markRadius, Shape: mark})
		}
	}}
}

// uprightSample shows a vertical line.
func uprightSample(line draw.LineStyle) sample {
	return sample{markWidth, func(c draw.Canvas, box vg.Rectangle) {
		c.StrokeLine2(line, center(box).X, box.Min.Y-2, center(box).X, box.Max.Y+2)
	}}
}

// glyphSample shows a mark.
func glyphSample(g draw.GlyphStyle) sample {
	return sample{markWidth, func(c draw.Canvas, box vg.Rectangle) { drawMark(c, center(box), g) }}
}

// fillSample shows a shade.
func fillSample(fill color.Color) sample {
	return sample{lineWidth, func(c draw.Canvas, box vg.Rectangle) {
		fillBox(c, box, fill)
		outline(c, box, 0.5)
	}}
}

// fillBox fills a box.
func fillBox(c draw.Canvas, box vg.Rectangle, fill color.Color) {
	c.FillPolygon(fill, []vg.Point{box.Min, {X: box.Max.X, Y: box.Min.Y}, box.Max, {X: box.Min.X, Y: box.Max.Y}})
}

// outline draws the edge of a box.
func outline(c draw.Canvas, box vg.Rectangle, width vg.Length) {
	c.SetLineStyle(stroke(ink, width, solid))
	c.Stroke(box.Path())
}

// hatch draws strokes that rise at 45° across a box, in step with those of all
// other boxes.
func hatch(c draw.Canvas, box vg.Rectangle, line draw.LineStyle, pitch vg.Length) {
	low, high := (box.Min.X - box.Max.Y).Points(), (box.Max.X - box.Min.Y).Points()
	for _, k := range ticks(low, high, pitch.Points()) { // of x − y
		d := vg.Length(k)
		from, to := max(box.Min.X, box.Min.Y+d), min(box.Max.X, box.Max.Y+d)
		if from < to {
			c.StrokeLine2(line, from, from-d, to, to-d)
		}
	}
}
