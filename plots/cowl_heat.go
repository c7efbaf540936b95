package plots

import (
	"cmp"
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"hotclimb/sim"
)

// heatOf is a way in which heat of the engine reaches the air, from the lowest
// pipe of the engine up.
type heatOf int

const (
	coolantHeat heatOf = iota
	oilHeat
	bayHeat
	heatWays
)

func heatOfCore(e *sim.Exchanger) heatOf {
	if e.Oil {
		return oilHeat
	}
	return coolantHeat
}

// colour is that of the pipes of a way.
func (h heatOf) colour() color.NRGBA {
	return [heatWays]color.NRGBA{coolantStyle.color, oilStyle.color, {0x6B, 0x6B, 0x6B, 0xFF}}[h]
}

// core is the line within a pipe, so that ways differ without colour as well.
func (h heatOf) core() []vg.Length { return [heatWays][]vg.Length{nil, {5, 3}, {1.5, 2}}[h] }

// engineRow is one line of the card of the engine.
type engineRow struct {
	name, value string
	way         heatOf    // that starts here; heatWays for none
	height      vg.Length // from the row above it
	level       vg.Length // of its middle, from the top of the card
}

// pipe is heat on its way from the engine to one node.
type pipe struct {
	node  int
	way   heatOf
	width vg.Length
	level vg.Length // of its level part, from the top of the drawing
	x     vg.Length // of its upright part
}

// Measures of pipes [pt].
const (
	allHeat    vg.Length = 14  // width of all pipes together
	leastPipe  vg.Length = 1   // width
	pipeArrow  vg.Length = 8   // room for the head of an arrow beside a card
	pipesApart vg.Length = 3.5 // between those of two ways
	pipeDepth  vg.Length = 8   // below the top of a card
)

// leastHeat counts as none [W].
const leastHeat = 1.0

// pipes are those of all nodes that heat enters, but for nodes of the first
// column, which lie below the engine.
func (l *cowlLayout) pipes() []pipe {
	const least = 10e3 // W; of less the pipes stay thin
	var list []pipe
	sum := 0.0
	for i := range l.g.nodes {
		n := &l.g.nodes[i]
		if heat := math.Abs(n.heat); heat > leastHeat && n.column > 0 {
			list = append(list, pipe{node: i, way: n.circuit, width: vg.Length(heat)})
			sum += heat
		}
	}
	for i := range list {
		list[i].width = max(leastPipe, list[i].width/vg.Length(max(sum, least))*allHeat)
	}
	// Within a way from the top: what goes farther, then what ends higher.
	slices.SortStableFunc(list, func(p, q pipe) int {
		a, b := &l.g.nodes[p.node], &l.g.nodes[q.node]
		return cmp.Or(cmp.Compare(p.way, q.way), cmp.Compare(b.column, a.column), cmp.Compare(a.rank, b.rank))
	})
	return list
}

// pipeRoom is the room that the pipes left of a column need.
func (l *cowlLayout) pipeRoom(column int) vg.Length {
	room, ways := vg.Length(0), map[heatOf]bool{}
	for _, p := range l.heat {
		if l.g.nodes[p.node].column == column {
			room, ways[p.way] = room+p.width, true
		}
	}
	if len(ways) == 0 {
		return 0
	}
	return room + pipeArrow + vg.Length(len(ways)-1)*pipesApart
}

// lead gives the pipes their places: level from the rows of the engine, upright
// left of the columns, the oil nearer to the cards.
func (l *cowlLayout) lead() {
	next := make([]vg.Length, len(l.left)) // right end of the free room of each column
	for k, x := range l.left {
		next[k] = x - pipeArrow
	}
	for way := bayHeat; way >= coolantHeat; way-- {
		from, to := l.span(way)
		if from == to {
			continue
		}
		level := l.rowOf(way).level
		for _, p := range l.heat[from:to] {
			level -= p.width / 2
		}
		touched := map[int]bool{}
		for i := range l.heat[from:to] {
			p := &l.heat[from+i]
			column := l.g.nodes[p.node].column
			p.level, level = level+p.width/2, level+p.width
			p.x = next[column] - p.width/2
			next[column] -= p.width
			touched[column] = true
		}
		for column := range touched {
			next[column] -= pipesApart
		}
	}
}

// span is where the pipes of a way are.
func (l *cowlLayout) span(way heatOf) (from, to int) {
	for to < len(l.heat) && l.heat[to].way <= way {
		if l.heat[to].way < way {
			from = to + 1
		}
		to++
	}
	return from, to
}

// drawPipes draws the heat, one way after the other, the coolant last.
func (l *cowlLayout) drawPipes(c draw.Canvas, area vg.Rectangle) {
	for way := bayHeat; way >= coolantHeat; way-- {
		from, to := l.span(way)
		lines := make([][]vg.Point, 0, to-from)
		for _, p := range l.heat[from:to] {
			n := &l.g.nodes[p.node]
			level, end := area.Max.Y-p.level, area.Max.Y-l.depth(n)+n.above-pipeDepth
			head := min(pipeArrow-1, 3+p.width/2)
			lines = append(lines, []vg.Point{
				{X: area.Min.X + l.engine, Y: level}, {X: area.Min.X + p.x, Y: level},
				{X: area.Min.X + p.x, Y: end}, {X: area.Min.X + l.left[n.column] - head, Y: end},
			})
		}
		for i, p := range l.heat[from:to] {
			c.StrokeLines(stroke(white, p.width+2, solid), lines[i])
		}
		for i, p := range l.heat[from:to] {
			drawPipe(c, lines[i], way, p.width)
			l.drawPipeHead(c, lines[i], &l.heat[from+i])
		}
	}
}

// drawPipe draws one pipe.
func drawPipe(c draw.Canvas, line []vg.Point, way heatOf, width vg.Length) {
	const seam = 0.6 // between neighbours
	c.StrokeLines(stroke(way.colour(), max(width-seam, 0.7*width), solid), line)
	if inside := way.core(); inside != nil && width >= 2.5 {
		c.StrokeLines(stroke(white, min(1, width/3), inside), line)
	}
}

// drawPipeHead draws the arrow at the end of a pipe: into the card, or out of it
// if the air heats the liquid.
func (l *cowlLayout) drawPipeHead(c draw.Canvas, line []vg.Point, p *pipe) {
	tip, foot := line[3], line[3]
	half := 2 + p.width/2
	if l.g.nodes[p.node].heat > 0 {
		tip.X += min(pipeArrow-1, 3+p.width/2)
	} else {
		foot.X += min(pipeArrow-1, 3+p.width/2)
	}
	c.FillPolygon(p.way.colour(), []vg.Point{{X: foot.X, Y: foot.Y + half}, tip, {X: foot.X, Y: foot.Y - half}})
}
