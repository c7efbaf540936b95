package optimum

import (
	"context"
	"slices"
)

// Price is what one more step of margin costs where a limit decides.
type Price struct {
	Limit      int
	Multiplier float64 // of the objective as a share of that of the file, per kelvin [1/K]
	Step       float64 // by which the margin was raised to see what it costs [K]
	Fits       bool    // the raised margin can be kept
	Design     Design  // with the raised margin
}

// price searches again with each limit that decides raised by one step.
func (p *sizer) price(ctx context.Context, out *Sized) error {
	own := p.limits
	defer func() { p.limits = own }()
	for i := range out.Prices {
		c := &out.Prices[i]
		c.Step = orDefault(p.Step, 1)
		p.limits = slices.Clone(own)
		p.limits[c.Limit].Needs += c.Step
		sol, err := p.minimise(ctx, out.Best.X, out)
		if err != nil {
			return err
		}
		d, err := p.design(ctx, sol.X)
		if err != nil {
			return err
		}
		c.Fits, c.Design = sol.Feasible, *d
	}
	return nil
}
