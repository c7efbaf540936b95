package scenarios

import (
	"slices"
)

// layout is where the parts of the cowl stand in a plant. It follows from names
// and words, and from the places of exchangers in their circuits.
type layout struct {
	inlets, exits, vents, leaks []string // sorted

	exchangers []string // in the order of their circuits
	core       map[string]int
	ways       []way // of the air through each; of plates: none

	places []string // of the air network
	place  map[string]int
	branch map[string]int // of the air network: inlets, cores in the air, exits, leaks
}

// way is that of the air through a core.
type way struct {
	from, into int  // places
	free       bool // into a compartment, not a duct
}

// layout lays out the network: a place behind every inlet, in every compartment,
// between stacked cores, and between a core and an exit of its own.
func (sc *Scenario) layout() *layout {
	l := &layout{
		inlets: sortedKeys(sc.Inlets), exits: sortedKeys(sc.Exits),
		vents: sortedKeys(sc.Vents), leaks: sortedKeys(sc.Leaks),
		exchangers: sc.order(), core: map[string]int{}, place: map[string]int{}, branch: map[string]int{},
	}
	l.addPlaces(l.inlets...)
	l.addPlaces(sortedKeys(sc.Compartments)...)
	var inAir []string
	for i, name := range l.exchangers {
		l.core[name] = i
		x := sc.Exchangers[name]
		if x.CooledBy == "coolant" {
			continue
		}
		inAir = append(inAir, name)
		if _, stacked := sc.Exchangers[x.From]; stacked {
			l.addPlaces("behind_" + x.From)
		}
		if _, direct := sc.Exits[x.Into]; direct {
			l.addPlaces("before_" + x.Into)
		}
	}
	for _, name := range l.exchangers {
		l.ways = append(l.ways, l.way(name, sc.Exchangers[name]))
	}
	for _, name := range slices.Concat(l.inlets, inAir, l.exits, l.leaks) {
		l.branch[name] = len(l.branch)
	}
	return l
}

// addPlaces adds places, each once.
func (l *layout) addPlaces(names ...string) {
	for _, name := range names {
		if _, ok := l.place[name]; !ok {
			l.place[name] = len(l.places)
			l.places = append(l.places, name)
		}
	}
}

// way is that of the air through an exchanger.
func (l *layout) way(name string, x *Exchanger) way {
	w := way{from: l.placeOr(x.From, "behind_"+x.From)}
	behind, stacked := l.place["behind_"+name]
	if stacked {
		w.into = behind
		return w
	}
	w.into = l.placeOr(x.Into, "before_"+x.Into)
	_, w.free = l.place[x.Into]
	return w
}

// placeOr is a place by its name, or else by another one.
func (l *layout) placeOr(name, other string) int {
	if p, ok := l.place[name]; ok {
		return p
	}
	return l.place[other]
}
