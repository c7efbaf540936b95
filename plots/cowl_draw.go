package plots

import (
	"image/color"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Inks of the drawing of a cowl.
var (
	airEdge   = color.NRGBA{0x70, 0x7C, 0x88, 0xFF}
	arrowInk  = color.NRGBA{0x45, 0x4C, 0x54, 0xFF}
	airColour = []color.NRGBA{{0xDC, 0xEB, 0xF6, 0xFF}, {0xF7, 0xE8, 0xC6, 0xFF}, {0xF0, 0xA6, 0x80, 0xFF}}
)

// warmest is the rise above the outside air that has the warmest colour [K].
const warmest = 75.0

// airInk is the colour of air that is warmer than outside [K], darker where it
// is warmer.
func airInk(rise float64) color.NRGBA {
	x := min(max(rise/warmest, 0), 1) * float64(len(airColour)-1)
	i := min(int(x), len(airColour)-2)
	a, b, t := airColour[i], airColour[i+1], x-float64(i)
	mix := func(p, q uint8) uint8 { return uint8(float64(p)*(1-t) + float64(q)*t + 0.5) }
	return color.NRGBA{mix(a.R, b.R), mix(a.G, b.G), mix(a.B, b.B), 0xFF}
}

func (l *cowlLayout) airInk(t float64) color.NRGBA { return airInk(t - l.res.Worst.Outside) }

// draw draws the cowl from the top of an area.
func (l *cowlLayout) draw(c draw.Canvas, area vg.Rectangle) {
	for i := range l.g.bands {
		if !l.g.bands[i].beside {
			l.drawBand(c, area, i)
		}
	}
	for i := range l.g.nodes {
		l.drawPassage(c, area, &l.g.nodes[i])
	}
	l.drawPipes(c, area)
	for i := range l.g.nodes {
		if n := &l.g.nodes[i]; !n.passes() {
			l.drawCard(c, area, n)
		}
	}
	for i := range l.g.bands {
		if l.g.bands[i].beside {
			l.drawBeside(c, area, i)
		} else {
			l.drawArrow(c, area, i)
		}
	}
	l.drawHeadings(c, area)
	l.drawEngine(c, area)
	for i, line := range l.notes {
		write(c, vg.Point{X: area.Min.X, Y: area.Min.Y + 2 + vg.Length(len(l.notes)-1-i)*rowHeight}, line)
	}
}

// ends are the points in the middle of both ends of a band.
func (l *cowlLayout) ends(area vg.Rectangle, k int) (from, to vg.Point) {
	b := &l.g.bands[k]
	const stub = 12 // pt, of air that leaves within the drawing
	if b.from >= 0 {
		n := &l.g.nodes[b.from]
		from = vg.Point{X: area.Min.X + l.left[n.column] + l.column[n.column], Y: area.Max.Y - l.port(n, n.right, k)}
	}
	if b.to >= 0 {
		n := &l.g.nodes[b.to]
		to = vg.Point{X: area.Min.X + l.left[n.column], Y: area.Max.Y - l.port(n, n.left, k)}
	}
	switch {
	case b.from < 0:
		from = vg.Point{X: area.Min.X, Y: to.Y}
	case b.to < 0 && b.short:
		to = vg.Point{X: from.X + stub, Y: from.Y}
	case b.to < 0:
		to = vg.Point{X: area.Max.X, Y: from.Y}
	}
	return from, to
}

// port is the depth at which a band meets a side of a node.
func (l *cowlLayout) port(n *cowlNode, side []int, k int) vg.Length {
	at := l.depth(n) - l.together(side)/2
	for _, other := range side {
		if other == k {
			break
		}
		at += l.g.bands[other].width
	}
	return at + l.g.bands[k].width/2
}

// drawBand draws a band of air between two cards.
func (l *cowlLayout) drawBand(c draw.Canvas, area vg.Rectangle, k int) {
	b := &l.g.bands[k]
	from, to := l.ends(area, k)
	half, bend := vg.Point{Y: b.width / 2}, vg.Point{X: (to.X - from.X) / 2}
	var body, top, bottom vg.Path
	body.Move(from.Add(half))
	body.CubeTo(from.Add(half).Add(bend), to.Add(half).Sub(bend), to.Add(half))
	body.Line(to.Sub(half))
	body.CubeTo(to.Sub(half).Sub(bend), from.Sub(half).Add(bend), from.Sub(half))
	body.Close()
	c.SetColor(l.airInk(b.temperature))
	c.Fill(body)
	top.Move(from.Add(half))
	top.CubeTo(from.Add(half).Add(bend), to.Add(half).Sub(bend), to.Add(half))
	bottom.Move(from.Sub(half))
	bottom.CubeTo(from.Sub(half).Add(bend), to.Sub(half).Sub(bend), to.Sub(half))
	c.SetLineStyle(b.edge())
	c.Stroke(top)
	c.Stroke(bottom)
}

// edge is the line along a band.
func (b *cowlBand) edge() draw.LineStyle {
	if b.backwards {
		return stroke(ink, 0.9, shortDash)
	}
	return stroke(airEdge, 0.45, solid)
}

// drawPassage carries a band on through a column.
func (l *cowlLayout) drawPassage(c draw.Canvas, area vg.Rectangle, n *cowlNode) {
	if !n.passes() {
		return
	}
	b, y := &l.g.bands[n.left[0]], area.Max.Y-l.depth(n)
	const over = 0.3 // pt, so that no seam shows
	x := area.Min.X + l.left[n.column]
	box := vg.Rectangle{Min: vg.Point{X: x - over, Y: y - b.width/2}, Max: vg.Point{X: x + l.column[n.column] + over, Y: y + b.width/2}}
	fillBox(c, box, l.airInk(b.temperature))
	c.StrokeLine2(b.edge(), box.Min.X, box.Min.Y, box.Max.X, box.Min.Y)
	c.StrokeLine2(b.edge(), box.Min.X, box.Max.Y, box.Max.X, box.Max.Y)
}

// drawArrow draws the head of an arrow where a band meets a card, or leaves.
func (l *cowlLayout) drawArrow(c draw.Canvas, area vg.Rectangle, k int) {
	b := &l.g.bands[k]
	from, to := l.ends(area, k)
	size := b.head()
	tip, back := to, -size
	meets := b.to < 0 || !l.g.nodes[b.to].passes()
	if b.flow < 0 {
		tip, back = from, size
		meets = b.from < 0 || !l.g.nodes[b.from].passes()
	}
	if !meets || max(b.flow, -b.flow) <= still {
		return
	}
	drawHead(c, tip, back)
}

// head is the size of the head of an arrow on a band.
func (b *cowlBand) head() vg.Length { return min(max(0.4*b.width, 3), 5) }

// drawHead draws the head of an arrow; its foot is to the right if back is
// above 0, else to the left.
func drawHead(c draw.Canvas, tip vg.Point, back vg.Length) {
	foot, half := tip.X+1.5*back, 0.75*back
	c.FillPolygon(arrowInk, []vg.Point{{X: foot, Y: tip.Y + half}, tip, {X: foot, Y: tip.Y - half}})
}

// drawBeside draws a band between two cards of a column, around their right
// ends.
func (l *cowlLayout) drawBeside(c draw.Canvas, area vg.Rectangle, k int) {
	b := &l.g.bands[k]
	from, to := &l.g.nodes[b.from], &l.g.nodes[b.to]
	right := area.Min.X + l.left[from.column] + l.column[from.column]
	out := right + 7 + b.width/2
	start, end := area.Max.Y-l.corner(from, to, k), area.Max.Y-l.corner(to, from, k)
	line := []vg.Point{{X: right, Y: start}, {X: out, Y: start}, {X: out, Y: end}, {X: right, Y: end}}
	edge := b.edge()
	c.StrokeLines(stroke(white, b.width+3, solid), line)
	c.StrokeLines(stroke(edge.Color, b.width+edge.Width, edge.Dashes), line)
	c.StrokeLines(stroke(l.airInk(b.temperature), max(b.width-edge.Width, 0.4), solid), line)
	if max(b.flow, -b.flow) <= still {
		return
	}
	if b.flow < 0 {
		end = start
	}
	drawHead(c, vg.Point{X: right, Y: end}, b.head())
}

// corner is the depth at which a band to another node of its column leaves n.
func (l *cowlLayout) corner(n, other *cowlNode, k int) vg.Length {
	at := vg.Length(6)
	for _, i := range n.beside {
		if i == k {
			break
		}
		b := &l.g.bands[i]
		if end := l.g.nodes[b.from].rank + l.g.nodes[b.to].rank - n.rank; (end > n.rank) == (other.rank > n.rank) {
			at += b.width + 4
		}
	}
	if other.rank > n.rank {
		return l.depth(n) + n.below - at
	}
	return l.depth(n) - n.above + at
}

// drawCard draws what a node tells.
func (l *cowlLayout) drawCard(c draw.Canvas, area vg.Rectangle, n *cowlNode) {
	x, y := area.Min.X+l.left[n.column], area.Max.Y-l.depth(n)
	box := vg.Rectangle{Min: vg.Point{X: x, Y: y - n.below}, Max: vg.Point{X: x + l.column[n.column], Y: y + n.above}}
	l.drawFrame(c, box, n)
	text := vg.Length(len(n.lines)) * l.size.row()
	top := (box.Min.Y + box.Max.Y + text) / 2
	for i, line := range n.lines {
		write(c, vg.Point{X: x + l.size.pad, Y: top - (vg.Length(i)+0.5)*l.size.row() - middle*line.size}, line)
	}
}

// drawFrame draws the ground and the edge of a card: that of a place as warm as
// its air, that of a core in the manner of its circuit.
func (l *cowlLayout) drawFrame(c draw.Canvas, box vg.Rectangle, n *cowlNode) {
	edge, fill := stroke(airEdge, 0.7, solid), white
	if n.place != none {
		fill = l.airInk(l.place(n.place).Temperature)
	} else if x := l.exchanger[n.branch]; x != noCore {
		way := heatOfCore(&l.plant.Exchangers[x])
		edge = stroke(way.colour(), 1.7, [heatWays][]vg.Length{solid, {6, 2}}[way])
	} else if l.plant.Air.Branches[n.branch].Gap != nil {
		edge = stroke(grey, 0.6, dotted)
	}
	fillBox(c, box, fill)
	c.SetLineStyle(edge)
	c.Stroke(box.Path())
}

// drawHeadings writes above the first card of every column what it holds.
func (l *cowlLayout) drawHeadings(c draw.Canvas, area vg.Rectangle) {
	for k, line := range l.headings() {
		first := &l.g.nodes[l.firstCard(k)]
		y := area.Max.Y - l.depth(first) + first.above + headingsUp - smallSize
		write(c, vg.Point{X: area.Min.X + l.left[k], Y: y}, line)
	}
}

// firstCard is the uppermost node of a column that tells something.
func (l *cowlLayout) firstCard(k int) int {
	for _, i := range l.g.columns[k] {
		if !l.g.nodes[i].passes() {
			return i
		}
	}
	return l.g.columns[k][0]
}

// drawEngine draws the card of the engine, where all heat starts.
func (l *cowlLayout) drawEngine(c draw.Canvas, area vg.Rectangle) {
	last := l.rows[len(l.rows)-1]
	box := vg.Rectangle{
		Min: vg.Point{X: area.Min.X, Y: area.Max.Y - last.level - last.height/2},
		Max: vg.Point{X: area.Min.X + l.engine, Y: area.Max.Y},
	}
	fillBox(c, box, white)
	outline(c, box, 0.9)
	for i, r := range l.rows {
		y := area.Max.Y - r.level - middle*l.size.text
		name := words{text: r.name, size: l.size.text, bold: i == 0}
		write(c, vg.Point{X: box.Min.X + l.size.pad, Y: y}, name)
		write(c, vg.Point{X: box.Max.X - l.size.pad, Y: y}, words{text: r.value, size: l.size.text, align: 1})
	}
}
