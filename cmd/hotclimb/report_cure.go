package main

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"hotclimb/sweep"
)

// remedy is a change, or a pair of them, that keeps every case within its limits.
type remedy struct {
	name string // with its title
	sweep.Price
	sweep.Stand
	flies  bool // changes how the aircraft is flown
	builds bool // changes what is built
}

// cheaper orders remedies by cost, then hours, then weight.
func cheaper(a, b *remedy) int {
	return cmp.Or(cmp.Compare(a.Cost, b.Cost), cmp.Compare(a.Hours, b.Hours), cmp.Compare(a.Weight, b.Weight))
}

// flies says that a remedy changes how the aircraft is flown.
func flies(c *remedy) bool { return c.flies }

// cure says in a clause what keeps every case within its limits the cheapest way,
// and in sentences what else does.
func (r *reporting) cure() (clause string, beside []string) {
	f := findingOf[*rankFinding](r)
	if f == nil {
		return r.notRanked(), nil
	}
	k := f.of
	alone, pairs := k.cureAlone(), k.curePairs()
	built, builtPairs := slices.DeleteFunc(slices.Clone(alone), flies), slices.DeleteFunc(slices.Clone(pairs), flies)
	switch {
	case len(built) > 0:
		best := slices.MinFunc(built, cheaper)
		clause, beside = "the cheapest cure is "+k.tell(best), r.leavesMore(k, best, slices.Concat(built, builtPairs))
	case len(builtPairs) > 0:
		best := slices.MinFunc(builtPairs, cheaper)
		clause = "no single change to what is built cures it, and the cheapest pair that does is " + k.tell(best)
		beside = r.leavesMore(k, best, builtPairs)
	default:
		clause = r.otherOpenings(k, len(alone)+len(pairs) > 0)
		if len(alone) == 0 && len(pairs) > 0 {
			alone = []*remedy{slices.MinFunc(pairs, cheaper)}
		}
	}
	for _, c := range alone {
		if c.flies {
			beside = append(beside, k.tellFlown(c))
		}
	}
	return clause, beside
}

// promised is the margin below which a difference is lost in what gauges and
// estimates are out by (engineering judgement) [K].
const promised = 2.0

// doubted is what is said of a margin that is left.
func doubted(margin float64) string {
	if margin < promised {
		return ", less than an estimate can promise"
	}
	return ""
}

// leavesMore says what leaves a margin to rely on, where the cheapest remedy does
// not.
func (r *reporting) leavesMore(k *ranking, best *remedy, all []*remedy) []string {
	if best.Least() >= promised {
		return nil
	}
	var list []string
	more := slices.DeleteFunc(slices.Clone(all), func(c *remedy) bool { return c.Least() < promised })
	if len(more) > 0 {
		list = append(list, fmt.Sprintf("The cheapest that leaves %s or more is %s.", difference.Show(k.units, promised), k.tell(slices.MinFunc(more, cheaper))))
	}
	if z := findingOf[*sizeFinding](r); z != nil && z.of.Fits && z.of.answersAll(r.flown.of) && z.of.leaves() >= promised {
		list = append(list, "Other sizes leave more: "+z.of.answerWords()+".")
	}
	return list
}

// notRanked is the clause where no change was looked at.
func (r *reporting) notRanked() string {
	if slices.ContainsFunc(r.parts, func(q *part) bool { return q.word == rankPart }) {
		return "what cures it could not be told (see below)"
	}
	return "what cures it was not looked for"
}

// otherOpenings is the clause where no change of what is built cures it: other
// openings may.
func (r *reporting) otherOpenings(k *ranking, flown bool) string {
	listed := "no change that is listed cures it"
	switch {
	case len(k.Changes) == 0:
		listed = "the scenario lists no changes"
	case flown:
		listed = "no change to what is built cures it"
	}
	z := findingOf[*sizeFinding](r)
	switch {
	case z == nil:
		return listed
	case z.of.Fits && z.of.answersAll(r.flown.of):
		return listed + ", but other sizes do: " + z.of.answerWords()
	case z.of.Fits:
		return listed + "; other sizes cure " + strings.Join(caseNames(z.of.Cases), ", ")
	}
	return listed + ", and within their bounds no sizes do"
}

// answersAll says that every case of a run was sized for.
func (z *sized) answersAll(o *outcome) bool { return len(z.Cases) == len(o.cases) }

// answerWords are the sizes to build, with what they leave.
func (z *sized) answerWords() string {
	var sizes []string
	for i, x := range z.answer().X {
		sizes = append(sizes, z.Factors[i].Param.Path+" "+z.value(i, x))
	}
	return fmt.Sprintf("%s, which leave %s", strings.Join(sizes, ", "), difference.Show(z.units, z.leaves())+doubted(z.leaves()))
}

// leaves is the least margin with the sizes to build [K].
func (z *sized) leaves() float64 {
	least := math.Inf(1)
	for _, f := range z.answer().Flights {
		least = math.Min(least, f.Margin())
	}
	return least
}

// cureAlone are the single changes that keep every case within its limits.
func (k *ranking) cureAlone() []*remedy {
	var list []*remedy
	for i := range k.Changes {
		s := &k.Changes[i]
		if s.Applied && k.curesAll(&s.Effect) {
			list = append(list, &remedy{k.inFull(i), s.Price, s.Stand, sweep.FliesOnly(s.Change), !sweep.FliesOnly(s.Change)})
		}
	}
	return list
}

// curePairs are the pairs that do.
func (k *ranking) curePairs() []*remedy {
	var list []*remedy
	for i := range k.Pairs {
		q := &k.Pairs[i]
		if k.curesAll(&q.Effect) {
			one, other := sweep.FliesOnly(k.Changes[q.First].Change), sweep.FliesOnly(k.Changes[q.Second].Change)
			list = append(list, &remedy{k.inFull(q.First) + " with " + k.inFull(q.Second), q.Price, q.Stand, one || other, !one || !other})
		}
	}
	return list
}

// curesAll says that with it every case keeps its limits and does not boil, and none
// that did reach its end no longer does.
func (k *ranking) curesAll(e *sweep.Effect) bool {
	return e.Err == nil && len(e.Over()) == 0 && len(e.NewIncomplete) == 0 &&
		!slices.ContainsFunc(e.Flown, func(f sweep.Flown) bool { return f.BoilMargin < 0 })
}

// inFull is the name of a change with its title.
func (k *ranking) inFull(i int) string {
	c := k.Changes[i].Change
	if c.Title == "" {
		return c.Name
	}
	return c.Name + " (" + c.Title + ")"
}

// leaves is the least margin that a remedy leaves.
func (k *ranking) leaves(c *remedy) string { return k.least(&c.Stand) + doubted(c.Least()) }

// tellFlown says that a remedy changes how the aircraft is flown.
func (k *ranking) tellFlown(c *remedy) string {
	instead := ", not what is built"
	if c.builds {
		instead = " as well as what is built"
	}
	return fmt.Sprintf("%s would cure it, but changes how the aircraft is flown%s; it leaves %s.", c.name, instead, k.leaves(c))
}

// tell says what a remedy takes and leaves.
func (k *ranking) tell(c *remedy) string {
	cost, hours := "cost "+bare(c.Cost), bare(c.Hours)+" hours"
	if c.Cost == 0 {
		cost = "no cost given"
	}
	if c.Hours == 1 {
		hours = "1 hour"
	}
	return fmt.Sprintf("%s: %s, %s, %s, and leaves %s", c.name, cost, hours, mass.Show(k.units, c.Weight), k.leaves(c))
}
