package plots

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/plot/vg"

	"hotclimb/sim"
	"hotclimb/sim/airpath"
)

// notes tell what the cards have no room for.
func (a *cowling) notes(room vg.Length) []words {
	var lines []words
	for _, text := range a.noteTexts() {
		lines = append(lines, breakText(text, words{size: smallSize}, room, 2)...)
	}
	return lines
}

func (a *cowling) noteTexts() []string {
	var texts []string
	if text := a.storedText(); text != "" {
		texts = append(texts, text)
	}
	for i := range a.plant.Air.Branches {
		if heat := a.carried(i); heat < -leastHeat {
			texts = append(texts, fmt.Sprintf("Inlet %s draws exit air back in, and %s with it.", spaced(a.branch(i).Name), Heat.Show(a.units, -heat)))
		}
	}
	for x, e := range a.plant.Exchangers {
		if heat := a.vapour(x); heat > leastHeat {
			texts = append(texts, fmt.Sprintf("Spray: %s leave %s with the vapour of the water.", Heat.Show(a.units, heat), spaced(e.Name)))
		}
	}
	for j := range a.res.Air.Places {
		if p := a.place(j); math.Abs(p.Skin) > leastHeat {
			texts = append(texts, fmt.Sprintf("Skin of %s: %s go through it to the outside air.", spaced(p.Name), Heat.Show(a.units, p.Skin)))
		}
	}
	for i := range a.plant.Vents {
		v := &a.plant.Vents[i]
		texts = append(texts, fmt.Sprintf("Vent %s, behind %s, takes in air of %s.", spaced(v.Name),
			spaced(a.plant.Air.Branches[v.Exit].Name), Temperature.Show(a.units, a.vent(v))))
	}
	return texts
}

// storedText tells what warms or cools, if it is more than a hundredth of the
// heat of the engine: by so much the numbers of the cores differ from those of
// the engine.
func (a *cowling) storedText() string {
	const share, least = 0.01, 50.0 // [-], [W]
	var texts []string
	for _, s := range a.stored() {
		switch {
		case math.Abs(s.value) <= max(least, share*a.res.Worst.EngineHeat):
		case s.value > 0:
			texts = append(texts, s.name+" takes up "+Heat.Show(a.units, s.value))
		default:
			texts = append(texts, s.name+" gives back "+Heat.Show(a.units, -s.value))
		}
	}
	if len(texts) == 0 {
		return ""
	}
	return "Not settled: " + strings.Join(texts, ", ") + "."
}

// vent is the temperature of the air that a cabin vent takes in [°C].
func (a *cowling) vent(v *sim.Vent) float64 {
	t, b := a.res.Worst.Outside, a.branch(v.Exit)
	if b.Flow <= 0 {
		return t
	}
	return t + v.Share*(b.Out-t)
}

// vapour is the heat that leaves exchanger x with the water sprayed on it: what
// its air does not show as warmth [W].
func (a *cowling) vapour(x int) float64 {
	if a.plant.Spray == nil || a.plant.Spray.Exchanger != x || a.plant.Exchangers[x].Branch == sim.NoBranch {
		return 0
	}
	b := a.branch(a.plant.Exchangers[x].Branch)
	return a.res.Exchangers[x].Heat - math.Abs(b.Flow)*airpath.HeatCapacity*(b.Out-b.In)
}
