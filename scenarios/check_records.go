package scenarios

import (
	"fmt"
	"time"
)

func (c *studyChecker) test(at string, t *Test) {
	switch {
	case t.Log == "" && len(t.Points) == 0:
		c.tell(at, "has no readings", "give log or points")
	case t.Log != "" && len(t.Points) > 0:
		c.tell(at, "has both a log and points", "keep one, or make two tests of them")
	case t.Log == "" && t.Columns != LogColumns{}:
		c.tell(join(at, "columns"), "belong to a log, and there is none", "give log, or remove them")
	}
	if _, err := time.Parse(time.DateOnly, t.Date); t.Date != "" && err != nil {
		c.tell(join(at, "date"), fmt.Sprintf("%q is no date", t.Date), "write YYYY-MM-DD")
	}
	c.points(at, t)
}

// points tells readings by hand that lack a condition which the test does not
// give either, those that read nothing, and those at the time of another.
func (c *studyChecker) points(at string, t *Test) {
	taken := map[float64]string{}
	for _, name := range sortedKeys(t.Points) {
		p := t.Points[name]
		here := join(join(at, "points"), name)
		if first, ok := taken[p.Time.Value]; ok && p.Time.Known {
			c.tell(join(here, "time"), "is that of "+first+" too", "give each reading its own time, or join both")
		}
		taken[p.Time.Value] = name
		for _, n := range []struct {
			key        string
			own, whole Number
		}{
			{"altitude", p.Altitude.Number, t.Altitude.Number},
			{"speed", p.Speed.Number, t.Speed.Number},
			{"outside", p.Outside.Number, t.Outside.Number},
		} {
			if !n.own.Known && !n.whole.Known {
				c.tell(join(here, n.key), "is missing", "give it here, or once for all readings as "+join(at, n.key))
			}
		}
		if !p.Coolant.Known && !p.Oil.Known {
			c.tell(here, "reads neither coolant nor oil", "give one of them, or remove it")
		}
	}
}

// fit tells paths that cannot be sharpened: words, and numbers without a doubt,
// unless a later overlay has set them.
func (c *studyChecker) fit() {
	if c.sc.Fit == nil {
		return
	}
	for _, path := range c.sc.Fit.Paths {
		if c.bad.hides(path) {
			continue
		}
		p, v, err := c.compile(path)
		if err != nil {
			c.tellPath("fit.paths", path, err)
			continue
		}
		at := join("fit.paths", path)
		if n, ok := p.Get(v); !p.IsNumber() {
			c.tell(at, "is a word, not a number", "")
		} else if (!ok || n.Doubt == 0) && c.sc.where[path].rank <= c.sc.where[at].rank {
			c.tell(at, "has no doubt to sharpen", "write its value as in 0.60 ± 0.10")
		}
	}
}

// correlations tells those of paths that do not exist or of a number with
// itself.
func (c *studyChecker) correlations() {
	c.sc.visit(func(s spot) {
		if s.field.fixed {
			s.visitInside(c.field())
		}
	})
	seen := map[[2]string]string{}
	for _, r := range c.sc.Correlations {
		at := join("correlations", r.Name)
		c.correlated(join(at, "of"), r.Of)
		c.correlated(join(at, "with"), r.With)
		pair := [2]string{min(r.Of, r.With), max(r.Of, r.With)}
		switch first, ok := seen[pair]; {
		case r.Of == r.With && r.Of != "":
			c.tell(at, "is of a number with itself", "name two numbers")
		case ok:
			c.tell(at, "is of the same numbers as "+first, "keep one")
		}
		seen[pair] = r.Name
	}
}

// correlated tells a path that no number has.
func (c *studyChecker) correlated(at, path string) {
	if c.bad.hides(path) || path == "" {
		return
	}
	if p, _, err := c.compile(path); err != nil {
		f := asFault(path, err)
		c.tell(at, path+": "+f.Message, f.Hint)
	} else if !p.IsNumber() {
		c.tell(at, path+" is a word, not a number", "")
	}
}
