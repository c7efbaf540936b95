package optimum

import (
	"cmp"
	"context"
	"slices"

	"hotclimb/scenarios"
)

const (
	cureSteps    = 10   // of the range of a remedy, until one mends the limit
	cureHalvings = 9    // of the step in which that happens
	cureSpare    = 0.02 // beyond a limit, so that the number as it is told cures too [K]
)

// try looks for the least of a remedy that brings about what it aims at. The
// range is walked in steps, as more is not always better; the step in which the
// limit is mended is halved, and so is the one in which it becomes too much.
func (w *ward) try(ctx context.Context, c *remedy) error {
	t := trial{ward: w, remedy: c}
	for n := 1; n <= cureSteps && t.best == nil && t.over == 0; n++ {
		if err := t.fly(ctx, float64(n)/cureSteps); err != nil {
			return err
		}
	}
	for n := 0; n < cureHalvings && t.best == nil && t.over > 0; n++ {
		if err := t.fly(ctx, (t.less+t.over)/2); err != nil {
			return err
		}
	}
	for n := 0; n < cureHalvings && t.best != nil; n++ {
		if err := t.fly(ctx, (t.less+t.good)/2); err != nil {
			return err
		}
	}
	if t.best == nil {
		t.good = t.flown
	}
	w.tell(c, t.best, t.good)
	return nil
}

// trial is what is known of a remedy by its shares.
type trial struct {
	*ward
	*remedy
	best  *Design // that mends the limit, nil so far
	good  float64 // share of that
	less  float64 // share that is not enough
	over  float64 // share that is too much to be flown to the end; 0 for none
	flown float64 // most that was flown
}

// fly tries a share.
func (t *trial) fly(ctx context.Context, share float64) error {
	d, err := t.with(ctx, t.remedy, share)
	if d != nil {
		t.flown = max(t.flown, share)
	}
	switch {
	case d != nil && t.keeps(t.remedy, d) && t.ends(t.remedy, d):
		t.best, t.good = d, share
	case t.best == nil && (d == nil || t.keeps(t.remedy, d)):
		t.over = share
	default:
		t.less = share
	}
	return err
}

// tell notes what a remedy comes to.
func (w *ward) tell(c *remedy, best *Design, share float64) {
	for i := range c.Moves {
		c.Moves[i].To = c.at(c.Moves[i], share)
	}
	if best == nil {
		return
	}
	c.Found = true
	c.Water = best.Flights[c.Case].WaterUsed
	for i := range w.limits {
		if best.slack(w.limits, i) < -settings().Shortfall {
			c.Rest = append(c.Rest, i)
		}
	}
	c.Fits = len(c.Rest) == 0
	slices.SortStableFunc(c.Rest, func(a, b int) int {
		return cmp.Compare(best.slack(w.limits, a), best.slack(w.limits, b))
	})
}

// keeps says that the limits that a remedy aims at are kept.
func (w *ward) keeps(c *remedy, d *Design) bool {
	for i := range w.limits {
		if w.aim(c, &w.limits[i]) && d.slack(w.limits, i) < cureSpare {
			return false
		}
	}
	return true
}

// ends says that the flights that a remedy aims at reach their ends.
func (w *ward) ends(c *remedy, d *Design) bool {
	for i := range w.limits {
		if l := &w.limits[i]; w.aim(c, l) && d.Flights[l.Case].Incomplete != "" {
			return false
		}
	}
	return true
}

// with flies a remedy, in every case; nil when it cannot be flown.
func (w *ward) with(ctx context.Context, c *remedy, share float64) (*Design, error) {
	list := slices.Clone(w.scenarios)
	for k, sc := range list {
		if !c.All && k != c.Case {
			continue
		}
		edited, err := sc.Edit(func(sc *scenarios.Scenario) error { return c.set(sc, share) })
		if err != nil {
			return nil, nil // beyond what a file may hold
		}
		list[k] = edited
	}
	d, err := w.flyCases(func(k int) (Flight, error) {
		return w.inTheAir(ctx, func() (Flight, error) { return w.flown(ctx, list[k], list[k], false) })
	})
	if err != nil {
		return nil, ctx.Err() // what cannot be flown is no cure
	}
	return d, nil
}
