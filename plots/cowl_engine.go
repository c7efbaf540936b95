package plots

import (
	"math"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"hotclimb/sim"
	"hotclimb/sim/airpath"
)

// bay is the heat of the engine into the air of the cowl past both circuits [W].
func (a *cowling) bay() float64 {
	sum := 0.0
	for j := range a.res.Air.Places {
		sum += a.place(j).Heat
	}
	return sum
}

// plates is the heat that plate exchangers bring from the oil to the coolant [W].
func (a *cowling) plates() float64 {
	sum := 0.0
	for i, e := range a.plant.Exchangers {
		if e.Branch == sim.NoBranch {
			sum += a.res.Exchangers[i].Heat
		}
	}
	return sum
}

// stored is the heat that warms metal and liquids [W].
func (a *cowling) stored() [3]amount {
	w := &a.res.Worst
	return [3]amount{
		{"metal", w.EngineHeat - w.IntoCoolant - w.IntoOil - a.bay()},
		{"coolant", w.IntoCoolant + a.plates() - w.CoolantHeat},
		{"oil", w.IntoOil - w.OilHeat},
	}
}

// engineRows are the lines of the card of the engine: its power and the heat
// into cowl air, oil and coolant; between the last two what brings heat from the
// one to the other.
func (l *cowlLayout) engineRows() []engineRow {
	w := &l.res.Worst
	rows := []engineRow{{name: "engine", value: Power.Show(l.units, w.Power), way: heatWays}}
	if w.Power <= 0 {
		rows[0].value = "no power"
	}
	if bay := l.bay(); math.Abs(bay) > leastHeat {
		rows = append(rows, engineRow{name: "cowl air", value: Heat.Show(l.units, bay), way: bayHeat})
	}
	rows = append(rows, engineRow{name: "oil", value: Heat.Show(l.units, w.IntoOil), way: oilHeat})
	for i, e := range l.plant.Exchangers {
		if e.Branch == sim.NoBranch {
			rows = append(rows, engineRow{name: l.plateName(i), value: Heat.Show(l.units, math.Abs(l.res.Exchangers[i].Heat)), way: heatWays})
		}
	}
	rows = append(rows, engineRow{name: "coolant", value: Heat.Show(l.units, w.IntoCoolant), way: coolantHeat})
	level := vg.Length(0)
	for i := range rows {
		r := &rows[i]
		r.height = l.size.row() + 1.5
		bundle := vg.Length(0)
		for _, p := range l.heat {
			if p.way == r.way {
				bundle += p.width
			}
		}
		r.height = max(r.height, bundle+3)
		r.level = level + r.height/2
		level += r.height
	}
	return rows
}

// plateName is the name of a plate exchanger behind an arrow the way its heat
// goes, between the lines of oil and coolant.
func (l *cowlLayout) plateName(i int) string {
	name := words{text: spaced(l.plant.Exchangers[i].Name), size: l.size.text}.fit(l.size.widest).text
	if l.res.Exchangers[i].Heat < 0 {
		return "↑ " + name
	}
	return "↓ " + name
}

// engineWidth is the width of the card of the engine.
func (l *cowlLayout) engineWidth() vg.Length {
	const apart = 8 // pt between names and values
	width := vg.Length(0)
	for i, r := range l.rows {
		name, value := words{text: r.name, size: l.size.text, bold: i == 0}, words{text: r.value, size: l.size.text}
		width = max(width, name.width()+apart+value.width()+2*l.size.pad)
	}
	return width
}

// rowOf is the line of the engine where a way starts; the last if it has none.
func (l *cowlLayout) rowOf(way heatOf) engineRow {
	for _, r := range l.rows {
		if r.way == way {
			return r
		}
	}
	return l.rows[len(l.rows)-1]
}

// strip is the height of the engine above the columns.
func (l *cowlLayout) strip() vg.Length {
	last := l.rows[len(l.rows)-1]
	return last.level + last.height/2 + stripGap
}

// headings say what the columns hold, leaks aside; those of columns of several
// kinds and between cores are empty.
func (l *cowlLayout) headings() []words {
	list := make([]words, len(l.g.columns))
	for k, column := range l.g.columns {
		list[k] = words{size: smallSize, color: noteInk}
		kinds := map[string]int{}
		for _, i := range column {
			if kind := l.kind(&l.g.nodes[i]); kind != "" && kind != "leak" {
				kinds[kind]++
			}
		}
		for kind, n := range kinds {
			if len(kinds) == 1 && kind != "space" {
				_, list[k].text, _ = strings.Cut(counted(n, kind), " ")
			}
		}
	}
	return list
}

// kind says in a word what a node is.
func (a *cowling) kind(n *cowlNode) string {
	switch {
	case n.passes():
		return ""
	case n.branch == none:
		return a.placeKind(n.place)
	case a.plant.Air.Branches[n.branch].Inlet != nil:
		return "inlet"
	case a.plant.Air.Branches[n.branch].Exit != nil:
		return "exit"
	case a.exchanger[n.branch] != noCore:
		return "core"
	}
	return "leak"
}

// placeKind tells a compartment, which an exit or a leak empties or more than
// one branch feeds, from the room between cores.
func (a *cowling) placeKind(j int) string {
	fed := 0
	for _, b := range a.plant.Air.Branches {
		if b.From == j && (b.Exit != nil || b.To == airpath.Outside) {
			return "compartment"
		}
		if b.To == j {
			fed++
		}
	}
	if fed > 1 {
		return "compartment"
	}
	return "space"
}

// key explains the colours.
func (a *cowling) key() []keyEntry {
	warm := Warmth.In(a.units)
	list := []keyEntry{
		{"air: as outside to " + decimal(warm.Of(warmest), 0) + " " + warm.Name + " warmer", airSample()},
		{"heat in coolant", pipeSample(coolantHeat)},
		{"heat in oil", pipeSample(oilHeat)},
	}
	if math.Abs(a.bay()) > leastHeat {
		list = append(list, keyEntry{"heat into the cowl", pipeSample(bayHeat)})
	}
	if len(a.backwardsNames()) > 0 {
		back := lineSample((&cowlBand{backwards: true}).edge(), nil)
		list = append(list, keyEntry{"air going backwards", back})
	}
	return list
}

// airSample shows the colours of air from cool to warm.
func airSample() sample {
	const steps = 5
	return sample{2 * lineWidth, func(c draw.Canvas, box vg.Rectangle) {
		width := box.Size().X / steps
		for i := range steps {
			part := box
			part.Min.X += vg.Length(i) * width
			part.Max.X = part.Min.X + width
			fillBox(c, part, airInk(warmest*float64(i)/(steps-1)))
		}
		c.SetLineStyle(stroke(airEdge, 0.5, solid))
		c.Stroke(box.Path())
	}}
}

// pipeSample shows a pipe of heat.
func pipeSample(way heatOf) sample {
	return sample{lineWidth, func(c draw.Canvas, box vg.Rectangle) {
		y := center(box).Y
		drawPipe(c, []vg.Point{{X: box.Min.X, Y: y}, {X: box.Max.X, Y: y}}, way, 4)
	}}
}
