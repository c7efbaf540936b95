package optimum

import "context"

// Price is what one more step of margin costs where a limit decides.
type Price struct {
	Limit      int
	Multiplier float64 // of the objective as a share of that of the file, per kelvin [1/K]
	Step       float64 // by which the margin was raised to see what it costs [K]
	Fits       bool    // the raised margin can be kept
	Design     Design  // with the raised margin
}

// nearby is for a search that starts from an answer to nearly the same.
func nearby() Settings {
	set := settings()
	set.Radius, set.OneSided = 0.1, true
	return set
}

// price searches again with each limit that decides raised by one step.
func (p *sizer) price(ctx context.Context, end found, out *Sized) error {
	for i := range out.Prices {
		c := &out.Prices[i]
		c.Step = orDefault(p.Step, 1)
		q := p.apart()
		q.limits[c.Limit].Needs += c.Step
		more, err := q.minimise(ctx, end, nearby())
		if err != nil {
			return err
		}
		d, err := q.design(ctx, p.values(more.X))
		if err != nil {
			return err
		}
		c.Fits, c.Design = more.Feasible, *d
	}
	return nil
}
