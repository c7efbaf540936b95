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

// cureOf is what a report says of a ranking, and of a sizing where there is one.
func cureOf(k *ranking, z *sized) (clause string, beside []string) {
	r := &reporting{flown: &flightsFinding{of: &outcome{cases: make([]*flown, 2)}}}
	if k != nil {
		r.parts = append(r.parts, &part{word: rankPart, finding: &rankFinding{of: k}})
	}
	if z != nil {
		r.parts = append(r.parts, &part{word: sizePart, finding: &sizeFinding{z}})
	}
	return r.cure()
}

func TestReportCure(t *testing.T) {
	stand := func(tow float64) sweep.Stand { return standing([2]float64{tow, 5}, [2]float64{6, 9}) }
	over := stand(-3)
	change := func(name string, tow float64, p sweep.Price) sweep.Single {
		return priced(name, over, stand(tow), "exits."+name+".area", p)
	}
	dear := change("dear", 4, sweep.Price{Cost: 50, Hours: 1, Weight: 1})
	cheap := change("cheap", 2.5, sweep.Price{Cost: 20, Hours: 9, Weight: 2})
	quick := change("quick", 2.5, sweep.Price{Cost: 20, Hours: 1, Weight: 3})
	light := change("light", 2.5, sweep.Price{Cost: 20, Hours: 1, Weight: 0.5})
	thin := change("thin", 1, sweep.Price{Hours: 2})
	weak := change("weak", -1, sweep.Price{Cost: 1})
	flies := priced("flies", over, stand(2.5), "flight.legs.tow.speed", sweep.Price{})
	slow := priced("slow", over, stand(-1), "flight.legs.tow.throttle", sweep.Price{})
	broken := change("broken", 4, sweep.Price{})
	broken.NewIncomplete = []int{0}
	boils := change("boils", 4, sweep.Price{})
	boils.Flown[1].BoilMargin = -0.1
	idle := change("idle", 4, sweep.Price{})
	idle.Applied = false
	paired := func(first, second sweep.Single, tow float64, p sweep.Price) *ranking {
		k := rankingOf(over, first, second)
		k.Pairs = []sweep.Pair{{First: 0, Second: 1, Price: p, Effect: tried("", over, stand(tow), "").Effect}}
		return k
	}
	both := sweep.Price{Cost: 51, Hours: 2, Weight: 1}
	const byFlying = "flies (Title of flies) would cure it, but changes how the aircraft is flown, not what is built; it leaves 2.5 K (coolant, tow)."
	for _, c := range []struct {
		name, clause string
		beside       []string
		k            *ranking
		z            *sized
	}{
		{"cheapest", "the cheapest cure is light (Title of light): cost 20, 1 hour, 0.50 kg, and leaves 2.5 K (coolant, tow)", nil,
			rankingOf(over, weak, dear, cheap, quick, light, broken, boils, idle), sizedTo(t, true, "tow", "taxi")},
		{"built and flown", "the cheapest cure is dear (Title of dear): cost 50, 1 hour, 1.00 kg, and leaves 4.0 K (coolant, tow)", []string{byFlying},
			rankingOf(over, flies, dear), nil},
		{"thin", "the cheapest cure is thin (Title of thin): no cost given, 2 hours, 0.00 kg, and leaves 1.0 K (coolant, tow), less than an estimate can promise",
			[]string{"The cheapest that leaves 2.0 K or more is light (Title of light): cost 20, 1 hour, 0.50 kg, and leaves 2.5 K (coolant, tow).", "Other sizes leave more: exits.aft_ring.area 100 in², which leave 2.0 K."},
			rankingOf(over, thin, dear, light), sizedTo(t, true, "tow", "taxi")},
		{"thin alone", "the cheapest cure is thin ", []string{"Other sizes leave more: exits.aft_ring.area 100 in², which leave 2.0 K."},
			rankingOf(over, thin), sizedTo(t, true, "tow", "taxi")},
		{"thin, and sizes for some", "the cheapest cure is thin ", nil, rankingOf(over, thin), sizedTo(t, true, "tow")},
		{"thin, and none fits", "the cheapest cure is thin ", nil, rankingOf(over, thin), sizedTo(t, false, "tow", "taxi")},
		{"thin, and a pair", "the cheapest cure is thin ", []string{"The cheapest that leaves 2.0 K or more is thin (Title of thin) with weak (Title of weak): cost 51, 2 hours, 1.00 kg, and leaves 3.0 K (coolant, tow)."},
			paired(thin, weak, 3, both), nil},
		{"pair", "no single change to what is built cures it, and the cheapest pair that does is weak (Title of weak) with idle (Title of idle): cost 51, 2 hours, 1.00 kg, and leaves 3.0 K (coolant, tow)", nil,
			paired(weak, idle, 3, both), nil},
		{"flown alone", "no change to what is built cures it", []string{byFlying}, rankingOf(over, weak, flies), nil},
		{"flown alone, in a pair too", "no change to what is built cures it", []string{byFlying}, paired(weak, flies, 3, both), nil},
		{"a pair half flown", "no change to what is built cures it", []string{"weak (Title of weak) with slow (Title of slow) would cure it, but changes how the aircraft is flown as well as what is built; it leaves 1.0 K (coolant, tow), less than an estimate can promise."},
			paired(weak, slow, 1, both), nil},
		{"sizes", "no change that is listed cures it, but other sizes do: exits.aft_ring.area 100 in², which leave 2.0 K", nil, rankingOf(over, weak, broken, idle), sizedTo(t, true, "tow", "taxi")},
		{"some sizes", "no change that is listed cures it; other sizes cure tow", nil, rankingOf(over, weak), sizedTo(t, true, "tow")},
		{"no sizes", "no change that is listed cures it, and within their bounds no sizes do", nil, rankingOf(over, weak), sizedTo(t, false, "tow")},
		{"nothing", "no change that is listed cures it", nil, rankingOf(over, weak, boils), nil},
		{"none listed", "the scenario lists no changes", nil, rankingOf(over), nil},
		{"not looked for", "what cures it was not looked for", nil, nil, nil},
	} {
		clause, beside := cureOf(c.k, c.z)
		if short := strings.HasSuffix(c.clause, " "); clause != c.clause && (!short || !strings.HasPrefix(clause, c.clause)) {
			t.Errorf("%s: %q, want %q", c.name, clause, c.clause)
		}
		if !slices.Equal(beside, c.beside) {
			t.Errorf("%s: beside it %q, want %q", c.name, beside, c.beside)
		}
	}
	failed := &reporting{parts: []*part{{word: rankPart, why: []string{"it failed"}}}}
	if clause, _ := failed.cure(); clause != "what cures it could not be told (see below)" {
		t.Errorf("a ranking that failed: %q", clause)
	}
}
