package bench

import (
	"context"
	"sync"

	"hotclimb/sim"
	"hotclimb/sweep"
)

// What is kept of flights: the last minutes of moving sliders, at some 1 kB for
// each sample of a time history. Longer histories, of three hours and more, are
// flown again.
const (
	mostFlown   = 96
	mostSamples = 2000
)

// hangar flies plants, a few at a time, and keeps what came of the last ones. Two
// that want the same flight share it; it ends early when nobody waits for it any
// more.
type hangar struct {
	places chan struct{} // holds one entry for each flight in the air
	flown  *kept[flown]

	mu     sync.Mutex
	flying map[string]*flight
}

// flown is what came of a flight.
type flown struct {
	result *sim.Result
	err    error
}

// samples is how many the time history has.
func (f *flown) samples() int {
	if f.result == nil || f.result.Trajectory == nil {
		return 0
	}
	return len(f.result.Trajectory.Channels[0].Values)
}

// flight is one under way or waiting for its place.
type flight struct {
	flown  // valid once done is closed
	done   chan struct{}
	cancel context.CancelFunc
	wanted int // by so many
}

func newHangar(places int) *hangar {
	return &hangar{places: make(chan struct{}, places), flown: newKept[flown](mostFlown), flying: map[string]*flight{}}
}

// fly gives the result of flying a plant, the one of a key. The error is that of
// the flight, or that of ctx.
func (h *hangar) fly(ctx context.Context, key string, plant *sim.Plant, set sim.Settings) (*sim.Result, error) {
	if set.Sample > 0 {
		key += sampled
	}
	f, ready := h.board(key, plant, set)
	if f == nil {
		return ready.result, ready.err
	}
	defer h.leave(key, f)
	select {
	case <-f.done:
		return f.result, f.err
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

// sampled marks the keys of flights with a time history. In all else they are as
// those without.
const sampled = " sampled"

// board joins a flight, or starts it. Without one, it is flown already.
func (h *hangar) board(key string, plant *sim.Plant, set sim.Settings) (*flight, flown) {
	h.mu.Lock()
	defer h.mu.Unlock()
	for _, key := range []string{key, key + sampled} {
		if ready, ok := h.flown.find(key); ok {
			return nil, ready
		}
	}
	f := h.flying[key]
	if f == nil {
		ctx, cancel := context.WithCancel(context.Background())
		f = &flight{done: make(chan struct{}), cancel: cancel}
		h.flying[key] = f
		go h.run(ctx, key, f, plant, set)
	}
	f.wanted++
	return f, flown{}
}

// leave says that one no longer waits for a flight.
func (h *hangar) leave(key string, f *flight) {
	h.mu.Lock()
	defer h.mu.Unlock()
	f.wanted--
	if f.wanted == 0 && h.flying[key] == f {
		f.cancel()
		delete(h.flying, key)
	}
}

// run waits for a place, flies, and tells everyone who waits.
func (h *hangar) run(ctx context.Context, key string, f *flight, plant *sim.Plant, set sim.Settings) {
	defer f.cancel()
	defer close(f.done)
	select {
	case h.places <- struct{}{}:
	case <-ctx.Done():
		f.err = ctx.Err()
		return
	}
	f.result, f.err = sweep.FlyPlant(ctx, plant, set)
	<-h.places
	h.mu.Lock()
	defer h.mu.Unlock()
	if ctx.Err() != nil {
		return // nobody wants it any more
	}
	delete(h.flying, key)
	if f.samples() <= mostSamples {
		h.flown.keep(key, f.flown)
	}
}
