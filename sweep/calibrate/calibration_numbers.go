package calibrate

import (
	"context"
	"fmt"
	"math"
	"slices"

	"golang.org/x/sync/errgroup"
	"hotclimb/scenarios"
	"hotclimb/sweep"
)

// unknown is a number that may be sharpened.
type unknown struct {
	param       scenarios.Param
	mean, doubt float64   // SI
	unit        string    // in which it is written
	supposed    bool      // the doubt is not of the file
	joined      bool      // it goes together with one that was asked for
	part        gaugePart // of a gauge; noPart: it changes flights
	circuit     int       // of the gauge
	acts        []bool    // on each record; where not, the test set it
}

// gaugePart is what of a gauge a number is.
type gaugePart int

const (
	noPart gaugePart = iota
	biasPart
	lagPart
	noisePart
)

// gaugeParts are the gauges' numbers by their paths.
var gaugeParts = map[string]struct {
	circuit int
	part    gaugePart
}{
	"gauges.coolant.bias": {sweep.Coolant, biasPart}, "gauges.coolant.lag": {sweep.Coolant, lagPart}, "gauges.coolant.noise": {sweep.Coolant, noisePart},
	"gauges.oil.bias": {sweep.Oil, biasPart}, "gauges.oil.lag": {sweep.Oil, lagPart}, "gauges.oil.noise": {sweep.Oil, noisePart},
}

// choose fills in the numbers to sharpen and the other doubtful ones. The error
// is about paths or correlations.
func (f *fitting) choose() error {
	if _, err := sweep.DoubtsOf(f.base); err != nil {
		return err
	}
	all := f.doubtful()
	if f.Paths == nil {
		f.numbers = all
		return nil
	}
	for _, path := range f.Paths {
		if slices.ContainsFunc(f.numbers, func(u unknown) bool { return u.param.Path == path }) {
			continue
		}
		u, err := f.asked(path)
		if err != nil {
			return err
		}
		f.numbers = append(f.numbers, u)
	}
	f.others = slices.DeleteFunc(all, func(u unknown) bool { return f.numbered(u.param.Path) })
	f.join(f.Paths)
	return nil
}

func (f *fitting) numbered(path string) bool {
	return slices.ContainsFunc(f.numbers, func(u unknown) bool { return u.param.Path == path })
}

// doubtful are all numbers that carry a doubt and can be sharpened.
func (f *fitting) doubtful() []unknown {
	var list []unknown
	for _, path := range f.base.Paths() {
		p, err := f.base.Compile(path)
		if err != nil || p.Whole {
			continue
		}
		if n, ok := p.Get(f.base); ok && n.Doubt > 0 && gaugeParts[path].part != noisePart {
			list = append(list, f.unknown(p, n))
		}
	}
	return list
}

// NotToFit is the error of a path that cannot be sharpened.
type NotToFit struct{ Path, Reason string }

func (e *NotToFit) Error() string { return e.Path + " " + e.Reason }

// asked is the number of a path that was asked for.
func (f *fitting) asked(path string) (unknown, error) {
	p, err := f.base.Compile(path)
	if err != nil {
		return unknown{}, err
	}
	n, ok := p.Get(f.base)
	supposed := f.Supposed[path]
	reason := ""
	switch {
	case !p.IsNumber():
		reason = "is a word, not a number"
	case p.Whole:
		reason = "counts pieces, and pieces have no doubt to sharpen"
	case gaugeParts[path].part == noisePart:
		reason = "weighs the readings and is not found by them; their scatter around the model tells it"
	case !ok:
		reason = "is not given in this scenario"
	case n.Doubt == 0 && supposed == 0:
		reason = fmt.Sprintf("has no doubt to sharpen: give it one, as in --set \"%s=%s ± DOUBT\"", path, n.Format(p.Dimension))
	case n.Doubt == 0:
		n.Doubt = supposed
		u := f.unknown(p, n)
		u.supposed = true
		return u, nil
	}
	if reason != "" {
		return unknown{}, &NotToFit{path, reason}
	}
	return f.unknown(p, n), nil
}

// unknown makes an unknown of a number. It acts on the records whose aircraft has
// the same number.
func (f *fitting) unknown(p scenarios.Param, n scenarios.Number) unknown {
	g := gaugeParts[p.Path]
	u := unknown{param: p, mean: n.Value, doubt: n.Doubt, unit: n.Unit, part: g.part, circuit: g.circuit, acts: make([]bool, len(f.Records))}
	if u.unit == "" || !n.Written {
		u.unit = p.Unit
	}
	for i, r := range f.Records {
		own, ok := p.Get(r.Scenario)
		_, set := r.Test.Set[p.Path]
		u.acts[i] = ok && !set && own.Value == n.Value
	}
	return u
}

// join moves numbers whose doubts go together with those of some paths from the
// others to the numbers, and those that go together with these: sharpening one
// alone would leave what is said of both untrue.
func (f *fitting) join(paths []string) {
	queue := slices.Clone(paths)
	for len(queue) > 0 {
		path := queue[0]
		queue = queue[1:]
		for _, c := range f.base.Correlations {
			other := ""
			switch {
			case c.Value.Value == 0:
			case c.Of == path:
				other = c.With
			case c.With == path:
				other = c.Of
			}
			i := slices.IndexFunc(f.others, func(u unknown) bool { return u.param.Path == other })
			if i < 0 {
				continue
			}
			u := f.others[i]
			u.joined = true
			f.numbers = append(f.numbers, u)
			f.others = slices.Delete(f.others, i, i+1)
			queue = append(queue, other)
		}
	}
}

// keepMoving leaves the numbers that move a reading, and those that go together
// with them.
func (f *fitting) keepMoving(ctx context.Context) error {
	here := make([]float64, f.readings)
	if err := f.evaluate(ctx, f.before(), here); err != nil {
		return fmt.Errorf("with the numbers as filed: %w", err)
	}
	effects := make([]float64, len(f.numbers))
	var group errgroup.Group
	group.SetLimit(max(1, f.Workers))
	for k := range f.numbers {
		group.Go(func() (err error) {
			effects[k], err = f.effect(ctx, k, here)
			return err
		})
	}
	if err := group.Wait(); err != nil {
		return err
	}
	all := f.numbers
	f.tried = f.flown()
	f.numbers, f.flights = nil, make([]trips, len(f.Records)) // flights are kept by the numbers
	var paths []string
	for k, u := range all {
		if effects[k] > moves {
			f.numbers = append(f.numbers, u)
			paths = append(paths, u.param.Path)
		} else {
			f.others = append(f.others, u)
		}
	}
	f.join(paths)
	return nil
}

// effect is by how many deviations a number moves the reading that it moves most
// when it goes by its doubt, up, or down where that cannot be flown; 0 where
// neither can.
func (f *fitting) effect(ctx context.Context, k int, here []float64) (float64, error) {
	u := &f.numbers[k]
	for _, way := range []float64{1, -1} {
		x, there := f.before(), make([]float64, f.readings)
		x[k] += way * u.doubt
		if x[k] < u.param.Lo || x[k] > u.param.Hi {
			continue
		}
		err := f.evaluate(ctx, x, there)
		if ctx.Err() != nil {
			return 0, ctx.Err()
		}
		if err != nil {
			continue
		}
		most := 0.0
		for i := range there {
			most = math.Max(most, math.Abs(there[i]-here[i]))
		}
		return most, nil
	}
	return 0, nil
}
