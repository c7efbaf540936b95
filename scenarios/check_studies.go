package scenarios

import "fmt"

// studyChecker checks the cases and the studies of a scenario: that their paths
// exist in the file or in one of its cases, and that what they set can be flown.
type studyChecker struct {
	checker
	variants []*Scenario // the file without its studies, then the cases
	known    []Faults    // what is wrong with each variant already
}

// checkStudies tells every fault of the cases and the studies.
func (sc *Scenario) checkStudies(bad badPaths) Faults {
	c := &studyChecker{checker: checker{sc: sc, bad: bad}}
	bare := sc.bare()
	c.variants, c.known = []*Scenario{bare}, []Faults{bare.check(bad)}
	for _, k := range sc.Cases {
		c.caseOf(k)
	}
	for _, m := range sc.Changes {
		at := join("changes", join(m.Name, "set"))
		c.settings(at, m.Set)
		c.together(at, m.Set)
	}
	c.sweep()
	c.size()
	for _, t := range sc.Tests {
		at := join("tests", t.Name)
		c.settings(join(at, "set"), t.Set)
		c.together(join(at, "set"), t.Set)
		c.test(at, t)
	}
	for _, n := range sc.Next {
		at := join("next", join(n.Name, "set"))
		c.settings(at, n.Set)
		c.together(at, n.Set)
	}
	c.fit()
	c.correlations()
	return c.faults
}

// caseOf adds a case to the variants and tells what is wrong with it alone.
func (c *studyChecker) caseOf(k *Case) {
	at := join("cases", k.Name)
	own, faults := c.sc.effective(k.Name)
	for _, f := range faults {
		c.tellOf(join(at, "set"), f)
	}
	known := own.check(c.bad)
	var others Faults // than of the day and the flight of the case
	for _, f := range known {
		if k.Day != nil && inside(f.Path, "day") || k.Flight != nil && inside(f.Path, "flight") {
			c.tell(join(at, f.Path), f.Message, f.Hint)
		} else {
			others = append(others, f)
		}
	}
	c.tellNew(join(at, "set"), others, c.known[0])
	c.variants, c.known = append(c.variants, own), append(c.known, known)
}

// tellOf passes on a fault of a setting, at the place of that setting.
func (c *studyChecker) tellOf(at string, f Fault) {
	if !c.bad.hides(f.Path) {
		c.tell(join(at, f.Path), f.Message, f.Hint)
	}
}

// tellNew tells what settings have broken, at the place of the settings.
func (c *studyChecker) tellNew(at string, faults, known Faults) {
	old := map[string]bool{}
	for _, f := range known {
		old[f.Path+f.Message] = true
	}
	for _, f := range faults {
		if !old[f.Path+f.Message] && c.sc.where[at] != (position{}) {
			c.tell(at, fmt.Sprintf("with these settings %s: %s", f.Path, f.Message), f.Hint)
		}
	}
}

// compile finds the first variant that has a path.
func (c *studyChecker) compile(path string) (Param, *Scenario, error) {
	for _, v := range c.variants {
		if v.has(path) {
			p, err := v.Compile(path)
			return p, v, err
		}
	}
	var nearest error
	for _, v := range c.variants {
		_, err := v.Compile(path)
		nearest = nearer(path, nearest, err)
	}
	return Param{}, nil, nearest
}

// settings checks each of the settings of a change or a test by itself.
func (c *studyChecker) settings(at string, set map[string]string) {
	for _, s := range Settings(set) {
		p, v, err := c.compile(s.Path)
		if err != nil {
			c.tellPath(at, s.Path, err)
		} else if message, hint := p.Wrong(v, s.Text); message != "" {
			c.tell(join(at, s.Path), message, hint)
		}
	}
}

// tellPath tells a path that cannot be compiled.
func (c *studyChecker) tellPath(at, path string, err error) {
	c.tellOf(at, asFault(path, err))
}

// together applies all settings of a change to the first variant that has all
// of their paths, and tells what they break.
func (c *studyChecker) together(at string, set map[string]string) {
	if c.bad.hides(at) {
		return
	}
	for i, v := range c.variants {
		if hasUnknownPath(v, set) {
			continue
		}
		trial := v.Clone()
		faults := trial.apply(Settings(set))
		for _, f := range faults {
			c.tellOf(at, f)
		}
		trial.Refill()
		c.tellNew(at, trial.check(c.bad), c.known[i])
		return
	}
}

func hasUnknownPath(sc *Scenario, set map[string]string) bool {
	for path := range set {
		if !sc.has(path) {
			return true
		}
	}
	return false
}

func (c *studyChecker) sweep() {
	if c.sc.Sweep == nil {
		return
	}
	for _, s := range Settings(c.sc.Sweep.Vary) {
		if v, ok := c.vary("sweep.vary", s); ok && v.Values == nil && v.Words == nil && c.sc.Sweep.Design == "grid" {
			c.tell(join("sweep.vary", s.Path), fmt.Sprintf("%q does not say how many values", s.Text), "write LOW..HIGH:COUNT or values separated by commas")
		}
	}
}

func (c *studyChecker) size() {
	if c.sc.Size == nil {
		return
	}
	for _, s := range Settings(c.sc.Size.Vary) {
		if v, ok := c.vary("size.vary", s); ok && (v.Values != nil || v.Words != nil) {
			c.tell(join("size.vary", s.Path), fmt.Sprintf("%q gives no bounds", s.Text), "write LOW..HIGH")
		}
	}
}

// vary reads one line of what varies and tells what is wrong with it.
func (c *studyChecker) vary(at string, s Setting) (VaryRange, bool) {
	p, _, err := c.compile(s.Path)
	if err != nil {
		c.tellPath(at, s.Path, err)
		return VaryRange{}, false
	}
	v, err := ParseVary(s.Text, p)
	if err != nil {
		c.tell(join(at, s.Path), err.Error(), "")
	}
	return v, err == nil
}
