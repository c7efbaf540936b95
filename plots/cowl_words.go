package plots

import (
	"fmt"
	"math"
	"strings"

	"hotclimb/sim"
	"hotclimb/sim/airpath"
)

// card is what a node tells.
func (a *cowling) card(n *cowlNode, size cowlType) []words {
	if n.passes() {
		return nil
	}
	var name string
	var texts []string
	switch {
	case n.branch == none:
		name, texts = a.place(n.place).Name, a.placeTexts(n.place)
	case n.place == none:
		name, texts = a.branch(n.branch).Name, a.branchTexts(n.branch)
	default: // an opening and its place
		name = a.branch(n.branch).Name
		texts = append(a.branchTexts(n.branch), a.placeTexts(n.place)...)
		if a.plant.Air.Branches[n.branch].Exit != nil {
			texts = texts[:len(texts)-1] // its air is told already
		}
	}
	if n.branch == none && a.placeKind(n.place) == "space" {
		name = ""
	}
	lines := breakText(spaced(name), words{size: size.name, bold: true}, size.widest, 2)
	for _, text := range texts {
		lines = append(lines, words{text: text, size: size.text})
	}
	return lines
}

// placeTexts tell of a place: heat from the engine, pressure, temperature.
func (a *cowling) placeTexts(j int) []string {
	p := a.place(j)
	var texts []string
	if math.Abs(p.Heat) > leastHeat {
		texts = append(texts, Heat.Change(a.units, p.Heat))
	}
	return append(texts, Pressure.Show(a.units, p.Pressure), Temperature.Show(a.units, p.Temperature))
}

// branchTexts tell of a branch: what a core does, flow, temperatures.
func (a *cowling) branchTexts(i int) []string {
	b := a.branch(i)
	var texts []string
	if x := a.exchanger[i]; x != noCore {
		texts = append(texts, servedBy(&a.plant.Exchangers[x]), Heat.Show(a.units, a.res.Exchangers[x].Heat))
		if a.vapour(x) > leastHeat {
			texts = append(texts, "sprayed")
		}
	}
	texts = append(texts, AirFlow.Show(a.units, math.Abs(b.Flow)))
	if a.backwards(i) {
		texts = append(texts, "backwards")
	}
	kind := &a.plant.Air.Branches[i]
	switch {
	case kind.Core != nil:
		t := Temperature.In(a.units)
		texts = append(texts, t.Number(b.In)+" → "+Temperature.Show(a.units, b.Out))
	case kind.Exit != nil:
		texts = append(texts, Temperature.Show(a.units, b.Out))
	case kind.Gap != nil && kind.To == airpath.Outside && a.backwards(i):
		texts = append(texts, "from outside")
	case kind.Gap != nil && kind.To == airpath.Outside:
		texts = append(texts, "to outside")
	}
	if heat := a.carried(i); heat > leastHeat {
		texts = append(texts, Heat.Show(a.units, heat))
	}
	return texts
}

// servedBy is the circuit that an exchanger serves.
func servedBy(e *sim.Exchanger) string {
	if e.Oil {
		return "oil"
	}
	return "coolant"
}

// carried is the heat that air takes out of the cowl through a branch, above
// the outside air, or brings into it if negative [W].
func (a *cowling) carried(i int) float64 {
	b := a.branch(i)
	heat := math.Abs(b.Flow) * airpath.HeatCapacity
	switch out := b.Flow >= 0; {
	case b.From != airpath.Outside && b.To != airpath.Outside:
		return 0
	case (b.To == airpath.Outside) == out:
		return heat * (b.Out - a.res.Worst.Outside)
	default:
		return -heat * (b.In - a.res.Worst.Outside)
	}
}

// intro tells the moment, and what goes backwards.
func (a *cowling) intro() string {
	w := &a.res.Worst
	text := fmt.Sprintf("At the least margin%s: %s into the flight%s, %s, %s outside, %s, %s.", a.limiting(),
		Clock(w.Time), a.leg(), Height.Show(a.units, w.Altitude), Temperature.Show(a.units, w.Outside),
		Airspeed.Show(a.units, w.TrueAirspeed), unbroken("ram "+Pressure.Show(a.units, w.Ram)))
	if back := a.backwardsNames(); len(back) > 0 {
		text += " Air goes backwards through " + strings.Join(back, ", ") + "."
	}
	return text
}

// unbroken keeps a few words in one line.
func unbroken(text string) string { return strings.ReplaceAll(text, " ", "\u00a0") }

// limiting is the circuit with the least margin, and that margin.
func (a *cowling) limiting() string {
	if len(a.res.Peaks) == 0 {
		return ""
	}
	least := &a.res.Peaks[0]
	for i := range a.res.Peaks {
		if a.res.Peaks[i].Margin < least.Margin {
			least = &a.res.Peaks[i]
		}
	}
	circuit, _, _ := strings.Cut(least.Channel, "_")
	if least.Margin < 0 {
		return fmt.Sprintf(", %s %s over its limit", circuit, Warmth.Show(a.units, -least.Margin))
	}
	return fmt.Sprintf(", %s %s below its limit", circuit, Warmth.Show(a.units, least.Margin))
}

// leg names the leg of the moment.
func (a *cowling) leg() string {
	for _, s := range a.res.Legs {
		if a.res.Worst.Time <= s.End {
			return " in " + spaced(s.Name)
		}
	}
	return ""
}

// backwardsNames lists through what air goes backwards.
func (a *cowling) backwardsNames() []string {
	var list []string
	for i := range a.res.Air.Branches {
		if a.backwards(i) {
			list = append(list, spaced(a.branch(i).Name))
		}
	}
	return list
}
