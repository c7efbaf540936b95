package optimum

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sweep"
)

// With bounds too small nothing fits, and every cure that is said to mend its
// limit does: set as the file would have it and flown apart from all that searched
// for it. A tenth less of it does not.
func TestCuresCure(t *testing.T) {
	const small = "../../testdata/script/small.yaml" // has no spray
	tests := []struct {
		file, only, path, bounds string
		coolant, oil             float64
		kinds                    []string
	}{
		{"tug", "hot_tow", "exits.belly.height", "6 in..8 in", 2.8, 1, []string{SprayCure, SpeedCure, PowerCure, CoreCure, DayCure, CoreCure}},
		// With 2.5 % less power than that of the cure it does not reach the top.
		{small, "hot", "exits.belly.area", "30 in^2..70 in^2", 0, 0, []string{SprayCure, PowerCure, DayCure}},
		// Both circuits are broken, and the sprayed core is that of the coolant.
		{"tug", "hot_tow", "exits.belly.height", "4 in..5.5 in", 2.8, 2.8, []string{DayCure, SprayCure, CoreCure}},
	}
	for _, test := range tests {
		s := sizing(t, test.file, test.only, test.path, test.bounds)
		s.CoolantMargin, s.OilMargin = test.coolant, test.oil
		out, err := Size(context.Background(), s)
		if err != nil {
			t.Fatal(err)
		}
		if out.Fits || len(out.Broken) == 0 || out.Build != nil {
			t.Fatalf("fits %t, broken %v", out.Fits, out.Broken)
		}
		var found []string
		for i := range out.Cures {
			if c := &out.Cures[i]; c.Found {
				found = append(found, c.Kind)
				checkCure(t, test.file, &s, out, c)
			}
		}
		if !slices.Equal(found, test.kinds) {
			t.Errorf("%s: cures by %v, want %v", test.file, found, test.kinds)
		}
	}
}

// checkCure checks one cure that is said to mend its limit.
func checkCure(t *testing.T, file string, s *Sizing, out *Sized, c *Cure) {
	t.Helper()
	t.Logf("%s: %s from %.5g to %.5g, still broken %v", c.Kind, c.Moves[0].Param.Path, c.Moves[0].From, c.Moves[0].To, c.Rest)
	whole, less := cured(t, file, s, out, c, 1), cured(t, file, s, out, c, 0.9)
	limit := out.Limits[c.Limit]
	if m := limit.value(&whole); m < limit.Needs || whole.Incomplete != "" {
		t.Errorf("%s: margin %.3f K, %.3f are needed; not to the end of %q", c.Kind, m, limit.Needs, whole.Incomplete)
	}
	if !mendsNothing(out, c, &less) {
		t.Errorf("%s: a tenth less cures as well", c.Kind)
	}
	if c.Kind == SprayCure && math.Abs(whole.WaterUsed-c.Water) > 0.01*c.Water {
		t.Errorf("%.3f kg of water, said to be %.3f kg", whole.WaterUsed, c.Water)
	}
}

// cured is a flight of the least bad design with a share of a cure, each number
// written as people read it.
func cured(t *testing.T, file string, s *Sizing, out *Sized, c *Cure, share float64) Flight {
	t.Helper()
	settings := []scenarios.Setting{{Path: s.Factors[0].Param.Path, Text: scenarios.Exact(out.Best.X[0], "", s.Factors[0].Param.Dimension)}}
	for _, m := range c.Moves {
		settings = append(settings, scenarios.Setting{Path: m.Param.Path, Text: scenarios.Format(m.From+share*(m.To-m.From), m.Param.Unit, m.Param.Dimension)})
	}
	var over []string
	if c.Onto != "" {
		over = []string{filepath.Join(t.TempDir(), "spray.yaml")}
		if err := os.WriteFile(over[0], []byte("spray: {onto: "+c.Onto+", rate: 0 L/min, tank: 0 L}"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if c.Kind == SprayCure {
		settings = append(settings, scenarios.Setting{Path: "spray.tank", Text: "100 L"})
	}
	sc, err := scenarios.LoadFile(file, over)
	if err != nil {
		t.Fatal(err)
	}
	cases, err := sc.EffectiveCases([]string{s.Cases[c.Case].Name}, settings)
	if err != nil {
		t.Fatal(err)
	}
	r, err := sweep.Fly(context.Background(), cases[0].Scenario, sim.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	return Flight{Outcome: sweep.OutcomeOf(r), Powered: r.Worst.Power > 0}
}

// mendsNothing says that a flight breaks one of the limits that a cure is for.
func mendsNothing(out *Sized, c *Cure, f *Flight) bool {
	w := &ward{sizer: out.sizer, limit: out.Limits[c.Limit]}
	for i := range out.Limits {
		if l := &out.Limits[i]; w.aim(&remedy{Cure: *c}, l) && l.value(f) < l.Needs {
			return true
		}
	}
	return false
}

// More margin costs more drag, up to the most that fits, and every point keeps what
// it says.
func TestTradeRises(t *testing.T) {
	s := sizing(t, "rotary", "hot_climb", "exits.aft_ring.area", "50 in^2..160 in^2")
	s.OilMargin = -5
	out, err := Size(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	points, err := out.Trade(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if len(points) < 8 {
		t.Fatalf("%d points", len(points))
	}
	for i, p := range points {
		if least := p.Design.leastMargin(); least < p.Margin-0.01 {
			t.Errorf("point %d keeps %.3f K, not %.3f K", i, least, p.Margin)
		}
		if i > 0 && (p.Margin <= points[i-1].Margin || p.Design.Drag < points[i-1].Design.Drag*(1-1e-4)) {
			t.Errorf("point %d: %.3f K at %.1f W after %.3f K at %.1f W", i, p.Margin, p.Design.Drag, points[i-1].Margin, points[i-1].Design.Drag)
		}
	}
	if out.Limits[0].Needs != s.CoolantMargin || out.sizer.goal != OpeningArea {
		t.Error("the trade has changed the sizing")
	}
}

// A margin kept for doubt is that many standard deviations, and it is kept.
func TestSizeWithDoubt(t *testing.T) {
	s := sizing(t, "rotary", "hot_taxi", "exits.aft_ring.area", "50 in^2..300 in^2")
	s.Doubt = 0.3
	out, err := Size(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	if !out.Fits || out.Rounds < 2 || !out.Settled() {
		t.Errorf("fits %t after %d rounds, moved by %g K", out.Fits, out.Rounds, out.Moved)
	}
	at, err := out.sizer.spread(context.Background(), 0, out.Best.X)
	if err != nil {
		t.Fatal(err)
	}
	for i, sigma := range at.Circuits {
		margin := out.Best.Flights[0].Circuits[i].Margin
		if sigma < 1 || margin < s.Doubt*sigma-0.1 {
			t.Errorf("circuit %d: margin %.2f K, standard deviation %.2f K", i, margin, sigma)
		}
	}
	// Where a margin decides, no more is kept than asked for.
	if slack := out.Slack(&out.Best, out.Prices[0].Limit); math.Abs(slack) > 0.01 {
		t.Errorf("the limit that decides has %.3f K to spare", slack)
	}
}

// What a limit keeps for doubt settles where a deviation falls with the margin that
// is kept, σ = 12 − 0.9 σ' with its rest at 12/1.9, and where it rises, σ = 2 + 0.5 σ'.
func TestDoubtSettles(t *testing.T) {
	for _, line := range [][2]float64{{12, -0.9}, {2, 0.5}, {5, 0}} {
		const times = 1.5
		l := Limit{Needs: 3}
		rounds := 1
		for ; rounds < mostRounds; rounds++ {
			sigma := line[0] + line[1]*l.Spread
			moved := times * math.Abs(sigma-l.Spread)
			l.keep(times, sigma)
			if moved < stillDoubt {
				break
			}
		}
		want := line[0] / (1 - line[1])
		if math.Abs(l.Spread-want) > stillDoubt || math.Abs(l.Needs-3-times*l.Spread) > 1e-12 || rounds == mostRounds {
			t.Errorf("σ = %g%+g σ': %.3f K after %d rounds, want %.3f K; needs %.3f K", line[0], line[1], l.Spread, rounds, want, l.Needs)
		}
	}
}
