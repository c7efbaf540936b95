package main

import (
	"fmt"
	"strings"

	"hotclimb/plots"
	"hotclimb/sweep"
)

// verdict adds what the ranking comes to, in sentences.
func (p *rankPage) verdict() {
	if len(p.Changes) == 0 {
		return
	}
	v := p.Verdict()
	p.line("")
	p.headline("In short")
	for _, sentence := range p.best(v) {
		p.note(sentence)
	}
	p.bestFor(v)
	for i := range p.Changes {
		for _, sentence := range p.mind(&p.Changes[i]) {
			p.beware(sentence)
		}
	}
}

// best names the best single change and says whether it is enough.
func (k *ranking) best(v sweep.Verdict) []string {
	if v.Best < 0 {
		list := []string{fmt.Sprintf("No single change raises the least margin, %s.", k.least(&k.Base))}
		return append(list, k.bestPair(-1)...)
	}
	s := &k.Changes[v.Best]
	list := []string{fmt.Sprintf("The best single change is %s: the least margin goes from %s to %s.",
		k.inFull(v.Best), k.least(&k.Base), k.least(&s.Stand))}
	if t := k.limitMoved(&s.Effect); t != "" {
		list = append(list, t)
	}
	list = append(list, k.cures(v.Best)...)
	if sweep.FliesOnly(s.Change) {
		text := "It changes how the aircraft is flown, not what is built."
		if v.BestBuilt >= 0 {
			b := &k.Changes[v.BestBuilt]
			text += fmt.Sprintf(" The best that is built is %s: %s.", b.Change.Name, difference.Change(k.units, b.LeastGain))
		}
		list = append(list, text)
	}
	return append(list, k.bestPair(v.Best)...)
}

// least is the lesser margin of both circuits with its circuit and its case.
func (k *ranking) least(s *sweep.Stand) string {
	return fmt.Sprintf("%s (%s, %s)", difference.Show(k.units, s.Least()), circuitNames[s.Limiting()], k.Cases[s.Worst()])
}

// limitMoved says how the time to the earliest limit changes by what raises the
// least margin, "" when none is reached as it is.
func (k *ranking) limitMoved(e *sweep.Effect) string {
	before, after := plots.Clock(k.Base.LimitTime), plots.Clock(e.LimitTime)
	switch limitWord(e.TimeGain(&k.Base)) {
	case "no longer reached":
		return fmt.Sprintf("The limit that was reached after %s is no longer reached.", before)
	case "reached":
		return fmt.Sprintf("The earliest limit is reached after %s instead of %s.", after, before)
	}
	return ""
}

// cures says whether a change keeps every case within its limits, when some
// exceed them as they are.
func (k *ranking) cures(best int) []string {
	if len(k.Base.Over()) == 0 || best < 0 {
		return nil
	}
	over := k.Changes[best].Over()
	if len(over) == 0 {
		return []string{"With it, every case stays within its limits."}
	}
	return []string{fmt.Sprintf("Alone it does not cure every case: %s still over a limit.", isOrAre(k.caseNames(over)))}
}

// bestPair names the best pair, when it is better than the best change alone,
// and says whether it is enough.
func (k *ranking) bestPair(best int) []string {
	i := k.BestPair()
	if i < 0 || best >= 0 && k.Pairs[i].Least() <= k.Changes[best].Least() {
		return nil
	}
	q := &k.Pairs[i]
	text := fmt.Sprintf("The best pair is %s: least margin %s.", k.pairName(q), k.least(&q.Stand))
	if over := q.Over(); len(over) > 0 {
		text += fmt.Sprintf(" With it, %s still over a limit.", isOrAre(k.caseNames(over)))
	}
	return []string{text}
}

// isOrAre is a list of names with its verb.
func isOrAre(names []string) string {
	if len(names) == 1 {
		return names[0] + " is"
	}
	return strings.Join(names, ", ") + " are"
}

// bestFor adds the changes that buy most for what they take.
func (p *rankPage) bestFor(v sweep.Verdict) {
	d := difference.In(p.units)
	entry := func(label string, best int, per func(*sweep.Single) float64) {
		if best < 0 {
			return
		}
		s := &p.Changes[best]
		p.labelled(26, "  "+label, fmt.Sprintf("%s: %s %s", s.Change.Name, digits(per(s)*d.Factor), d.Name))
	}
	kilogram, watt := mass.In(p.units), finePower.In(p.units)
	entry("most per "+kilogram.Name, v.PerWeight, func(s *sweep.Single) float64 { return sweep.Per(s.LeastGain, s.Weight) / kilogram.Factor })
	entry("most per unit of cost", v.PerCost, func(s *sweep.Single) float64 { return sweep.Per(s.LeastGain, s.Cost) })
	entry("most per hour of work", v.PerHour, func(s *sweep.Single) float64 { return sweep.Per(s.LeastGain, s.Hours) })
	entry("most per "+watt.Name+" of drag", v.PerDrag, func(s *sweep.Single) float64 { return s.PerDragPower() / watt.Factor })
}

// mind is what one must know of a change.
func (k *ranking) mind(s *sweep.Single) []string {
	if s.Err != nil {
		return nil
	}
	var list []string
	name := s.Change.Name
	say := func(format string, args ...any) { list = append(list, fmt.Sprintf(format, args...)) }
	if circuit, ok := s.Spoils(); ok {
		other := 1 - circuit
		say("%s helps the %s (%s) by spoiling the %s (%s).", name, circuitNames[other], difference.Change(k.units, s.Gain[other]),
			circuitNames[circuit], difference.Change(k.units, s.Gain[circuit]))
	}
	for _, i := range s.NewOver {
		say("%s moves %s over a limit (by %s).", name, k.Cases[i], difference.Show(k.units, -s.Flown[i].Margin()))
	}
	for _, r := range s.NewReversed {
		say("%s turns the air of %s around in %s.", name, r.Exchanger, k.Cases[r.Case])
	}
	for _, i := range s.NewIncomplete {
		say("in %s with %s, leg %s does not reach its end.", k.Cases[i], name, s.Flown[i].Incomplete)
	}
	if sweep.FliesOnly(s.Change) && s.Applied {
		say("%s changes how the aircraft is flown, not what is built.", name)
	}
	return list
}
