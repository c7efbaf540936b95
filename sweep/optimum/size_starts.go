package optimum

import (
	"cmp"
	"context"
	"slices"

	"hotclimb/sweep"
)

// start is where a search may begin.
type start struct {
	name  string
	x     []float64
	merit float64
}

// quasiRandomStarts is how many points of the whole range are tried as starts.
const quasiRandomStarts = 4

// starts are the designs tried first, the best before the others: the file as it
// stands, everything as wide as the bounds allow, and a few points between the
// bounds. A flight that runs away breaks off at a fixed temperature, so that its
// margin does not tell which way is better; a search should not begin there.
func (p *sizer) starts(ctx context.Context) ([]start, error) {
	list, err := p.candidates()
	if err != nil {
		return nil, err
	}
	var flown []start
	for _, s := range list {
		d, failed := p.peaks(ctx, s.x)
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if failed != nil {
			err = failed
			continue
		}
		s.merit = p.objective(d) + d.short(p.limits)
		flown = append(flown, s)
	}
	if len(flown) == 0 {
		return nil, err
	}
	slices.SortStableFunc(flown, func(a, b start) int { return cmp.Compare(a.merit, b.merit) })
	return flown, nil
}

// candidates are the places where a search may begin.
func (p *sizer) candidates() ([]start, error) {
	points, err := sweep.NewSobol(len(p.Factors))
	if err != nil {
		return nil, err
	}
	filed, high := slices.Clone(p.present.X), make([]float64, len(p.Factors))
	for i, f := range p.Factors {
		filed[i], high[i] = clamp(filed[i], f.Lo, f.Hi), f.Hi
	}
	list := []start{{name: "the file as it stands", x: filed}, {name: "the upper bounds", x: high}}
	for n := 1; n <= quasiRandomStarts; n++ {
		x := make([]float64, len(p.Factors))
		for i, f := range p.Factors {
			x[i] = f.Lo + points.Coordinate(n, i)*(f.Hi-f.Lo)
		}
		list = append(list, start{name: "a point between the bounds", x: x})
	}
	return list, nil
}
