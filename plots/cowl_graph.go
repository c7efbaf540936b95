package plots

import (
	"slices"

	"gonum.org/v1/plot/vg"

	"hotclimb/sim/airpath"
)

// cowlNode is a card of the drawing, or room for a band that passes a column.
type cowlNode struct {
	place, branch int // what it tells; none for neither
	column        int
	lines         []words
	heat          float64 // of the engine that enters it [W]
	circuit       heatOf  // by which way

	left, right  []int     // bands on both sides, from the top
	beside       []int     // bands to nodes of the same column
	depth        vg.Length // of the middle of its bands, from the top of the drawing
	above, below vg.Length // how far it reaches from there
	rank         int       // place in its column
}

// passes says whether the node is only room for a band.
func (n *cowlNode) passes() bool { return n.place == none && n.branch == none }

const none = -1

// Ends of a band outside the cowl.
const (
	fromOutside = -1
	toOutside   = -2
)

// cowlBand is air between two nodes, the first left of the second.
type cowlBand struct {
	from, to    int     // nodes, fromOutside or toOutside
	flow        float64 // to the right [kg/s]
	temperature float64 // [°C]
	backwards   bool
	short       bool // it leaves the cowl within the drawing
	beside      bool // its ends are in the same column
	width       vg.Length
}

// cowlGraph is what is drawn, in columns from left to right.
type cowlGraph struct {
	nodes   []cowlNode
	bands   []cowlBand
	columns [][]int // nodes of each column from the top
}

// graph makes the cards of places and branches and the bands between them. An
// inlet with a place of its own is one card with it, and so is the exit right
// behind a core.
func (a *cowling) graph() *cowlGraph {
	g := &cowlGraph{}
	b := &cowlBuilder{cowling: a, g: g, layer: a.layers()}
	b.last = 2*slices.Max(b.layer) + 2
	b.placeNodes()
	var links []cowlBand
	for i := range a.plant.Air.Branches {
		links = append(links, b.links(i)...)
	}
	g.closeUp()
	for _, l := range links {
		g.connect(l)
	}
	g.arrange()
	return g
}

// cowlBuilder makes the nodes of a graph.
type cowlBuilder struct {
	*cowling
	g      *cowlGraph
	layer  []int // of each place
	last   int   // column of the exits
	node   []int // of each place
	merged []int // place that each branch is one card with; none for none
}

// placeNodes makes the nodes of the places.
func (b *cowlBuilder) placeNodes() {
	net := &b.plant.Air
	b.merged = make([]int, len(net.Branches))
	for i := range net.Branches {
		b.merged[i] = none
	}
	for j := range net.Places {
		n := cowlNode{place: j, branch: none, column: 2*b.layer[j] + 1, heat: b.place(j).Heat, circuit: bayHeat}
		if i := b.inletOf(j); i != none {
			n.branch, b.merged[i] = i, j
		} else if i := b.exitOf(j); i != none {
			n.branch, b.merged[i], n.column = i, j, b.last
		}
		b.node = append(b.node, len(b.g.nodes))
		b.g.nodes = append(b.g.nodes, n)
	}
}

// inletOf is the inlet that alone takes outside air into a place.
func (b *cowlBuilder) inletOf(j int) int {
	found := none
	for i, br := range b.plant.Air.Branches {
		if br.From == airpath.Outside && br.To == j {
			if found != none || br.Inlet == nil {
				return none
			}
			found = i
		}
	}
	return found
}

// exitOf is the exit that is all that a place has behind the core that feeds it.
func (b *cowlBuilder) exitOf(j int) int {
	exit, cores, others := none, 0, 0
	for i, br := range b.plant.Air.Branches {
		switch {
		case br.Exit != nil && br.From == j && exit == none:
			exit = i
		case br.Core != nil && br.To == j:
			cores++
		case br.From == j || br.To == j:
			others++
		}
	}
	if cores != 1 || others != 0 || b.place(j).Heat != 0 || b.plant.Air.Places[j].SkinUA != 0 {
		return none
	}
	return exit
}

// links makes the node of a branch, unless it is one with a place, and returns
// the bands on both of its sides.
func (b *cowlBuilder) links(i int) []cowlBand {
	br, s := &b.plant.Air.Branches[i], b.branch(i)
	from, to, flow := fromOutside, toOutside, s.Flow
	if br.From != airpath.Outside {
		from = b.node[br.From]
	}
	if br.To != airpath.Outside {
		to = b.node[br.To]
	}
	nodes := b.g.nodes
	if from >= 0 && to >= 0 && nodes[from].column > nodes[to].column { // it leads back to the left
		from, to, flow = to, from, -flow
	}
	ahead, behind := s.In, s.Out
	if flow < 0 {
		ahead, behind = s.Out, s.In
	}
	first := cowlBand{from: from, flow: flow, temperature: ahead, backwards: b.backwards(i)}
	second := cowlBand{to: to, flow: flow, temperature: behind, backwards: b.backwards(i)}
	if b.merged[i] != none {
		first.to = to // an opening leaves its air as warm as it is
		return []cowlBand{first}
	}
	n := cowlNode{place: none, branch: i, column: b.column(i, from, to)}
	if x := b.exchanger[i]; x != noCore {
		n.heat, n.circuit = b.res.Exchangers[x].Heat, heatOfCore(&b.plant.Exchangers[x])
	}
	first.to, second.from = len(nodes), len(nodes)
	second.short = to == toOutside && n.column < b.last
	first.beside = from >= 0 && to >= 0 && nodes[from].column == n.column
	second.beside = first.beside
	b.g.nodes = append(nodes, n)
	return []cowlBand{first, second}
}

// column is that of the node of a branch between two nodes: between theirs, or
// the same if they share one.
func (b *cowlBuilder) column(i, from, to int) int {
	switch nodes := b.g.nodes; {
	case b.plant.Air.Branches[i].Exit != nil:
		return b.last
	case from == fromOutside:
		return nodes[to].column - 1
	case to >= 0 && nodes[from].column == nodes[to].column:
		return nodes[to].column
	default:
		return nodes[from].column + 1
	}
}
