package plots

import (
	"cmp"
	"slices"

	"gonum.org/v1/plot/vg"
)

// cowlType is the type of the cards: large, or small where columns are many.
type cowlType struct {
	name, text vg.Length
	widest     vg.Length // of a name before it goes on in the next line
	pad        vg.Length // around the text of a card
	gap        vg.Length // between columns at least, without pipes, and beside the outer ones
}

var cowlTypes = []cowlType{{10.5, 10, 84, 4, 17}, {9.5, 9, 58, 3, 7.5}}

func (t cowlType) row() vg.Length { return t.text + 1.8 }

// Measures of the drawing of a cowl [pt].
const (
	cardGap    vg.Length = 9   // between cards
	allAir     vg.Length = 58  // width of the bands of all air
	leastBand  vg.Length = 0.9 // width
	bandRim    vg.Length = 3   // between a band and the corner of its card
	stripGap   vg.Length = 9   // below the engine
	noteGap    vg.Length = 4   // above the notes
	headingsUp vg.Length = 13  // room for the headings of the columns
	besideRoom vg.Length = 10  // right of a column, for bands between its cards
)

// cowlLayout is the drawing of a cowl with everything at its place.
type cowlLayout struct {
	*cowling
	g      *cowlGraph
	size   cowlType
	width  vg.Length // of the page
	left   []vg.Length
	column []vg.Length // widths
	engine vg.Length   // width of its card
	rows   []engineRow
	heat   []pipe
	deep   vg.Length // height of the columns
	notes  []words
}

func (a *cowling) layOut() *cowlLayout {
	l := &cowlLayout{cowling: a, g: a.graph(), width: pageWidth}
	l.widen()
	l.heat = l.pipes()
	var least vg.Length
	for _, l.size = range cowlTypes {
		if least = l.measure(); least <= pageWidth-2*margin {
			break
		}
	}
	l.width = max(l.width, least+2*margin)
	l.setColumns(l.width - 2*margin - least)
	l.settle()
	l.lead()
	l.notes = a.notes(l.width - 2*margin)
	return l
}

// widen makes the bands as wide as their air flow.
func (l *cowlLayout) widen() {
	const least = 0.2 // kg/s; of less the bands stay thin
	all := 0.0
	for _, b := range l.g.bands {
		if b.from == fromOutside {
			all += max(0, b.flow)
		} else if b.to == toOutside {
			all += max(0, -b.flow)
		}
	}
	for i := range l.g.bands {
		b := &l.g.bands[i]
		b.width = max(leastBand, vg.Length(max(b.flow, -b.flow)/max(all, least))*allAir)
	}
}

// measure fills the cards in the type of the layout and returns the least width
// of the drawing. Columns have room for their headings too: a card of the next
// column may lie as high as they.
func (l *cowlLayout) measure() vg.Length {
	l.column = make([]vg.Length, len(l.g.columns))
	for i := range l.g.nodes {
		n := &l.g.nodes[i]
		n.lines = l.card(n, l.size)
		for _, line := range n.lines {
			l.column[n.column] = max(l.column[n.column], line.width()+2*l.size.pad)
		}
	}
	for k, line := range l.headings() {
		l.column[k] = max(l.column[k], line.width())
	}
	l.rows = l.engineRows()
	l.engine = l.engineWidth()
	l.setColumns(0)
	last := len(l.left) - 1
	return l.left[last] + l.column[last] + l.size.gap
}

// setColumns places the columns and shares more room out among the gaps.
func (l *cowlLayout) setColumns(more vg.Length) {
	n := len(l.column)
	share := more / vg.Length(n)
	l.left = make([]vg.Length, n)
	x, led := l.size.gap+share/2, false
	for k := range l.column {
		if k > 0 {
			x += l.size.gap + share
			if slices.ContainsFunc(l.g.columns[k-1], func(i int) bool { return len(l.g.nodes[i].beside) > 0 }) {
				x += besideRoom
			}
			if room := l.pipeRoom(k); room > 0 {
				x += room
				if first := l.engine + 5 + room; !led {
					x = max(x, first)
				}
				led = true
			}
		}
		l.left[k] = x
		x += l.column[k]
	}
}

// depth is that of the middle of the bands of a node from the top of the area.
func (l *cowlLayout) depth(n *cowlNode) vg.Length { return l.strip() + headingsUp + n.depth }

func (l *cowlLayout) height() vg.Length {
	height := l.strip() + headingsUp + l.deep
	if len(l.notes) > 0 {
		height += noteGap + vg.Length(len(l.notes))*rowHeight
	}
	return height
}

// settle places the cards of every column: near the mean of what they are
// joined with, without lying on each other; at last in line with what is left of
// them, so that bands bend once.
func (l *cowlLayout) settle() {
	for i := range l.g.nodes {
		l.reach(&l.g.nodes[i])
	}
	for _, column := range l.g.columns {
		height := -cardGap
		for _, i := range column {
			height += l.g.nodes[i].above + l.g.nodes[i].below + cardGap
		}
		l.deep = max(l.deep, height)
	}
	const sweeps = 24
	for sweep := range sweeps {
		for k := range l.g.columns {
			if sweep%2 == 1 {
				k = len(l.g.columns) - 1 - k
			}
			l.settleColumn(k, false)
		}
	}
	for k := 1; k < len(l.g.columns); k++ {
		l.settleColumn(k, true)
	}
	for i := range l.g.nodes {
		l.sortBands(&l.g.nodes[i])
	}
}

// reach finds how far a node reaches above and below its bands.
func (l *cowlLayout) reach(n *cowlNode) {
	bands := max(l.together(n.left), l.together(n.right))
	if n.passes() {
		n.above, n.below = bands/2+bandRim, bands/2+bandRim
		return
	}
	head := vg.Length(0)
	if l.piped(n) {
		head = 2 * pipeDepth
	}
	text := vg.Length(len(n.lines))*l.size.row() + 2*l.size.pad
	height := max(text, bands+2*bandRim+head)
	n.below = (height - head) / 2
	n.above = height - n.below
}

// piped says whether a pipe leads into a node.
func (l *cowlLayout) piped(n *cowlNode) bool {
	return slices.ContainsFunc(l.heat, func(p pipe) bool { return &l.g.nodes[p.node] == n })
}

// together is the width of bands side by side.
func (l *cowlLayout) together(bands []int) vg.Length {
	width := vg.Length(0)
	for _, k := range bands {
		width += l.g.bands[k].width
	}
	return width
}

// settleColumn moves the nodes of a column towards the mean of their
// neighbours, or of those left of them, by the least sum of squares that keeps
// them apart.
func (l *cowlLayout) settleColumn(k int, inLine bool) {
	column := l.g.columns[k]
	want, order := make([]float64, len(column)), make([]int, len(column))
	base := make([]vg.Length, len(column)) // depths of nodes set close
	at := vg.Length(0)
	for i, node := range column {
		n := &l.g.nodes[node]
		base[i], order[i] = at+n.above, i
		at += n.above + n.below + cardGap
		want[i] = (l.wanted(n, inLine) - base[i]).Points()
	}
	free := l.deep - (at - cardGap)
	for i, z := range rising(want, order, 0) {
		l.g.nodes[column[i]].depth = base[i] + min(max(vg.Length(z), 0), free)
	}
}

// straight is how much more a band that passes two columns counts.
const straight = 8

// wanted is where a node would be best.
func (l *cowlLayout) wanted(n *cowlNode, inLine bool) vg.Length {
	sum, weight := vg.Length(0), vg.Length(0)
	bands := n.left
	if !inLine || len(bands) == 0 {
		bands = slices.Concat(n.left, n.right, n.beside)
	}
	for _, k := range bands {
		b := &l.g.bands[k]
		other := b.from
		if other >= 0 && &l.g.nodes[other] == n {
			other = b.to
		}
		if other >= 0 {
			o := &l.g.nodes[other]
			depth := o.depth
			if depth == 0 {
				depth = l.deep / 2 // not placed yet
			}
			w := b.width
			if n.passes() && o.passes() {
				w *= straight
			}
			sum, weight = sum+depth*w, weight+w
		}
	}
	if weight == 0 {
		return l.deep / 2
	}
	return sum / weight
}

// sortBands orders the bands of a node by where they lead, from the top.
func (l *cowlLayout) sortBands(n *cowlNode) {
	rank := func(node int) int {
		if node < 0 {
			return none
		}
		return l.g.nodes[node].rank
	}
	slices.SortStableFunc(n.left, func(i, j int) int { return cmp.Compare(rank(l.g.bands[i].from), rank(l.g.bands[j].from)) })
	slices.SortStableFunc(n.right, func(i, j int) int { return cmp.Compare(rank(l.g.bands[i].to), rank(l.g.bands[j].to)) })
}
