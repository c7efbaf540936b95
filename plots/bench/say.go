package bench

import (
	"strings"

	"hotclimb/plots"
	"hotclimb/sim"
)

// say is what came of a move in one or two sentences.
func say(now *flownState, p *pair, shown int) string {
	var b strings.Builder
	b.WriteString(now.cases[shown].Name + ": " + string(p.now.Status))
	for i, name := range []string{"coolant", "oil"} {
		k := &p.now.Peaks[i]
		b.WriteString(", " + name + " margin " + plots.Warmth.Show(p.units, k.Margin))
		if p.before != nil {
			b.WriteString(" (" + plots.Warmth.Change(p.units, k.Margin-p.before.Peaks[i].Margin) + ")")
		}
		if k.Exceeded {
			b.WriteString(", limit after " + plots.Clock(k.TimeToLimit))
		}
	}
	b.WriteString(".")
	if p.now.Incomplete != "" {
		b.WriteString(" Leg " + p.now.Incomplete + " did not reach its end.")
	}
	var over []string
	for i, f := range now.flown {
		if i != shown && f.result != nil && f.result.Status == sim.OverLimit {
			over = append(over, now.cases[i].Name)
		}
	}
	if len(over) > 0 {
		b.WriteString(" Over a limit as well: " + strings.Join(over, ", ") + ".")
	}
	return b.String()
}
