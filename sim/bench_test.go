package sim_test

import (
	"context"
	"testing"

	"hotclimb/scenarios"
	"hotclimb/sim"
)

// builtIn builds a case of a built-in scenario with settings.
func builtIn(t testing.TB, file, name string, set ...scenarios.Setting) *sim.Plant {
	t.Helper()
	sc, err := scenarios.LoadFile(file, nil)
	if err != nil {
		t.Fatal(err)
	}
	cases, err := sc.EffectiveCases([]string{name}, set)
	if err != nil {
		t.Fatal(err)
	}
	p, err := cases[0].Scenario.Build()
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// climbFor is the tow of the tug, climbing slowly for a time.
func climbFor(t testing.TB, time string) *sim.Plant {
	p := builtIn(t, "tug", "hot_tow",
		scenarios.Setting{Path: "flight.legs.tow.for", Text: time},
		scenarios.Setting{Path: "flight.legs.tow.rate_of_climb", Text: "200 ft/min"},
		scenarios.Setting{Path: "flight.legs.tow.to_altitude", Text: "20000 ft"})
	p.Legs = p.Legs[2:3]
	return p
}

func probe(t testing.TB, file, name string, leg int, set ...scenarios.Setting) *sim.Probe {
	t.Helper()
	p, err := sim.NewProbe(builtIn(t, file, name, set...), leg)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// allocations counts those of one run.
func allocations(t testing.TB, p *sim.Plant) float64 {
	t.Helper()
	return testing.AllocsPerRun(5, func() {
		if _, err := sim.Run(context.Background(), p, sim.Settings{}); err != nil {
			t.Fatal(err)
		}
	})
}

// TestNoAllocations: neither derivative, Jacobian nor air field allocate, dry
// and wet, with and without a plate exchanger.
func TestNoAllocations(t *testing.T) {
	spray := scenarios.Setting{Path: "spray.rate", Text: "0.5 L/min"}
	wet := probe(t, "tug", "hot_tow", 2, spray)
	wet.Spray()
	dfdy := make([]float64, sim.States*sim.States)
	for name, p := range map[string]*sim.Probe{
		"tug": probe(t, "tug", "hot_tow", 2), "tug, spraying": wet,
		"rotary": probe(t, "rotary", "hot_climb", 2), "seaplane": probe(t, "seaplane", "hot_climb", 2),
	} {
		for stage, f := range map[string]func() error{
			"derivative": p.Derivative, "air field": p.AirPath, "air field from scratch": p.AirPathCold,
			"Jacobian": func() error { return p.Jacobian(dfdy) },
		} {
			if n := testing.AllocsPerRun(100, func() {
				if err := f(); err != nil {
					t.Fatal(err)
				}
			}); n != 0 {
				t.Errorf("%s: %g allocations of the %s", name, n, stage)
			}
		}
	}
}

// TestAllocationsOfARun: those of a run do not grow with its length.
func TestAllocationsOfARun(t *testing.T) {
	// Both pass the same events, in the first minutes.
	short, long := allocations(t, climbFor(t, "15 min")), allocations(t, climbFor(t, "90 min"))
	t.Logf("%g in a quarter, %g in one and a half hours of climb", short, long)
	if long > short {
		t.Errorf("%g in a quarter, %g in one and a half hours of climb", short, long)
	}
}

// TestLongClimb: the flight of the benchmark is what it says.
func TestLongClimb(t *testing.T) {
	p := climbFor(t, "20 min")
	r := run(t, p, sim.Settings{Sample: 60})
	if end := r.Legs[0].End; end != 1200 || len(r.Legs) != 1 {
		t.Errorf("%v", r.Legs)
	}
	h := r.Trajectory.Find("altitude_m").Values
	near(t, "climb", h[len(h)-1]-h[0], 4000*0.3048, 1e-3)
}

func BenchmarkClimb20Minutes(b *testing.B) {
	p := climbFor(b, "20 min")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := sim.Run(context.Background(), p, sim.Settings{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkHotTow(b *testing.B) {
	p := builtIn(b, "tug", "hot_tow")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := sim.Run(context.Background(), p, sim.Settings{}); err != nil {
			b.Fatal(err)
		}
	}
}

func benchmark(b *testing.B, f func() error) {
	b.ReportAllocs()
	for b.Loop() {
		if err := f(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDerivative(b *testing.B) { benchmark(b, probe(b, "tug", "hot_tow", 2).Derivative) }

func BenchmarkAirPath(b *testing.B) { benchmark(b, probe(b, "tug", "hot_tow", 2).AirPath) }

func BenchmarkAirPathCold(b *testing.B) { benchmark(b, probe(b, "tug", "hot_tow", 2).AirPathCold) }

func BenchmarkJacobian(b *testing.B) {
	p, dfdy := probe(b, "tug", "hot_tow", 2), make([]float64, sim.States*sim.States)
	benchmark(b, func() error { return p.Jacobian(dfdy) })
}
