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
	leaves string // the least margin
	flies  bool   // changes only how the aircraft is flown, or what is built as well
}

// cheaper orders remedies by cost, then hours, then weight.
func cheaper(a, b *remedy) int {
	return cmp.Or(cmp.Compare(a.Cost, b.Cost), cmp.Compare(a.Hours, b.Hours), cmp.Compare(a.Weight, b.Weight))
}

// cure says in a clause what keeps every case within its limits the cheapest way,
// and in sentences what else does.
func (r *reporting) cure() (clause string, beside []string) {
	f := findingOf[*rankFinding](r)
	if f == nil {
		return r.notRanked(), nil
	}
	singles, pairs := f.of.cureAlone(), f.of.curePairs()
	built := slices.DeleteFunc(slices.Clone(singles), func(c *remedy) bool { return c.flies })
	flown := slices.DeleteFunc(slices.Clone(singles), func(c *remedy) bool { return !c.flies })
	for _, c := range flown {
		beside = append(beside, fmt.Sprintf("%s cures it too, but changes how the aircraft is flown, not what is built; it leaves %s.", c.name, c.leaves))
	}
	pairs = slices.DeleteFunc(pairs, func(c *remedy) bool { return c.flies })
	switch {
	case len(built) > 0:
		return "the cheapest cure is " + f.of.tell(slices.MinFunc(built, cheaper)), beside
	case len(pairs) > 0:
		return "no single change to what is built cures it, and the cheapest pair that does is " + f.of.tell(slices.MinFunc(pairs, cheaper)), beside
	}
	return r.otherOpenings(f.of), beside
}

// notRanked is the clause where no change was looked at.
func (r *reporting) notRanked() string {
	if i := slices.IndexFunc(r.parts, func(q *part) bool { return q.word == rankPart }); i >= 0 {
		return "what cures it could not be told (see below)"
	}
	return "what cures it was not looked for"
}

// otherOpenings is the clause where no change cures it: other openings may.
func (r *reporting) otherOpenings(k *ranking) string {
	listed := "no change that is listed cures it"
	if len(k.Changes) == 0 {
		listed = "the scenario lists no changes"
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
	d := z.answer()
	var sizes []string
	for i, x := range d.X {
		sizes = append(sizes, z.Factors[i].Param.Path+" "+z.value(i, x))
	}
	least := math.Inf(1)
	for i := range d.Flights {
		least = math.Min(least, d.Flights[i].Margin())
	}
	return fmt.Sprintf("%s, which leaves %s", strings.Join(sizes, ", "), difference.Show(z.units, least))
}

// cureAlone are the single changes that keep every case within its limits.
func (k *ranking) cureAlone() []*remedy {
	var list []*remedy
	for i := range k.Changes {
		s := &k.Changes[i]
		if s.Applied && k.curesAll(&s.Effect) {
			list = append(list, &remedy{k.inFull(i), s.Price, k.least(&s.Stand), sweep.FliesOnly(s.Change)})
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
			flies := sweep.FliesOnly(k.Changes[q.First].Change) || sweep.FliesOnly(k.Changes[q.Second].Change)
			list = append(list, &remedy{k.inFull(q.First) + " with " + k.inFull(q.Second), q.Price, k.least(&q.Stand), flies})
		}
	}
	return list
}

// curesAll says that with it every case keeps its limits, and none that did reach
// its end no longer does.
func (k *ranking) curesAll(e *sweep.Effect) bool {
	return e.Err == nil && len(e.Over()) == 0 && len(e.NewIncomplete) == 0
}

// inFull is the name of a change with its title.
func (k *ranking) inFull(i int) string {
	c := k.Changes[i].Change
	if c.Title == "" {
		return c.Name
	}
	return c.Name + " (" + c.Title + ")"
}

// tell says what a remedy takes and leaves.
func (k *ranking) tell(c *remedy) string {
	hours := bare(c.Hours) + " hours"
	if c.Hours == 1 {
		hours = "1 hour"
	}
	return fmt.Sprintf("%s: cost %s, %s, %s, and leaves %s", c.name, bare(c.Cost), hours, mass.Show(k.units, c.Weight), c.leaves)
}
