package main

import (
	"bytes"
	"context"
	"errors"
	"strings"
	"testing"

	"hotclimb/plots/bench"
	"hotclimb/plots/report"
	"hotclimb/scenarios"
	"hotclimb/sim"
)

// foundEasily is a finding that flies nothing.
type foundEasily struct {
	fails   error
	sprayed bool
}

func (f *foundEasily) flights() int { return 1 }
func (f *foundEasily) sprays() bool { return f.sprayed }

func (f *foundEasily) find(_ context.Context, step func()) error {
	step()
	return f.fails
}

func (f *foundEasily) blocks() ([]report.Block, error) {
	return []report.Block{report.Text("what was found")}, nil
}

func (f *foundEasily) warnings() []warning {
	return []warning{{"tow", "mind the gap"}, {"taxi", "mind the gap"}}
}

// TestStudyOnPage: what a study found stands above its warnings and cautions.
func TestStudyOnPage(t *testing.T) {
	for _, sprays := range []bool{true, false} {
		var out bytes.Buffer
		job := bench.Job{Out: &out, Progress: func(int, int) {}}
		if err := runStudy(context.Background(), job, &foundEasily{sprayed: sprays}, nil); err != nil {
			t.Fatal(err)
		}
		text := pageWords(out.String())
		if !strings.Contains(text, "what was found warnings tow, taxi mind the gap cautions an estimate") || strings.Contains(text, "water spray has hazards") != sprays {
			t.Errorf("sprayed %t: %s", sprays, text)
		}
	}
}

// TestPartFails: a part that fails says so in its place, and the next one is found.
func TestPartFails(t *testing.T) {
	two := scenarios.Faults{{Path: "a.b", Message: "is wrong"}, {Path: "c.d", Message: "is so too"}}
	r := &reporting{flown: &flightsFinding{of: &outcome{}}, parts: []*part{
		{title: "First", finding: &foundEasily{fails: errors.New("it cannot\nbe")}},
		{title: "Second", finding: &foundEasily{fails: two}},
		{title: "Third", finding: &foundEasily{}},
	}}
	steps := 0
	if err := r.find(context.Background(), func() { steps++ }); err != nil || steps != r.steps()+2 {
		t.Fatalf("%v after %d steps", err, steps)
	}
	for i, want := range []string{"it cannot; be", "this could not be done a.b is wrong c.d is so too", "what was found"} {
		s, err := r.parts[i].section()
		if err != nil {
			t.Fatal(err)
		}
		var out bytes.Buffer
		if err := report.WriteBlocks(&out, s.Blocks...); err != nil {
			t.Fatal(err)
		}
		if text := pageWords(out.String()); text != want {
			t.Errorf("%s: %q, want %q", s.Title, text, want)
		}
	}
}

func TestKindOfFlight(t *testing.T) {
	k := &flown{scenario: &scenarios.Scenario{}, flight: &flight{result: &sim.Result{}}}
	for i, leg := range []string{"taxi", "take_off", "climb", "level"} {
		k.scenario.Flight.Legs = append(k.scenario.Flight.Legs, &scenarios.Leg{Name: leg + "_leg", Kind: leg})
		k.result.Legs = append(k.result.Legs, sim.LegSpan{Name: leg + "_leg", Start: 60 * float64(i), End: 60 * float64(i+1)})
	}
	for time, want := range map[float64]string{30: "flight", 90: "climb", 150: "climb", 200: "flight"} {
		if got := kindOfFlight(k, time); got != want {
			t.Errorf("at %g s: %s, want %s", time, got, want)
		}
	}
}
