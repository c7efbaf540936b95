package calibrate

import (
	"context"
	"encoding/binary"
	"errors"
	"math"
	"sync"

	"hotclimb/scenarios"
)

// flights are those of a record so far, by the parameters that change them. A
// temperature at the start changes its own record alone, a gauge no flight. What
// is kept of one are the temperatures at the sensors, 7 kB for a quarter of an
// hour.
type trips struct {
	sync.Mutex
	of map[string]*trip
}

type trip struct {
	once  sync.Once
	trace *Trace
	err   error
}

// evaluate puts the weighted residuals at x into r, model less reading over the
// noise of the gauge, in the order of the records and their readings.
func (f *fitting) evaluate(ctx context.Context, x, r []float64) error {
	errs := make([]error, len(f.Records))
	var done sync.WaitGroup
	from := 0
	for i, record := range f.Records {
		out := r[from : from+len(record.Readings)]
		from += len(record.Readings)
		done.Go(func() { errs[i] = f.residuals(ctx, i, x, out) })
	}
	done.Wait()
	if ctx.Err() != nil {
		return ctx.Err()
	}
	return errors.Join(errs...)
}

// residuals are those of a record.
func (f *fitting) residuals(ctx context.Context, i int, x, r []float64) error {
	t, err := f.trace(ctx, i, x)
	if err != nil {
		return err
	}
	record := f.Records[i]
	for k, m := range record.Readings {
		r[k] = (t.Of(m) - m.Value) / record.Gauge(m.Circuit).Noise.Value
	}
	return nil
}

// trace is what the model makes of a record at x.
func (f *fitting) trace(ctx context.Context, i int, x []float64) (*Trace, error) {
	flown, err := f.fly(ctx, i, x)
	if err != nil {
		return nil, err
	}
	g := f.Records[i].Scenario.Gauges
	gauges := [2]scenarios.Gauge{g.Coolant, g.Oil}
	for k, u := range f.numbers {
		switch {
		case !u.acts[i]:
		case u.part == biasPart:
			gauges[u.circuit].Bias.Value = x[k]
		case u.part == lagPart:
			gauges[u.circuit].Lag.Value = x[k]
		}
	}
	t := &Trace{Times: flown.Times, Sensor: flown.Sensor}
	t.read(gauges)
	return t, nil
}

// fly flies a record at x, or returns that flight from before.
func (f *fitting) fly(ctx context.Context, i int, x []float64) (*Trace, error) {
	all, key := &f.flights[i], f.key(i, x)
	all.Lock()
	one, ok := all.of[key]
	if !ok {
		if all.of == nil {
			all.of = map[string]*trip{}
		}
		one = &trip{}
		all.of[key] = one
	}
	all.Unlock()
	one.once.Do(func() { one.trace, one.err = f.flyNow(ctx, i, x) })
	return one.trace, one.err
}

// key names what of x changes the flight of a record.
func (f *fitting) key(i int, x []float64) string {
	var b []byte
	for k, v := range x {
		if f.flies(k, i) {
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
		}
	}
	return string(b)
}

// flies says that parameter k changes the flight of record i.
func (f *fitting) flies(k, i int) bool {
	if n := len(f.numbers); k >= n {
		return f.starts[k-n].record == i
	}
	return f.numbers[k].part == noPart && f.numbers[k].acts[i]
}

// flyNow flies a record at x when a slot is free.
func (f *fitting) flyNow(ctx context.Context, i int, x []float64) (*Trace, error) {
	select {
	case f.slots <- struct{}{}:
	case <-ctx.Done():
		return nil, ctx.Err()
	}
	defer func() { <-f.slots }()
	sc, err := f.aircraft(i, x)
	if err != nil {
		return nil, err
	}
	begin := [2]float64{f.Records[i].Start[0].Value, f.Records[i].Start[1].Value}
	for k, s := range f.starts {
		if s.record == i {
			begin[s.circuit] = x[len(f.numbers)+k]
		}
	}
	t, err := f.Records[i].Fly(ctx, sc, Conditions{Start: &begin, RelTol: fitTol})
	if err != nil {
		return nil, err
	}
	if f.Flown != nil {
		f.Flown()
	}
	return &Trace{Times: t.Times, Sensor: t.Sensor}, nil
}

// aircraft is that of a record with the numbers of x that act on it.
func (f *fitting) aircraft(i int, x []float64) (*scenarios.Scenario, error) {
	return f.Records[i].Scenario.Edit(func(c *scenarios.Scenario) error {
		for k, u := range f.numbers {
			if !f.flies(k, i) {
				continue
			}
			if err := u.param.Set(c, x[k]); err != nil {
				return err
			}
		}
		return nil
	})
}

// flown is how many flights were flown.
func (f *fitting) flown() int {
	n := f.tried
	for i := range f.flights {
		n += len(f.flights[i].of)
	}
	return n
}
