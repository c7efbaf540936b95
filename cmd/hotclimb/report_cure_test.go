package main

import (
	"slices"
	"strings"
	"testing"

	"hotclimb/plots"
	"hotclimb/scenarios"
	"hotclimb/sweep"
	"hotclimb/sweep/optimum"
)

// priced is a change that brings the cases to a stand, at a price.
func priced(name string, base, s sweep.Stand, path string, p sweep.Price) sweep.Single {
	c := tried(name, base, s, path)
	c.Price = p
	return c
}

// sizedTo is a sizing of one opening that holds in some cases, or not.
func sizedTo(t *testing.T, fits bool, cases ...string) *sized {
	t.Helper()
	sc, err := scenarios.LoadFile("rotary", nil)
	if err != nil {
		t.Fatal(err)
	}
	area, err := sc.Compile("exits.aft_ring.area")
	if err != nil {
		t.Fatal(err)
	}
	z := &sized{Sized: &optimum.Sized{Fits: fits}, origin: origin{units: plots.SI}}
	z.Factors = []sweep.Factor{{Param: area}}
	z.Best = optimum.Design{X: []float64{100 * 0.0254 * 0.0254}, Flights: make([]optimum.Flight, len(cases))}
	for i, name := range cases {
		z.Cases = append(z.Cases, scenarios.CaseScenario{Name: name, Scenario: sc})
		z.Best.Flights[i].Circuits[sweep.Coolant].Margin, z.Best.Flights[i].Circuits[sweep.Oil].Margin = 3, 2
	}
	return z
}

func TestReportCure(t *testing.T) {
	over := standing([2]float64{-3, 2}, [2]float64{4, 9})
	holds := standing([2]float64{1, 2}, [2]float64{4, 9})
	short := standing([2]float64{-1, 2}, [2]float64{4, 9})
	dear := priced("dear", over, standing([2]float64{3, 3}, [2]float64{4, 9}), "exits.a.area", sweep.Price{Cost: 50, Hours: 1, Weight: 1})
	cheap := priced("cheap", over, holds, "exits.b.area", sweep.Price{Cost: 20, Hours: 9, Weight: 2})
	quick := priced("quick", over, holds, "exits.c.area", sweep.Price{Cost: 20, Hours: 1, Weight: 3})
	light := priced("light", over, holds, "exits.d.area", sweep.Price{Cost: 20, Hours: 1, Weight: 0.5})
	flies := priced("flies", over, holds, "flight.legs.tow.speed", sweep.Price{})
	weak := priced("weak", over, short, "exits.e.area", sweep.Price{Cost: 1})
	broken := priced("broken", over, holds, "exits.f.area", sweep.Price{})
	broken.NewIncomplete = []int{0}
	idle := priced("idle", over, holds, "exits.g.area", sweep.Price{})
	idle.Applied = false
	paired := rankingOf(over, weak, dear, flies)
	paired.Changes[1].Effect = tried("", over, short, "").Effect
	paired.Pairs = []sweep.Pair{
		{First: 0, Second: 2, Effect: tried("", over, holds, "").Effect},
		{First: 0, Second: 1, Price: sweep.Price{Cost: 51, Hours: 2}, Effect: tried("", over, holds, "").Effect},
	}
	for _, c := range []struct {
		name, clause, beside string
		k                    *ranking
		z                    *sized
	}{
		{"cheapest", "the cheapest cure is light (Title of light): cost 20, 1 hour, 0.50 kg, and leaves 1.0 K (coolant, tow)", "",
			rankingOf(over, weak, dear, cheap, quick, light, broken, idle), nil},
		{"flown", "the cheapest cure is dear ", "flies (Title of flies) cures it too, but changes how the aircraft is flown, not what is built; it leaves 1.0 K (coolant, tow).",
			rankingOf(over, flies, dear), nil},
		{"pair", "no single change to what is built cures it, and the cheapest pair that does is weak (Title of weak) with dear (Title of dear): cost 51, 2 hours, ", "flies", paired, nil},
		{"sizes", "no change that is listed cures it, but other sizes do: exits.aft_ring.area 100 in², which leaves 2.0 K", "", rankingOf(over, weak, broken, idle), sizedTo(t, true, "tow", "taxi")},
		{"some sizes", "no change that is listed cures it; other sizes cure tow", "", rankingOf(over, weak), sizedTo(t, true, "tow")},
		{"no sizes", "no change that is listed cures it, and within their bounds no sizes do", "", rankingOf(over, weak), sizedTo(t, false, "tow")},
		{"nothing", "no change that is listed cures it", "", rankingOf(over, weak), nil},
		{"none listed", "the scenario lists no changes", "", rankingOf(over), nil},
		{"not looked for", "what cures it was not looked for", "", nil, nil},
	} {
		r := &reporting{flown: &flightsFinding{of: &outcome{cases: make([]*flown, 2)}}}
		if c.k != nil {
			r.parts = append(r.parts, &part{word: rankPart, finding: &rankFinding{of: c.k}})
		}
		if c.z != nil {
			r.parts = append(r.parts, &part{word: sizePart, finding: &sizeFinding{c.z}})
		}
		clause, beside := r.cure()
		if !strings.HasPrefix(clause, c.clause) {
			t.Errorf("%s: %q, want %q", c.name, clause, c.clause)
		}
		if (c.beside == "") != (len(beside) == 0) || c.beside != "" && !slices.ContainsFunc(beside, func(s string) bool { return strings.HasPrefix(s, c.beside) }) {
			t.Errorf("%s: beside it %q, want %q", c.name, beside, c.beside)
		}
	}
	failed := &reporting{parts: []*part{{word: rankPart, why: []string{"it failed"}}}}
	if clause, _ := failed.cure(); clause != "what cures it could not be told (see below)" {
		t.Errorf("a ranking that failed: %q", clause)
	}
}
