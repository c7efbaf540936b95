package plots

import (
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// note is a text in a frame with a leader to what it names.
type note struct {
	words
	box    vg.Rectangle
	at     vg.Point // what it names
	leader bool
	ground color.NRGBA // behind the text; none if it is zero
}

const noteHeight = textSize + 2

// noteSize is the size of the box around a text.
func noteSize(w words) vg.Point { return vg.Point{X: w.width() + 4, Y: noteHeight} }

// haloOpacity of what lies behind a text on data.
const haloOpacity = 0.85

// on returns the note on shade or on white.
func (n note) on(shaded bool) note {
	n.ground = white
	if shaded {
		n.ground = shade
	}
	return n
}

func (n note) draw(c draw.Canvas) {
	if n.leader {
		near := nearest(n.box, n.at)
		c.StrokeLine2(stroke(ink, 0.5, solid), n.at.X, n.at.Y, near.X, near.Y)
	}
	if n.ground != (color.NRGBA{}) {
		fillBox(c, n.box, tint(n.ground, haloOpacity))
	}
	write(c, vg.Point{X: n.box.Min.X + 2, Y: n.box.Min.Y + 1 + 0.2*textSize}, n.words)
}

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

// roomIn returns the room in a frame with lines that texts should not hide.
func roomIn(f frame, lines ...[]vg.Point) *placer {
	const clear = 3 // pt from the frame
	room := &placer{bounds: vg.Rectangle{Min: f.Min.Add(vg.Point{X: clear, Y: clear}), Max: f.Max.Sub(vg.Point{X: clear, Y: clear})}}
	for _, line := range lines {
		room.points = append(room.points, along(line)...)
	}
	return room
}

func around(at vg.Point, r vg.Length) vg.Rectangle {
	return vg.Rectangle{Min: at.Sub(vg.Point{X: r, Y: r}), Max: at.Add(vg.Point{X: r, Y: r})}
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

// beside finds the best place for the name of a line in pieces that is not
// taken for the name of another line, and its cost; +Inf if there is no line.
func (p *placer) beside(line, other [][]vg.Point, w words) (best note, least float64) {
	longest := []vg.Point(nil)
	for _, piece := range line {
		if pts := append(along(piece), piece[len(piece)-1]); len(pts) > len(longest) {
			longest = pts
		}
	}
	best, least = note{words: w, leader: true}, math.Inf(1)
	if len(longest) == 0 {
		return best, least
	}
	const tries = 7
	for k := range tries {
		at := longest[(k+1)*(len(longest)-1)/(tries+1)]
		box, cost := p.find(at, noteSize(w))
		if cost += ambiguity(at, box, other); cost < least {
			best.at, best.box, least = at, box, cost
		}
	}
	return best, least
}

// ambiguity is the cost of a leader that passes or begins near another line.
func ambiguity(at vg.Point, box vg.Rectangle, other [][]vg.Point) float64 {
	const near, costOfNear = 6, 25 // pt; of a point of the other line
	reach := around(at, near)
	end := nearest(box, at)
	reach.Min = vg.Point{X: min(reach.Min.X, end.X), Y: min(reach.Min.Y, end.Y)}
	reach.Max = vg.Point{X: max(reach.Max.X, end.X), Y: max(reach.Max.Y, end.Y)}
	n := 0
	for _, line := range other {
		n += count(reach, along(line))
	}
	return costOfNear * float64(n)
}

// labels puts the level of each line in a gap of it. Lines without room for it
// stay without.
func (l *contour) labels(room *placer) []note {
	var labels []note
	for i, line := range l.lines {
		w := words{text: signed(line.level, places(l.by)), size: smallSize}
		if box, ok := room.onLine(l.lines, i, w); ok {
			room.taken = append(room.taken, box)
			labels = append(labels, note{words: w, box: box})
		}
	}
	return labels
}

// onLine finds a place for a text on a line: free, and far from other lines.
func (p *placer) onLine(lines []contourLine, i int, w words) (vg.Rectangle, bool) {
	const shortest = 12 // points at the pitch of along
	pts := along(lines[i].pts)
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
		own := count(box, pts)
		cost := costOfPoint*float64(count(box, p.points)) + costOfRule*float64(max(0, count(box, p.rules)-own)) +
			costOfLeader*float64(count(box, p.leaders)) + 10*math.Abs(float64(k)/float64(len(pts))-0.5)
		if cost < least {
			best, least = box, cost
		}
	}
	return best, !math.IsInf(least, 1)
}

// blocked says whether a box with a rim lies on one that is taken.
func (p *placer) blocked(box vg.Rectangle) bool {
	const rim = 3 // pt
	for _, t := range p.taken {
		if box.Min.X-rim < t.Max.X && t.Min.X < box.Max.X+rim && box.Min.Y-rim < t.Max.Y && t.Min.Y < box.Max.Y+rim {
			return true
		}
	}
	return false
}

// dots draws the nodes that were flown, and those where the run failed.
func (l *contour) dots(c draw.Canvas, f frame, room *placer) {
	const many = 900
	n := len(l.X.Values) * len(l.Y.Values)
	for j, y := range l.Y.Values {
		for i, x := range l.X.Values {
			at := f.at(x, y)
			switch {
			case l.failed(i, j):
				drawMark(c, at, failedMark)
			case n <= many && !room.blocked(around(at, 0)):
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
