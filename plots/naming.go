package plots

import (
	"image/color"
	"math"

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
