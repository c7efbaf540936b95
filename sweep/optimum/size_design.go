package optimum

import (
	"context"
	"fmt"
	"math"
	"sync"
)

// Design is one set of values of the factors, flown in every case.
type Design struct {
	X       []float64 // values of the factors, SI
	Flights []Flight  // by case
	Values  []float64 // of what each limit bounds from below, in the order of Sized.Limits
	Area    float64   // of the openings that vary, of all when none does; in the first case [m²]
	AllArea float64   // of all openings, in the first case [m²]
	Drag    float64   // cooling-drag power, the mean of the cases that fly [W]
}

// design is a set of values flown in every case, with all that a Design tells. nil
// stands for the file.
func (p *sizer) design(ctx context.Context, x []float64) (*Design, error) {
	d, err := p.flyCases(func(k int) (Flight, error) { return p.flight(ctx, flightOf{k, x, true}) })
	if err != nil {
		return nil, err
	}
	d.X = x
	return d, nil
}

// peaks is a set of values flown in the cases that are awake, with no more than a
// search asks for: what limits bound in the others is far away, and the drag is
// only known when it is what is made small.
func (p *sizer) peaks(ctx context.Context, x []float64) (*Design, error) {
	d, err := p.flyCases(func(k int) (Flight, error) {
		if !p.awake[k] {
			return Flight{}, nil
		}
		return p.flight(ctx, flightOf{k, x, p.goal != OpeningArea})
	})
	if err != nil {
		return nil, err
	}
	for i, l := range p.limits {
		if !p.awake[l.Case] {
			d.Values[i] = math.Inf(1)
		}
	}
	d.X = x
	return d, nil
}

// flyCases is the design of one flight of every case. When several fail, the error
// is that of the first.
func (p *sizer) flyCases(fly func(k int) (Flight, error)) (*Design, error) {
	d, failed := &Design{Flights: make([]Flight, len(p.Cases))}, make([]error, len(p.Cases))
	var all sync.WaitGroup
	for k := range p.Cases {
		all.Go(func() { d.Flights[k], failed[k] = fly(k) })
	}
	all.Wait()
	for k, err := range failed {
		if err != nil {
			return nil, fmt.Errorf("case %s: %w", p.Cases[k].Name, err)
		}
	}
	p.measure(d)
	return d, nil
}

// measure fills in what follows from the flights of a design.
func (p *sizer) measure(d *Design) {
	d.Area, d.AllArea, d.Drag = d.Flights[0].Area, d.Flights[0].AllArea, meanOfFlown(d.Flights)
	d.Values = make([]float64, len(p.limits))
	for i := range p.limits {
		d.Values[i] = p.limits[i].value(&d.Flights[p.limits[i].Case])
	}
}

// meanOfFlown is the mean drag power of the cases that leave the ground.
func meanOfFlown(flights []Flight) float64 {
	sum, n := 0.0, 0.0
	for i := range flights {
		if f := &flights[i]; f.MeanDrag != 0 {
			sum, n = sum+f.MeanDrag, n+1
		}
	}
	return sum / math.Max(n, 1)
}

// objective is what is made small.
func (p *sizer) objective(d *Design) float64 {
	area, drag := d.Area/unitOf(p.present.Area), d.Drag/unitOf(p.present.Drag)
	switch p.goal {
	case OpeningArea:
		return area
	case CoolingDrag:
		return drag
	}
	return p.AreaShare*area + (1-p.AreaShare)*drag
}

// unitOf is what measures a quantity that has this value in the file.
func unitOf(filed float64) float64 {
	if filed > 0 {
		return filed
	}
	return 1
}
