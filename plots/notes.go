package plots

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// placer finds room for notes among what is drawn already.
type placer struct {
	bounds  vg.Rectangle
	points  []vg.Point     // along the curves of the panel
	rules   []vg.Point     // along its levels
	leaders []vg.Point     // along the leaders of notes
	taken   []vg.Rectangle // by marks and notes
}

// Costs of a place for a note, in units of half a point of its distance.
const (
	costOfPoint  = 16.0  // a point of a curve under the note
	costOfRule   = 4.0   // a point of a level under the note
	costOfLeader = 150.0 // a point of a leader under a note
	costOfTaken  = 1e4
	costOfMeet   = 40.0 // a point of a leader near another leader
	pitch        = 4.0  // distance of the points along a line [pt]
	directions   = 24   // that are tried around a mark
)

// place returns the box of a note of some size near a point, the cheapest of
// places around it, and keeps it and its leader free from then on.
func (p *placer) place(at, size vg.Point) vg.Rectangle {
	best, _ := p.find(at, size)
	p.keep(at, best)
	return best
}

// keep keeps a box and its leader from a point free.
func (p *placer) keep(at vg.Point, box vg.Rectangle) {
	p.taken = append(p.taken, box)
	p.leaders = append(p.leaders, along([]vg.Point{at, nearest(box, at)})...)
}

// find returns the cheapest box of a size near a point, and its cost.
func (p *placer) find(at, size vg.Point) (best vg.Rectangle, least float64) {
	least = math.Inf(1)
	for _, distance := range []float64{7, 10, 14, 18, 22, 27, 32, 38, 44, 51, 58, 66, 74, 92} {
		if 2*distance >= least { // what follows is dearer
			break
		}
		for k := range directions {
			sin, cos := math.Sincos(math.Pi/2 + float64(k)*2*math.Pi/directions)
			center := vg.Point{
				X: at.X + vg.Length(cos)*(vg.Length(distance)+size.X/2),
				Y: at.Y + vg.Length(sin)*(vg.Length(distance)+size.Y/2),
			}
			box := p.within(vg.Rectangle{Min: center.Sub(size.Scale(0.5)), Max: center.Add(size.Scale(0.5))})
			if cost := 2*distance + p.cost(box) + p.costOfWay(at, box); cost < least {
				best, least = box, cost
			}
		}
	}
	return best, least
}

// nearest returns the point of a box nearest to a point.
func nearest(box vg.Rectangle, to vg.Point) vg.Point {
	return vg.Point{X: min(max(to.X, box.Min.X), box.Max.X), Y: min(max(to.Y, box.Min.Y), box.Max.Y)}
}

// within moves a box into the bounds.
func (p *placer) within(box vg.Rectangle) vg.Rectangle {
	move := func(lo, hi, least, most vg.Length) vg.Length {
		return max(least-lo, 0) + min(most-hi, 0)
	}
	return box.Add(vg.Point{
		X: move(box.Min.X, box.Max.X, p.bounds.Min.X, p.bounds.Max.X),
		Y: move(box.Min.Y, box.Max.Y, p.bounds.Min.Y, p.bounds.Max.Y),
	})
}

// cost is what a note hides at a box.
func (p *placer) cost(box vg.Rectangle) float64 {
	const rim = 2 // pt kept free around a note
	box.Min, box.Max = box.Min.Sub(vg.Point{X: rim, Y: rim}), box.Max.Add(vg.Point{X: rim, Y: rim})
	cost := costOfPoint*float64(count(box, p.points)) + costOfRule*float64(count(box, p.rules)) + costOfLeader*float64(count(box, p.leaders))
	for _, t := range p.taken {
		if box.Min.X < t.Max.X && t.Min.X < box.Max.X && box.Min.Y < t.Max.Y && t.Min.Y < box.Max.Y {
			cost += costOfTaken
		}
	}
	return cost
}

// costOfWay is what the leader of a note crosses: other leaders, notes, and
// marks other than its own.
func (p *placer) costOfWay(at vg.Point, box vg.Rectangle) float64 {
	way, crossed := along([]vg.Point{at, nearest(box, at)}), 0
	for _, t := range p.taken {
		if count(t, []vg.Point{at}) == 0 {
			crossed += count(t, way)
		}
	}
	cost := costOfLeader * float64(crossed)
	for _, q := range way {
		const close = 3 // pt
		around := vg.Rectangle{Min: q.Sub(vg.Point{X: close, Y: close}), Max: q.Add(vg.Point{X: close, Y: close})}
		cost += costOfMeet * float64(count(around, p.leaders))
	}
	return cost
}

// count returns how many points lie in a box.
func count(box vg.Rectangle, points []vg.Point) int {
	n := 0
	for _, q := range points {
		if box.Min.X <= q.X && q.X <= box.Max.X && box.Min.Y <= q.Y && q.Y <= box.Max.Y {
			n++
		}
	}
	return n
}

// along returns points of a line at an even pitch.
func along(line []vg.Point) []vg.Point {
	var points []vg.Point
	for i := 1; i < len(line); i++ {
		d := line[i].Sub(line[i-1])
		n := 1 + int(math.Hypot(d.X.Points(), d.Y.Points())/pitch)
		for k := range n {
			points = append(points, line[i-1].Add(d.Scale(vg.Length(k)/vg.Length(n))))
		}
	}
	return points
}

// surroundings gathers what the notes of a panel should not hide.
func (p *panel) surroundings(f frame) *placer {
	const clear = 3 // pt from the frame
	room := &placer{bounds: vg.Rectangle{Min: f.Min.Add(vg.Point{X: clear, Y: clear}), Max: f.Max.Sub(vg.Point{X: clear, Y: clear})}}
	for _, l := range p.curves {
		room.points = append(room.points, along(f.points(l))...)
	}
	for _, r := range p.rules {
		room.rules = append(room.rules, along([]vg.Point{f.at(f.x.lo, r.y), f.at(f.x.hi, r.y)})...)
	}
	for _, m := range p.marks {
		at, r := f.at(m.x, m.y), m.shape.Radius+1
		room.taken = append(room.taken, vg.Rectangle{Min: at.Sub(vg.Point{X: r, Y: r}), Max: at.Add(vg.Point{X: r, Y: r})})
	}
	return room
}

// byTurn orders marks by who chooses a place first: the peaks from the highest
// down, then the passings of limits in time.
func byTurn(a, b mark) int {
	if a.passing != b.passing {
		if a.passing {
			return 1
		}
		return -1
	}
	if a.passing {
		return cmp.Compare(a.x, b.x)
	}
	return cmp.Compare(b.y, a.y)
}

// note draws the marks of a panel, and writes their notes where there is room.
func (p *panel) note(c draw.Canvas, f frame) {
	room := p.surroundings(f)
	slices.SortStableFunc(p.marks, byTurn)
	texts, boxes := make([][]words, len(p.marks)), make([]vg.Rectangle, len(p.marks))
	for i, m := range p.marks {
		texts[i] = m.lines(room.bounds.Size().X - 4)
		at := f.at(m.x, m.y)
		boxes[i] = room.place(at, sizeOf(texts[i]))
		near := nearest(boxes[i], at)
		c.StrokeLine2(stroke(ink, 0.5, solid), at.X, at.Y, near.X, near.Y)
	}
	for i, box := range boxes {
		c.FillPolygon(halo, []vg.Point{box.Min, {X: box.Max.X, Y: box.Min.Y}, box.Max, {X: box.Min.X, Y: box.Max.Y}})
		for k, line := range texts[i] {
			above := vg.Length(len(texts[i])-1-k) * rowHeight
			write(c, vg.Point{X: box.Min.X + 2, Y: box.Min.Y + 1 + 0.2*textSize + above}, line)
		}
	}
	for _, m := range slices.Backward(p.marks) {
		drawMark(c, f.at(m.x, m.y), m.shape)
	}
}

// lines are the lines of the note of a mark.
func (m *mark) lines(room vg.Length) []words {
	list := []words{{text: m.note, size: textSize}}
	if m.more != "" {
		list = append(list, words{text: m.more, size: textSize}.fit(room))
	}
	return list
}

// sizeOf is the size of the box of a note.
func sizeOf(lines []words) vg.Point {
	size := vg.Point{Y: textSize + 2 + vg.Length(len(lines)-1)*rowHeight}
	for _, line := range lines {
		size.X = max(size.X, line.width()+4)
	}
	return size
}

// drawMark draws a mark with a white rim, so that it stands out from its line.
func drawMark(c draw.Canvas, at vg.Point, shape draw.GlyphStyle) {
	rim := shape
	rim.Color, rim.Radius = white, shape.Radius+1
	c.DrawGlyphNoClip(rim, at)
	c.DrawGlyphNoClip(shape, at)
}

// crossGlyph is a bold cross: where a limit is passed.
type crossGlyph struct{}

// DrawGlyph draws both strokes of the cross.
func (crossGlyph) DrawGlyph(c *draw.Canvas, g draw.GlyphStyle, at vg.Point) {
	r, line := g.Radius*0.7, stroke(g.Color, g.Radius*0.5, solid)
	c.StrokeLine2(line, at.X-r, at.Y-r, at.X+r, at.Y+r)
	c.StrokeLine2(line, at.X-r, at.Y+r, at.X+r, at.Y-r)
}
