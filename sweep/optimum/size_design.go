package optimum

import (
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"sync"

	"golang.org/x/sync/errgroup"
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

// attempt is a design that is being flown, or was.
type attempt struct {
	once   sync.Once
	design *Design
	err    error
}

// design flies the factors at x in every case, once: asked again it gives what
// it gave. nil stands for the file.
func (p *sizer) design(ctx context.Context, x []float64) (*Design, error) {
	key := keyOf(x)
	for {
		a := p.attempt(key)
		a.once.Do(func() { a.design, a.err = p.flyAll(ctx, x) })
		if !errors.Is(a.err, context.Canceled) {
			return a.design, a.err
		}
		p.forget(key, a) // being broken off says nothing of the design
		if err := ctx.Err(); err != nil {
			return nil, err
		}
	}
}

// attempt is that at a design, a new one when there was none.
func (p *sizer) attempt(key string) *attempt {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.known[key] == nil {
		p.known[key] = &attempt{}
	}
	return p.known[key]
}

// forget takes an attempt away, unless another one has taken its place.
func (p *sizer) forget(key string, a *attempt) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.known[key] == a {
		delete(p.known, key)
	}
}

func keyOf(x []float64) string {
	var key []byte
	for _, v := range x {
		key = binary.LittleEndian.AppendUint64(key, math.Float64bits(v))
	}
	return string(key)
}

// flyAll flies the factors at x in every case. A flight that keeps its margins
// because it does not get where it should is no answer, but the file may be one.
func (p *sizer) flyAll(ctx context.Context, x []float64) (*Design, error) {
	d, err := p.flyCases(ctx, func(ctx context.Context, k int) (Flight, error) { return p.fly(ctx, k, x) })
	if err != nil {
		return nil, err
	}
	for k := range d.Flights {
		if f := &d.Flights[k]; x != nil && f.Incomplete != "" && math.Min(f.Margin(), f.BoilMargin) >= 0 {
			return nil, fmt.Errorf("case %s: leg %s does not reach its end", p.Cases[k].Name, f.Incomplete)
		}
	}
	d.X = x
	return d, nil
}

// flyCases is the design of one flight of every case. No more flights than
// Workers are in the air at once, whoever asks for them.
func (p *sizer) flyCases(ctx context.Context, fly func(ctx context.Context, k int) (Flight, error)) (*Design, error) {
	d := &Design{Flights: make([]Flight, len(p.Cases))}
	g, ctx := errgroup.WithContext(ctx)
	for k := range p.Cases {
		g.Go(func() error {
			p.slots <- struct{}{}
			defer func() { <-p.slots }()
			if err := ctx.Err(); err != nil {
				return err
			}
			var err error
			if d.Flights[k], err = fly(ctx, k); err != nil {
				return fmt.Errorf("case %s: %w", p.Cases[k].Name, err)
			}
			p.count()
			return nil
		})
	}
	if err := g.Wait(); err != nil {
		return nil, err
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

// count counts a flight.
func (p *sizer) count() {
	p.flights.Add(1)
	if p.Flown != nil {
		p.Flown()
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
	switch p.Minimise {
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
