package airpath

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// TestCarry: with hotter walls and another heater, Carry leaves flows,
// pressures and densities alone, and the heat is in balance to rounding; the
// places have the temperatures of the solution again with those of before.
func TestCarry(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawing{t}
		n, r, st := d.clean()
		s, err := NewSolver(n)
		if err == nil {
			err = s.Solve(st, r)
		}
		if err != nil {
			t.Fatal(err)
		}
		flow, pressure := slices.Clone(s.Field.Flow), slices.Clone(s.Field.Pressure)
		density, warmth := slices.Clone(s.density), slices.Clone(s.Field.Temperature)
		for j := range n.Places {
			n.Places[j].WallTemp += 10
		}
		r.hot += 20
		s.Carry(st, r)
		if !slices.Equal(flow, s.Field.Flow) || !slices.Equal(pressure, s.Field.Pressure) || !slices.Equal(density, s.density) {
			t.Fatal("flows, pressures or densities changed")
		}
		in, bound := heatIn(n, s, r)
		if out := s.HeatOut(st); !bound && !(math.Abs(out-in) <= 1e-9*max(math.Abs(in), gross(n, s, st))) {
			t.Fatalf("heat out %g, in %g", out, in)
		}
		for j := range n.Places {
			n.Places[j].WallTemp -= 10
		}
		r.hot -= 20
		s.Carry(st, r)
		for j, want := range warmth {
			if got := s.Field.Temperature[j]; math.Abs(got-want) > 1e-6 {
				t.Fatalf("place %d: %.9f, was %.9f", j, got, want)
			}
		}
	})
}

// TestLooseFlowsKeepHeat: exit air drawn back goes round until the inlet takes
// what the exit gives, however early the flows are good enough.
func TestLooseFlowsKeepHeat(t *testing.T) {
	n := wholeDuct(Core{Element: face{0.09, 8}})
	n.Branches[0].Inlet.DrawsBack = 0.5
	n.Places[1].Source = 30e3
	s, err := NewSolver(n)
	if err != nil {
		t.Fatal(err)
	}
	s.Tolerance = 1e-2
	if err := s.Solve(seaLevel(50), nil); err != nil {
		t.Fatal(err)
	}
	near(t, "heat", s.HeatOut(seaLevel(50)), 30e3, 30e3*1e-8)
	near(t, "inlet", s.Field.In[0], 15+0.5*(s.Field.Temperature[1]-15), 1e-6)
}

// TestNoExitAir: rounding that leaves by the only exit is no air to draw back.
func TestNoExitAir(t *testing.T) {
	s := solved(t, wholeDuct(Core{Element: face{0.09, 8}}), seaLevel(50))
	s.Field.Temperature[1] = 100
	near(t, "exit air", s.exitMix(), 100, 1e-6)
	s.Field.Flow[2] = 1e-30
	near(t, "none", s.exitMix(), 15, 1e-6)
}

// against are two cores, one behind the other in the air: a liquid of 1200 W/K
// enters the rear one at a temperature and the front one after that.
type against struct{ hot, taken float64 }

func (a *against) Outlets(flow, tIn, tOut []float64) {
	const front, rear, conductance, liquid = 1, 2, 300.0, 1200.0
	t := a.hot
	a.taken = 0
	for _, i := range []int{rear, front} {
		heat := conductance * (t - tIn[i])
		tOut[i] = tIn[i] + heat/(math.Abs(flow[i])*HeatCapacity)
		t -= heat / liquid
		a.taken += heat
	}
}

// TestLiquidAgainstAir: where the liquid brings heat from the rear core to the front
// one, the place between mixes the air that the front core gives in the end.
func TestLiquidAgainstAir(t *testing.T) {
	n := &Network{
		Places: []Place{{Name: "plenum"}, {Name: "between"}, {Name: "cowl"}},
		Branches: []Branch{
			{Name: "inlet", From: Outside, To: 0, Inlet: &Inlet{Area: 0.05, Recovery: 0.9}},
			{Name: "front", From: 0, To: 1, Core: &Core{Element: face{0.09, 8}}},
			{Name: "rear", From: 1, To: 2, Core: &Core{Element: face{0.09, 8}}},
			{Name: "exit", From: 2, To: Outside, Exit: &Exit{Area: 0.05, Discharge: 0.9}},
		},
	}
	s, err := NewSolver(n)
	if err != nil {
		t.Fatal(err)
	}
	s.Tolerance = 1e-4
	heater, st := &against{hot: 100}, seaLevel(50)
	balanced := func(when string) {
		t.Helper()
		near(t, "heat "+when, s.HeatOut(st), heater.taken, 1e-9*heater.taken)
		near(t, "air between "+when, s.Field.Temperature[1], s.Field.Out[1], 1e-4)
	}
	if err := s.Solve(st, heater); err != nil {
		t.Fatal(err)
	}
	balanced("solved")
	heater.hot = 110
	s.Carry(st, heater)
	balanced("carried")
	heater.hot = 90
	if err := s.Solve(st, heater); err != nil {
		t.Fatal(err)
	}
	balanced("solved again")
}
