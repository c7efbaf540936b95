package scenarios

// Edit returns a deep copy that change has worked on, with defaults filled anew
// and the whole checked, but for its cases and studies. sc stays as it is and
// may serve several goroutines at once. It is the way of studies that set
// numbers rather than texts.
func (sc *Scenario) Edit(change func(*Scenario) error) (*Scenario, error) {
	c := sc.Clone()
	if err := change(c); err != nil {
		return nil, err
	}
	c.Refill()
	if err := c.check(nil).err(); err != nil {
		return nil, err
	}
	return c, nil
}
