package plots

import (
	"cmp"
	"math"
	"slices"
)

// arrange orders the nodes of every column so that few bands cross, and thin ones
// before wide ones: from the order in which the air meets them, by the mean place
// of their neighbours, to and fro; then by changing neighbours while that helps.
// After K. Sugiyama, S. Tagawa and M. Toda, "Methods for visual understanding of
// hierarchical system structures", 1981.
func (g *cowlGraph) arrange() {
	g.hangUp()
	g.visit()
	best := clonedColumns(g.columns)
	const sweeps = 8
	for sweep, least := 0, g.crossings(); sweep < sweeps && least > 0; sweep++ {
		for k := range g.columns {
			if sweep%2 == 1 {
				k = len(g.columns) - 1 - k
			}
			g.sortColumn(k, sweep%2 == 0)
		}
		if n := g.crossings(); n < least {
			best, least = clonedColumns(g.columns), n
		}
	}
	g.columns = best
	g.number()
	g.swap()
	g.tuckIn()
}

// hangUp tells the nodes their bands.
func (g *cowlGraph) hangUp() {
	for k, b := range g.bands {
		if b.beside {
			g.nodes[b.from].beside = append(g.nodes[b.from].beside, k)
			g.nodes[b.to].beside = append(g.nodes[b.to].beside, k)
			continue
		}
		if b.from >= 0 {
			g.nodes[b.from].right = append(g.nodes[b.from].right, k)
		}
		if b.to >= 0 {
			g.nodes[b.to].left = append(g.nodes[b.to].left, k)
		}
	}
}

// swap lets neighbours in a column change places while fewer bands cross for it.
// It comes to an end, because no order comes back once there is a better one.
func (g *cowlGraph) swap() {
	least := g.crossings()
	for better := true; better && least > 0; {
		better = false
		for _, column := range g.columns {
			for k := 1; k < len(column); k++ {
				column[k-1], column[k] = column[k], column[k-1]
				g.number()
				if n := g.crossings(); n < least {
					least, better = n, true
					continue
				}
				column[k-1], column[k] = column[k], column[k-1]
				g.number()
			}
		}
	}
}

// tuckIn puts leaks between places of one column below the upper of the two.
func (g *cowlGraph) tuckIn() {
	for i := range g.nodes {
		n := &g.nodes[i]
		if !n.between() {
			continue
		}
		at := len(g.columns[n.column])
		for _, k := range n.beside {
			for _, end := range []int{g.bands[k].from, g.bands[k].to} {
				if end != i {
					at = min(at, g.nodes[end].rank+1)
				}
			}
		}
		g.columns[n.column] = slices.Insert(g.columns[n.column], at, i)
		g.number()
	}
}

// between says whether a node joins places of its own column.
func (n *cowlNode) between() bool { return n.place == none && len(n.beside) > 0 }

func clonedColumns(c [][]int) [][]int {
	list := make([][]int, len(c))
	for i := range c {
		list[i] = slices.Clone(c[i])
	}
	return list
}

// visit fills the columns in the order in which the air meets the nodes.
func (g *cowlGraph) visit() {
	seen := make([]bool, len(g.nodes))
	var visit func(i int)
	visit = func(i int) {
		if i < 0 || seen[i] {
			return
		}
		seen[i] = true
		n := &g.nodes[i]
		g.columns[n.column] = append(g.columns[n.column], i)
		for _, k := range n.right {
			visit(g.bands[k].to)
		}
	}
	for _, b := range g.bands {
		if b.from == fromOutside {
			visit(b.to)
		}
	}
	for i := range g.nodes {
		if !g.nodes[i].between() {
			visit(i)
		}
	}
	g.number()
}

// number tells the nodes their places in their columns.
func (g *cowlGraph) number() {
	for _, column := range g.columns {
		for k, i := range column {
			g.nodes[i].rank = k
		}
	}
}

// sortColumn orders a column by the mean place of the neighbours on one side.
func (g *cowlGraph) sortColumn(column int, left bool) {
	key := make(map[int]float64, len(g.columns[column]))
	for _, i := range g.columns[column] {
		n := &g.nodes[i]
		bands, sum, count := n.right, 0.0, 0.0
		if left {
			bands = n.left
		}
		for _, k := range bands {
			other := g.bands[k].to
			if left {
				other = g.bands[k].from
			}
			if other >= 0 {
				sum, count = sum+float64(g.nodes[other].rank), count+1
			}
		}
		key[i] = float64(n.rank)
		if count > 0 {
			key[i] = sum / count
		}
	}
	slices.SortStableFunc(g.columns[column], func(i, j int) int { return cmp.Compare(key[i], key[j]) })
	g.number()
}

// crossings is how much bands cross: for each pair that does the flow of the
// lesser [kg/s], and a little for the crossing.
func (g *cowlGraph) crossings() float64 {
	const least = 0.02 // kg/s
	sum := 0.0
	for i := range g.bands {
		b := &g.bands[i]
		if b.from < 0 || b.to < 0 || b.beside {
			continue
		}
		from, to := &g.nodes[b.from], &g.nodes[b.to]
		for j := range i {
			c := &g.bands[j]
			if c.from < 0 || c.to < 0 || c.beside || g.nodes[c.from].column != from.column {
				continue
			}
			if (from.rank-g.nodes[c.from].rank)*(to.rank-g.nodes[c.to].rank) < 0 {
				sum += least + math.Min(math.Abs(b.flow), math.Abs(c.flow))
			}
		}
	}
	return sum
}
