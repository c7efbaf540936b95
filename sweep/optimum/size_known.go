package optimum

import (
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"sync"
	"sync/atomic"
)

// hangar flies, no more at a time than there are workers, and knows what was flown.
type hangar struct {
	slots   chan struct{} // one for each flight that may be in the air
	flights atomic.Int64
	flown   func() // called after each flight, unless it is nil

	mu    sync.Mutex
	known map[string]*attempt
}

func newHangar(workers int, flown func()) *hangar {
	return &hangar{slots: make(chan struct{}, max(workers, 1)), flown: flown, known: map[string]*attempt{}}
}

// flightOf is one flight of a design.
type flightOf struct {
	k       int       // case
	x       []float64 // values of the factors; nil: as filed
	sampled bool      // with what its drag is known by
}

// key tells flights apart.
func (f *flightOf) key() string {
	key := binary.LittleEndian.AppendUint32(nil, uint32(f.k))
	if f.sampled {
		key = append(key, 's')
	}
	for _, v := range f.x {
		key = binary.LittleEndian.AppendUint64(key, math.Float64bits(v))
	}
	return string(key)
}

// attempt is a flight that is being flown, or was.
type attempt struct {
	once   sync.Once
	flight Flight
	err    error
}

// flight flies once: asked again it gives what it gave. A flight that keeps its
// margins because it does not get where it should is no answer, but the file may
// be one.
func (p *sizer) flight(ctx context.Context, of flightOf) (Flight, error) {
	key := of.key()
	for {
		a := p.attempt(key)
		a.once.Do(func() {
			a.flight, a.err = p.inTheAir(ctx, func() (Flight, error) { return p.fly(ctx, of) })
			if f := &a.flight; a.err == nil && of.x != nil && f.Incomplete != "" && math.Min(f.Margin(), f.BoilMargin) >= 0 {
				a.err = fmt.Errorf("leg %s does not reach its end", f.Incomplete)
			}
		})
		if !errors.Is(a.err, context.Canceled) {
			return a.flight, a.err
		}
		p.forget(key, a) // being broken off says nothing of the design
		if err := ctx.Err(); err != nil {
			return Flight{}, err
		}
	}
}

// inTheAir flies when there is a slot, and counts the flight.
func (h *hangar) inTheAir(ctx context.Context, fly func() (Flight, error)) (Flight, error) {
	h.slots <- struct{}{}
	defer func() { <-h.slots }()
	if err := ctx.Err(); err != nil {
		return Flight{}, err
	}
	f, err := fly()
	if err == nil {
		h.count()
	}
	return f, err
}

// count counts a flight.
func (h *hangar) count() {
	h.flights.Add(1)
	if h.flown != nil {
		h.flown()
	}
}

// attempt is that at a flight, a new one when there was none.
func (h *hangar) attempt(key string) *attempt {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.known[key] == nil {
		h.known[key] = &attempt{}
	}
	return h.known[key]
}

// forget takes an attempt away, unless another one has taken its place.
func (h *hangar) forget(key string, a *attempt) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.known[key] == a {
		delete(h.known, key)
	}
}
