package main

import (
	"bytes"
	"context"
	"errors"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"hotclimb/scenarios"
	"hotclimb/sim"
)

// demoPlant is the plant of the first case of the demo.
func demoPlant(t *testing.T) *sim.Plant {
	t.Helper()
	sc, err := scenarios.LoadFile(demo, nil)
	if err != nil {
		t.Fatal(err)
	}
	cases, err := sc.EffectiveCases(nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	plant, err := cases[0].Scenario.Build()
	if err != nil {
		t.Fatal(err)
	}
	return plant
}

func TestPanicBecomesError(t *testing.T) {
	flights := []*flight{{name: "broken"}, {name: "sound", plant: demoPlant(t)}}
	var done atomic.Int32
	fly(context.Background(), flights, 1, func() { done.Add(1) })
	if err := flights[0].err; err == nil || !strings.HasPrefix(err.Error(), "case broken: internal fault") {
		t.Errorf("a flight without a plant gives %v", err)
	}
	if flights[1].err != nil || flights[1].result == nil {
		t.Errorf("its neighbour fails too: %v", flights[1].err)
	}
	if done.Load() != 2 {
		t.Errorf("%d flights done, want 2", done.Load())
	}
}

func TestFlyCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	f := &flight{name: "late", plant: demoPlant(t)}
	fly(ctx, []*flight{f}, 1, func() {})
	if !errors.Is(f.err, context.Canceled) || f.result != nil {
		t.Errorf("got %v, %v", f.result, f.err)
	}
}

// Progress ends whether all steps are made or not, shown or not.
func TestProgressEnds(t *testing.T) {
	for _, steps := range []int{0, 2, 3} {
		for _, terminal := range []bool{true, false} {
			var stderr bytes.Buffer
			s := newScreen(&stderr)
			s.terminal = terminal
			p := &program{err: s}
			g := p.progress("flights", 3, false)
			for range steps {
				g.step()
			}
			ended := make(chan struct{})
			go func() { g.end(); close(ended) }()
			select {
			case <-ended:
			case <-time.After(5 * time.Second):
				t.Fatalf("progress hangs after %d of 3 steps", steps)
			}
			if stderr.Len() > 0 {
				t.Errorf("progress of quick work shows %q", stderr.String())
			}
		}
	}
}
