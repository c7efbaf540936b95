package plots

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"hotclimb/sim"
	"hotclimb/sim/airpath"
)

// anyCowl draws a plant of any layout that the air can have, and a result with
// numbers of any size.
func anyCowl(t *rapid.T) (*sim.Plant, *sim.Result) {
	p, res := &sim.Plant{}, &sim.Result{}
	number := func(label string, size float64) float64 {
		return size * rapid.SampledFrom([]float64{0, 1e-9, 0.01, 0.3, 1, 1, 1, -0.2, -1, 40}).Draw(t, label)
	}
	places := rapid.IntRange(1, 7).Draw(t, "places")
	for j := range places {
		name := anyName(t, "place")
		p.Air.Places = append(p.Air.Places, airpath.Place{Name: name})
		res.Air.Places = append(res.Air.Places, sim.PlaceState{Name: name, Pressure: number("Pa", 300), Temperature: number("degC", 60), Heat: number("W", 3000), Skin: number("W", 300)})
		if rapid.Bool().Draw(t, fmt.Sprint("inlet ", j)) || j == 0 {
			p.Air.Branches = append(p.Air.Branches, airpath.Branch{Name: name, From: airpath.Outside, To: j, Inlet: &airpath.Inlet{}})
		}
		for range rapid.IntRange(0, 2).Draw(t, "exits") {
			p.Air.Branches = append(p.Air.Branches, airpath.Branch{Name: anyName(t, "exit"), From: j, To: airpath.Outside, Exit: &airpath.Exit{}})
		}
	}
	for range rapid.IntRange(0, 9).Draw(t, "inner") {
		from, to := rapid.IntRange(0, places-1).Draw(t, "from"), rapid.IntRange(airpath.Outside, places-1).Draw(t, "to")
		if from == to {
			continue
		}
		b := airpath.Branch{Name: anyName(t, "branch"), From: from, To: to}
		if to != airpath.Outside && rapid.Bool().Draw(t, "core") {
			b.Core = &airpath.Core{}
			p.Exchangers = append(p.Exchangers, sim.Exchanger{Name: b.Name, Oil: rapid.Bool().Draw(t, "oil"), Branch: len(p.Air.Branches)})
		} else {
			b.Gap = &airpath.Gap{}
		}
		p.Air.Branches = append(p.Air.Branches, b)
	}
	if rapid.Bool().Draw(t, "plate") {
		p.Exchangers = append(p.Exchangers, sim.Exchanger{Name: anyName(t, "plate"), Oil: true, Branch: sim.NoBranch})
	}
	for _, b := range p.Air.Branches {
		res.Air.Branches = append(res.Air.Branches, sim.BranchState{Name: b.Name, From: b.From, To: b.To, Flow: number("kg/s", 1), In: number("degC", 40), Out: number("degC", 90)})
	}
	for _, e := range p.Exchangers {
		res.Exchangers = append(res.Exchangers, sim.ExchangerState{Name: e.Name, Heat: number("W", 50e3)})
	}
	if n := len(p.Exchangers); n > 0 && p.Exchangers[0].Branch != sim.NoBranch {
		p.Spray = &sim.Spray{}
	}
	res.Worst = sim.Snapshot{Time: number("s", 1000), Altitude: number("m", 3000), Outside: number("degC", 30), TrueAirspeed: number("m/s", 40), Power: number("W", 1e5), IntoCoolant: number("W", 8e4), IntoOil: number("W", 2e4)}
	return p, res
}

func TestCowlIsLegible(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		plant, res := anyCowl(t)
		u := Units(rapid.IntRange(0, 1).Draw(t, "units"))
		f, err := Cowl(plant, res, u, Caption{Title: "A title"})
		if err != nil {
			t.Fatal(err)
		}
		checkLegible(t, "cowl", f)
		checkCards(t, plant, res, u)
	})
}

// No two neighbours in a column cross fewer bands if they change places.
func TestCowlCrossesLittle(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		plant, res := anyCowl(t)
		g := newCowling(plant, res, US).graph()
		least := g.crossings()
		for _, column := range g.columns {
			above := none
			for _, i := range column {
				n := &g.nodes[i]
				if n.between() {
					continue
				}
				if above != none {
					o := &g.nodes[above]
					n.rank, o.rank = o.rank, n.rank
					if got := g.crossings(); got < least-1e-9 {
						t.Fatalf("crossings fall from %g to %g", least, got)
					}
					n.rank, o.rank = o.rank, n.rank
				}
				above = i
			}
		}
	})
}

// A node that has to pass all others of its column does so, however many they are:
// wide bands keep two columns as they are, and the lowest node of the third belongs
// at the top.
func TestCowlSwapsToTheEnd(t *testing.T) {
	const rows = 12
	g := &cowlGraph{columns: make([][]int, 3)}
	for column := range g.columns {
		for range rows {
			g.columns[column] = append(g.columns[column], len(g.nodes))
			g.nodes = append(g.nodes, cowlNode{column: column})
		}
	}
	for i := range rows {
		g.bands = append(g.bands, cowlBand{from: i, to: rows + i, flow: 1}, cowlBand{from: rows + (i+1)%rows, to: 2*rows + i, flow: 0.01})
	}
	g.hangUp()
	g.number()
	g.swap()
	if got := g.crossings(); got != 0 {
		t.Errorf("bands still cross by %g", got)
	}
}

// A leak from a compartment back to its inlet is drawn against the air, and so
// is not told as backwards; its air is that of the compartment on both sides.
func TestCowlLeaksBack(t *testing.T) {
	p := &sim.Plant{Exchangers: []sim.Exchanger{{Name: "core", Branch: 1}}}
	p.Air.Places = []airpath.Place{{Name: "nose"}, {Name: "cowl"}}
	p.Air.Branches = []airpath.Branch{
		{Name: "nose", From: airpath.Outside, To: 0, Inlet: &airpath.Inlet{}}, {Name: "core", From: 0, To: 1, Core: &airpath.Core{}},
		{Name: "out", From: 1, To: airpath.Outside, Exit: &airpath.Exit{}}, {Name: "gap", From: 1, To: 0, Gap: &airpath.Gap{}},
	}
	res := &sim.Result{Exchangers: make([]sim.ExchangerState, 1), Air: sim.AirState{Places: make([]sim.PlaceState, 2)}}
	for i, flow := range []float64{1, 1.1, 1, 0.1} {
		b := p.Air.Branches[i]
		res.Air.Branches = append(res.Air.Branches, sim.BranchState{Name: b.Name, From: b.From, To: b.To, Flow: flow, In: 80, Out: 80})
	}
	g := newCowling(p, res, US).graph()
	count := 0
	for _, b := range g.bands {
		for _, end := range []int{b.from, b.to} {
			if end >= 0 && g.nodes[end].branch == 3 {
				count++
				if b.flow != -0.1 || b.backwards || b.temperature != 80 {
					t.Errorf("the leak is %+v", b)
				}
			}
		}
	}
	if count != 2 {
		t.Errorf("the leak has %d bands", count)
	}
}

// Bands are as warm as their air on each side of a core, also where that goes
// backwards: in by the exit at 30 °C, from the cowl at 40 °C into the core, and at
// 95 °C out by the inlet.
func TestCowlBandsAreAsWarmAsTheirAir(t *testing.T) {
	p := &sim.Plant{Exchangers: []sim.Exchanger{{Name: "core", Branch: 1}}}
	p.Air.Places = []airpath.Place{{Name: "nose"}, {Name: "cowl", SkinUA: 1}}
	p.Air.Branches = []airpath.Branch{
		{Name: "nose", From: airpath.Outside, To: 0, Inlet: &airpath.Inlet{}}, {Name: "core", From: 0, To: 1, Core: &airpath.Core{}},
		{Name: "out", From: 1, To: airpath.Outside, Exit: &airpath.Exit{}},
	}
	res := &sim.Result{Exchangers: make([]sim.ExchangerState, 1), Air: sim.AirState{Places: make([]sim.PlaceState, 2)}}
	for flow, want := range map[float64][5]float64{+1: {30, 30, 80, 80, 80}, -1: {95, 95, 40, 30, 30}} {
		in, out := [3]float64{30, 30, 80}, [3]float64{30, 80, 80}
		if flow < 0 {
			in, out = [3]float64{95, 40, 30}, [3]float64{95, 95, 30}
		}
		res.Air.Branches = nil
		for i, b := range p.Air.Branches {
			res.Air.Branches = append(res.Air.Branches, sim.BranchState{Name: b.Name, From: b.From, To: b.To, Flow: flow, In: in[i], Out: out[i]})
		}
		var got [5]float64
		for i, b := range newCowling(p, res, US).graph().bands { // from left to right
			got[i] = b.temperature
		}
		if got != want {
			t.Errorf("flow %g: bands of %g °C, want %g", flow, got, want)
		}
	}
}

// checkCards: every opening, core and place has one card, no card lies on
// another or beyond the drawing, headings are no wider than their columns, and
// bands lead to the right.
func checkCards(t *rapid.T, plant *sim.Plant, res *sim.Result, u Units) {
	l := newCowling(plant, res, u).layOut()
	places, branches := make([]int, len(plant.Air.Places)), make([]int, len(plant.Air.Branches))
	for i := range l.g.nodes {
		n := &l.g.nodes[i]
		if n.place != none {
			places[n.place]++
		}
		if n.branch != none {
			branches[n.branch]++
		}
		if k := l.g.columns[n.column]; k[n.rank] != i {
			t.Fatalf("node %d is not where it says", i)
		}
		if top := n.depth - n.above; top < -1e-6 || n.depth+n.below > l.deep+1e-6 {
			t.Errorf("node %d reaches from %g to %g of %g", i, top, n.depth+n.below, l.deep)
		}
		if n.rank > 0 {
			if o := &l.g.nodes[l.g.columns[n.column][n.rank-1]]; o.depth+o.below > n.depth-n.above+1e-6 {
				t.Errorf("nodes %d and the one above overlap", i)
			}
		}
	}
	for j, count := range append(places, branches...) {
		if count != 1 {
			t.Errorf("number %d of places and branches has %d cards", j, count)
		}
	}
	for k, line := range l.headings() {
		if wide := line.width(); wide > l.column[k]+1e-6 {
			t.Errorf("the heading %q is %g wide, its column %g", line.text, wide, l.column[k])
		}
	}
	for _, b := range l.g.bands {
		if b.from >= 0 && b.to >= 0 && l.g.nodes[b.to].column-l.g.nodes[b.from].column != map[bool]int{true: 0, false: 1}[b.beside] {
			t.Errorf("a band leads from column %d to %d", l.g.nodes[b.from].column, l.g.nodes[b.to].column)
		}
		if math.IsNaN(float64(b.width)) || b.width < leastBand {
			t.Errorf("a band is %g wide", b.width)
		}
	}
	for k, p := range l.heat {
		if n := &l.g.nodes[p.node]; p.x >= l.left[n.column] || p.x <= l.engine {
			t.Errorf("pipe %d is at %g: the engine ends at %g, its column begins at %g", k, p.x, l.engine, l.left[n.column])
		}
	}
}

// Where leaks join every place with every other, layers are found at once: they
// follow the way of the air from the first place to the last.
func TestCowlOfManyLeaks(t *testing.T) {
	const places = 40
	p := &sim.Plant{}
	for j := range places {
		p.Air.Places = append(p.Air.Places, airpath.Place{Name: fmt.Sprint("place ", j)})
		for k := range j {
			p.Air.Branches = append(p.Air.Branches, airpath.Branch{Name: fmt.Sprint("gap ", k, j), From: k, To: j, Gap: &airpath.Gap{}})
		}
	}
	for j, layer := range newCowling(p, &sim.Result{}, US).layers() {
		if layer != j {
			t.Errorf("place %d is in layer %d", j, layer)
		}
	}
}
