package scenarios

// Opening is an inlet or an exit of the cowl.
type Opening struct {
	Path string  // of its section, as in inlets.left
	Exit bool    // else it is an inlet
	Area float64 // throat or free area, all pieces together [m²]
}

// Openings lists all inlets and then all exits, by name.
func (sc *Scenario) Openings() []Opening {
	var list []Opening
	for _, name := range sortedKeys(sc.Inlets) {
		list = append(list, Opening{join("inlets", name), false, sc.Inlets[name].openingArea()})
	}
	for _, name := range sortedKeys(sc.Exits) {
		list = append(list, Opening{join("exits", name), true, sc.Exits[name].freeArea()})
	}
	return list
}
