package plots

import (
	"slices"

	"hotclimb/sim/airpath"
)

// layers gives every place its layer: inlets are in the first, and a place
// behind a core comes after the place ahead of it; so does one that only leaks
// feed. What would close a ring counts the other way round.
func (a *cowling) layers() []int {
	n := len(a.plant.Air.Places)
	ahead := make([][]int, n) // places next ahead of each place
	far := make([][]bool, n)  // whether a place is anywhere ahead of each place
	for j := range far {
		far[j] = make([]bool, n)
	}
	for _, fed := range [][]bool{nil, a.fed()} {
		for _, b := range a.plant.Air.Branches {
			from, to := b.From, b.To
			if from == airpath.Outside || to == airpath.Outside || (b.Gap != nil) != (fed != nil) || fed != nil && fed[to] {
				continue
			}
			if far[from][to] {
				from, to = to, from
			}
			if !slices.Contains(ahead[to], from) {
				ahead[to] = append(ahead[to], from)
				putAhead(far, from, to)
			}
		}
	}
	layer := make([]int, n)
	for range n { // the longest way has n places at most
		for j := range layer {
			for _, k := range ahead[j] {
				layer[j] = max(layer[j], layer[k]+1)
			}
		}
	}
	a.fallBack(layer, ahead)
	return layer
}

// putAhead tells place to and all behind it that place from and all ahead of that
// are ahead of them.
func putAhead(far [][]bool, from, to int) {
	for j := range far {
		if j != to && !far[j][to] {
			continue
		}
		far[j][from] = true
		for k, is := range far[from] {
			far[j][k] = far[j][k] || is
		}
	}
}

// fallBack moves places that lead to no other into the last layer, where the
// compartments that exits empty stand together.
func (a *cowling) fallBack(layer []int, ahead [][]int) {
	last := slices.Max(layer)
	leads := make([]bool, len(layer))
	for _, list := range ahead {
		for _, k := range list {
			leads[k] = true
		}
	}
	for j := range layer {
		if !leads[j] && layer[j] > 0 {
			layer[j] = last
		}
	}
}

// fed says which places an inlet or a core feeds.
func (a *cowling) fed() []bool {
	fed := make([]bool, len(a.plant.Air.Places))
	for _, b := range a.plant.Air.Branches {
		if b.To != airpath.Outside && b.Gap == nil {
			fed[b.To] = true
		}
	}
	return fed
}

// closeUp leaves out the columns without nodes.
func (g *cowlGraph) closeUp() {
	var used []int
	for i := range g.nodes {
		used = append(used, g.nodes[i].column)
	}
	slices.Sort(used)
	used = slices.Compact(used)
	for i := range g.nodes {
		g.nodes[i].column, _ = slices.BinarySearch(used, g.nodes[i].column)
	}
	g.columns = make([][]int, len(used))
}

// connect adds a band, in pieces with nodes to pass through where its ends are
// not in neighbouring columns.
func (g *cowlGraph) connect(l cowlBand) {
	if l.beside {
		g.bands = append(g.bands, l)
		return
	}
	column, end := 0, len(g.columns)
	if l.from >= 0 {
		column = g.nodes[l.from].column + 1
	}
	if l.to >= 0 {
		end = g.nodes[l.to].column
	} else if l.short {
		end = column
	}
	for ; column < end; column++ {
		through, piece := len(g.nodes), l
		g.nodes = append(g.nodes, cowlNode{place: none, branch: none, column: column})
		piece.to = through
		g.bands = append(g.bands, piece)
		l.from = through
	}
	g.bands = append(g.bands, l)
}
