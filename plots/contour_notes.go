package plots

import (
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// room gathers what texts should not hide.
func (l *contour) room(f frame) *placer {
	room := roomIn(f, slices.Concat(l.bold[0], l.bold[1])...)
	for _, line := range l.lines {
		room.rules = append(room.rules, along(line.pts)...)
	}
	for _, p := range l.places() {
		if l.inside(*p.at) {
			room.taken = append(room.taken, around(f.at(p.at[0], p.at[1]), p.mark.Radius+1))
		}
	}
	return room
}

// notes names the optimum, the present and the bold lines where there is room.
func (l *contour) notes(f frame, room *placer) []note {
	var notes []note
	for _, p := range l.places() {
		if !l.inside(*p.at) {
			continue
		}
		w, at := words{text: p.text(), size: textSize, bold: true}, f.at(p.at[0], p.at[1])
		notes = append(notes, note{words: w, box: room.place(at, noteSize(w)), at: at, leader: true})
	}
	for i := range l.bold {
		w := words{text: l.boundary(i), size: textSize, bold: true}
		if n, cost := room.beside(l.bold[i], l.bold[1-i], w); !math.IsInf(cost, 1) {
			room.keep(n.at, n.box)
			notes = append(notes, n)
		}
	}
	for i, n := range notes {
		notes[i] = n.on(l.worst.at(f.back(center(n.box))) < 0)
	}
	return notes
}

// boundary is the name of the line where a circuit just holds.
func (l *contour) boundary(circuit int) string {
	if need := l.need(circuit); need != 0 {
		return circuitNames[circuit] + " keeps " + l.degrees(need)
	}
	return circuitNames[circuit] + " at its limit"
}

// labels puts the level of each line in a gap of it. Lines without room for it
// stay without.
func (l *contour) labels(room *placer) []note {
	var labels []note
	for _, line := range l.lines {
		w := words{text: signed(line.level, places(l.by)), size: smallSize}
		if box, ok := room.onLine(line.pts, w); ok {
			room.taken = append(room.taken, box)
			labels = append(labels, note{words: w, box: box})
		}
	}
	return labels
}

// onLine finds a place for a text on a line: free, clear of other lines, and near
// the middle.
func (p *placer) onLine(line []vg.Point, w words) (vg.Rectangle, bool) {
	const shortest = 12 // points at the pitch of along
	pts := along(line)
	if len(pts) < shortest {
		return vg.Rectangle{}, false
	}
	best, least := vg.Rectangle{}, math.Inf(1)
	size := vg.Point{X: w.width() + 4, Y: noteHeight}
	for k, at := range pts {
		box := vg.Rectangle{Min: at.Sub(size.Scale(0.5)), Max: at.Add(size.Scale(0.5))}
		if p.within(box) != box || p.blocked(box) {
			continue
		}
		if count(box, p.points) > 0 || count(box, p.rules)-count(box, pts) > 1 {
			continue // it would cut other lines
		}
		cost := costOfLeader*float64(count(box, p.leaders)) + 10*math.Abs(float64(k)/float64(len(pts))-0.5)
		if cost < least {
			best, least = box, cost
		}
	}
	return best, !math.IsInf(least, 1)
}

// fewFlown says whether the flown designs are few enough for dots.
func (l *contour) fewFlown() bool {
	const most = 900
	return len(l.X.Values)*len(l.Y.Values) <= most
}

// dots draws the nodes that were flown, and those where the run failed.
func (l *contour) dots(c draw.Canvas, f frame, room *placer) {
	for j, y := range l.Y.Values {
		for i, x := range l.X.Values {
			at := f.at(x, y)
			switch {
			case l.failed(i, j):
				drawMark(c, at, failedMark)
			case l.fewFlown() && !room.blocked(around(at, 0)):
				c.DrawGlyphNoClip(flownMark, at)
			}
		}
	}
}

// strokes draws the lines with gaps for the labels.
func (l *contour) strokes(c draw.Canvas, labels []note) {
	for _, line := range l.lines {
		pieces := [][]vg.Point{line.pts}
		for _, label := range labels {
			var rest [][]vg.Point
			for _, piece := range pieces {
				rest = append(rest, outside(piece, label.box)...)
			}
			pieces = rest
		}
		for _, piece := range pieces {
			c.StrokeLines(thinLine, piece)
		}
	}
	for i, style := range circuitStyles {
		for _, line := range l.bold[i] {
			c.StrokeLines(stroke(style.color, 2.2, style.dashes), line)
		}
	}
}
