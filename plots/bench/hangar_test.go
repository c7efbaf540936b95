package bench

import (
	"context"
	"errors"
	"reflect"
	"slices"
	"sync"
	"testing"
	"time"

	"hotclimb/sim"
	legs "hotclimb/sim/flight"
)

// ready is a case of the small scenario.
func ready(t testing.TB, name string) readyCase {
	t.Helper()
	s, err := newServer(smallBench(t))
	if err != nil {
		t.Fatal(err)
	}
	st, err := s.state(nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range st.cases {
		if k.Name == name {
			return k
		}
	}
	t.Fatalf("no case %s", name)
	return readyCase{}
}

// TestShared: those who want the same flight get the same, and it is flown once.
func TestShared(t *testing.T) {
	k := ready(t, "hot")
	h := newHangar(1)
	h.places <- struct{}{} // nothing flies until all wait
	results := make([]*sim.Result, 20)
	var all sync.WaitGroup
	for i := range results {
		all.Go(func() { results[i], _ = h.fly(context.Background(), k.key, k.plant, sim.Settings{}) })
	}
	for wanted(h) < len(results) {
		time.Sleep(time.Millisecond)
	}
	<-h.places
	all.Wait()
	again, err := h.fly(context.Background(), k.key, k.plant, sim.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range results {
		if r != again || r == nil {
			t.Fatal("flown more than once")
		}
	}
	if len(h.flying) > 0 || len(h.places) > 0 {
		t.Errorf("%d flights and %d places are left", len(h.flying), len(h.places))
	}
}

// wanted is how many wait for flights.
func wanted(h *hangar) int {
	h.mu.Lock()
	defer h.mu.Unlock()
	n := 0
	for _, f := range h.flying {
		n += f.wanted
	}
	return n
}

// TestGone: a flight that nobody waits for any more gives its place back, whether
// it waits or flies, and one that somebody else waits for goes on.
func TestGone(t *testing.T) {
	k := ready(t, "hot")
	h := newHangar(1)
	h.places <- struct{}{}
	early, leave := context.WithCancel(context.Background())
	var all sync.WaitGroup
	var gone, patient error
	all.Go(func() { _, gone = h.fly(early, k.key, k.plant, sim.Settings{}) })
	all.Go(func() { _, patient = h.fly(context.Background(), k.key, k.plant, sim.Settings{}) })
	all.Go(func() { _, _ = h.fly(early, "other", k.plant, sim.Settings{}) })
	for wanted(h) < 3 {
		time.Sleep(time.Millisecond)
	}
	leave()
	for wanted(h) > 1 {
		time.Sleep(time.Millisecond)
	}
	<-h.places
	all.Wait()
	if !errors.Is(gone, context.Canceled) || patient != nil {
		t.Errorf("who left has %v, who waited has %v", gone, patient)
	}
	if _, kept := h.flown.find("other"); kept || len(h.flying) > 0 {
		t.Error("a flight for nobody is kept")
	}
}

// TestLongHistory: time histories that are too long to be kept do not fill the
// memory, and the flight is there for who asked.
func TestLongHistory(t *testing.T) {
	k := ready(t, "hot")
	for interval, want := range map[float64]bool{sampleInterval: true, 0.1: false} {
		h := newHangar(1)
		r, err := h.fly(t.Context(), k.key, k.plant, sim.Settings{Sample: interval})
		if err != nil || r == nil {
			t.Fatal(err)
		}
		if n := len(r.Trajectory.Channels[0].Values); n > mostSamples == want {
			t.Fatalf("%d samples", n)
		}
		if _, kept := h.flown.find(k.key + sampled); kept != want || len(h.flying) > 0 {
			t.Errorf("every %v s: kept is %v, %d in the air", interval, kept, len(h.flying))
		}
	}
}

// TestBrokenOff: a flight in the air ends when nobody wants it.
func TestBrokenOff(t *testing.T) {
	k := ready(t, "cool")
	long := *k.plant
	leg := k.plant.Legs[0]
	leg.HasAltitude, leg.Duration, leg.Prescribed, leg.RateOfClimb = false, 600, true, 0
	long.Legs = slices.Repeat([]legs.Leg{leg}, 5000) // some seconds of flying
	h := newHangar(1)
	ctx, cancel := context.WithCancel(context.Background())
	time.AfterFunc(100*time.Millisecond, cancel)
	if r, err := h.fly(ctx, "long", &long, sim.Settings{}); !errors.Is(err, context.Canceled) {
		t.Fatalf("it ends by itself: %+v, %v", r, err)
	}
	deadline := time.Now().Add(2 * time.Second)
	for len(h.places) > 0 {
		if time.Now().After(deadline) {
			t.Fatal("it flies on")
		}
		time.Sleep(time.Millisecond)
	}
}

// TestSampledAlike: a time history changes nothing else of a result, so that it
// does not matter which of a state's flights were flown with one.
func TestSampledAlike(t *testing.T) {
	for _, name := range []string{"tug", "rotary", "seaplane"} {
		s, err := newServer(builtin(t, name))
		if err != nil {
			t.Fatal(err)
		}
		st, err := s.state(nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, k := range st.cases {
			plain, err := sim.Run(t.Context(), k.plant, sim.Settings{})
			if err != nil {
				t.Fatal(err)
			}
			sampled, err := sim.Run(t.Context(), k.plant, sim.Settings{Sample: sampleInterval})
			if err != nil {
				t.Fatal(err)
			}
			sampled.Trajectory, sampled.Evaluations = nil, plain.Evaluations
			if !reflect.DeepEqual(plain, sampled) {
				t.Errorf("%s, %s: sampled it is another result", name, k.Name)
			}
		}
	}
}

// TestKept: the values asked for last stay.
func TestKept(t *testing.T) {
	k := newKept[int](2)
	k.keep("a", 1)
	k.keep("b", 2)
	k.find("a")
	k.keep("c", 3)
	k.keep("c", 4)
	for key, want := range map[string]int{"a": 1, "b": 0, "c": 4} {
		if got, ok := k.find(key); got != want || ok != (want > 0) {
			t.Errorf("%s is %d, %v", key, got, ok)
		}
	}
	if len(k.order) != 2 || len(k.values) != 2 {
		t.Errorf("%d keys, %d values", len(k.order), len(k.values))
	}
}
