package plots

import (
	"fmt"
	"math"
	"strings"

	"hotclimb/sim"
	"hotclimb/sim/airpath"
)

// tables are the numbers of the drawing.
func (a *cowling) tables() []Table { return []Table{a.wayTable(), a.placeTable(), a.heatTable()} }

// wayTable lists openings and cores.
func (a *cowling) wayTable() Table {
	flow, warm, heat := AirFlow.In(a.units), Temperature.In(a.units), Heat.In(a.units)
	t := Table{
		Caption: "Air through openings and cores; less than none is backwards", Words: 4,
		Header: []string{"what", "kind", "from", "to", "air " + flow.Name, "in " + warm.Name, "out " + warm.Name, "heat out " + heat.Name},
	}
	for i, b := range a.plant.Air.Branches {
		s, given := a.branch(i), ""
		if x := a.exchanger[i]; x != noCore {
			given = heat.Number(a.res.Exchangers[x].Heat)
		} else if out := a.carried(i); b.To == airpath.Outside || math.Abs(out) > leastHeat {
			given = heat.Number(out)
		}
		t.Rows = append(t.Rows, []string{spaced(b.Name), a.branchKind(i), a.placeName(b.From), a.placeName(b.To),
			flow.Number(s.Flow), warm.Number(s.In), warm.Number(s.Out), given})
	}
	return t
}

// branchKind says in words what a branch is.
func (a *cowling) branchKind(i int) string {
	b := &a.plant.Air.Branches[i]
	switch x := a.exchanger[i]; {
	case x != noCore:
		return "core, " + servedBy(&a.plant.Exchangers[x])
	case b.Inlet != nil:
		return "inlet"
	case b.Exit != nil:
		return "exit"
	case b.Core != nil:
		return "resistance"
	}
	return "leak"
}

func (a *cowling) placeName(j int) string {
	if j == airpath.Outside {
		return "outside"
	}
	return spaced(a.plant.Air.Places[j].Name)
}

// placeTable lists the places.
func (a *cowling) placeTable() Table {
	pressure, warm, heat := Pressure.In(a.units), Temperature.In(a.units), Heat.In(a.units)
	t := Table{
		Caption: "Air that stands in inlets, compartments and between cores", Words: 1,
		Header: []string{"place", "above outside " + pressure.Name, "air " + warm.Name, "heat of the engine " + heat.Name, "through the skin " + heat.Name},
	}
	for j := range a.res.Air.Places {
		p := a.place(j)
		t.Rows = append(t.Rows, []string{a.placeName(j), pressure.Number(p.Pressure), warm.Number(p.Temperature), heat.Number(p.Heat), heat.Number(p.Skin)})
	}
	return t
}

// heatTable follows the heat from the engine to the outside air. Each of its
// three parts ends with what stays behind.
func (a *cowling) heatTable() Table {
	w, unit := &a.res.Worst, Heat.In(a.units)
	t := Table{Caption: "Heat, from the engine to the outside air", Words: 1, Header: []string{"heat", unit.Name}}
	add := func(name string, value float64) { t.Rows = append(t.Rows, []string{name, unit.Number(value)}) }
	stored := a.stored()
	add("of the engine", w.EngineHeat)
	add("engine into coolant", w.IntoCoolant)
	add("engine into oil", w.IntoOil)
	add("engine into cowl air", a.bay())
	add("warms the "+stored[0].name, stored[0].value)
	for i, e := range a.plant.Exchangers {
		name := fmt.Sprintf("%s out of %s", spaced(e.Name), servedBy(&a.plant.Exchangers[i]))
		if e.Branch == sim.NoBranch {
			name += " into coolant"
		}
		add(name, a.res.Exchangers[i].Heat)
	}
	for _, s := range stored[1:] {
		add("warms the "+s.name, s.value)
	}
	for i := range a.plant.Air.Branches {
		if heat := a.carried(i); math.Abs(heat) > leastHeat {
			add(a.carriedName(i, heat), heat)
		}
	}
	for j := range a.res.Air.Places {
		if p := a.place(j); math.Abs(p.Skin) > leastHeat {
			add("through the skin of "+a.placeName(j), p.Skin)
		}
	}
	for x, e := range a.plant.Exchangers {
		if heat := a.vapour(x); heat > leastHeat {
			add("with the vapour from "+spaced(e.Name), heat)
		}
	}
	return t
}

func (a *cowling) carriedName(i int, heat float64) string {
	if heat < 0 {
		return "drawn back in by " + spaced(a.branch(i).Name)
	}
	return "leaves by " + spaced(a.branch(i).Name)
}

// describe says in words what the drawing shows.
func (a *cowling) describe() string {
	var text strings.Builder
	fmt.Fprintf(&text, "Where air and heat go in the cowl. %s ", strings.ReplaceAll(a.intro(), "\u00a0", " "))
	for i, b := range a.plant.Air.Branches {
		s := a.branch(i)
		way := fmt.Sprintf("%s goes from %s to %s by %s", AirFlow.Show(a.units, max(s.Flow, -s.Flow)), a.placeName(b.From), a.placeName(b.To), spaced(b.Name))
		if a.backwards(i) {
			way = fmt.Sprintf("%s goes backwards from %s to %s by %s", AirFlow.Show(a.units, -s.Flow), a.placeName(b.To), a.placeName(b.From), spaced(b.Name))
		}
		fmt.Fprint(&text, way)
		if x := a.exchanger[i]; x != noCore {
			does, heat := "takes %s out of the %s", a.res.Exchangers[x].Heat
			if heat < 0 {
				does = "gives %s to the %s"
			}
			fmt.Fprintf(&text, ", "+does+" and goes from %s to %s", Heat.Show(a.units, math.Abs(heat)),
				servedBy(&a.plant.Exchangers[x]), Temperature.Show(a.units, s.In), Temperature.Show(a.units, s.Out))
		}
		text.WriteString(". ")
	}
	for _, note := range a.noteTexts() {
		text.WriteString(note + " ")
	}
	text.WriteString("An " + reminder + ".")
	return text.String()
}
