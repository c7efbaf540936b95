package bench

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"html"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"hotclimb/plots"
	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sweep"
)

// asRun flies what a command line says, as the command run does: one case, with
// settings one after the other.
func asRun(t *testing.T, sc *scenarios.Scenario, command string) (*scenarios.Scenario, *sim.Result) {
	t.Helper()
	out, err := exec.Command("sh", "-c", `printf '%s\n' `+command).Output()
	if err != nil {
		t.Fatal(err)
	}
	list := strings.Split(strings.TrimSuffix(string(out), "\n"), "\n")
	if !slices.Equal(list[:2], []string{"hotclimb", "run"}) {
		t.Fatalf("%s is no run", command)
	}
	var names []string
	var settings []scenarios.Setting
	for i := 3; i+1 < len(list); i += 2 {
		switch list[i] {
		case "--case":
			names = append(names, list[i+1])
		case "--set":
			s, err := scenarios.ParseSetting(list[i+1])
			if err != nil {
				t.Fatal(err)
			}
			settings = append(settings, s)
		default:
			t.Fatalf("%s: what is %s?", command, list[i])
		}
	}
	cases, err := sc.EffectiveCases(names, settings)
	if err != nil {
		t.Fatalf("%s: %v", command, err)
	}
	r, err := sweep.Fly(context.Background(), cases[0].Scenario, sim.Settings{Sample: 5})
	if err != nil {
		t.Fatal(err)
	}
	return cases[0].Scenario, r
}

// quantities are the numbers that run prints of a result.
func quantities(r *sim.Result, u plots.Units) []string {
	w := &r.Worst
	list := []string{
		string(r.Status), plots.Warmth.Show(u, r.BoilMargin) + " at the least",
		plots.Clock(w.Time) + " into the flight at " + plots.Height.Show(u, w.Altitude) + ": outside " + plots.Temperature.Show(u, w.Outside),
		plots.Airspeed.Show(u, w.TrueAirspeed), plots.Power.Show(u, w.Power), plots.ClimbRate.Show(u, w.RateOfClimb),
		plots.Force.Show(u, w.CoolingDrag) + " costs " + plots.Power.Show(u, w.CostPower),
		plots.Force.Show(u, w.InternalDrag), plots.Force.Show(u, w.SpillageDrag), plots.Force.Show(u, w.ExternalDrag),
	}
	for _, k := range r.Peaks {
		list = append(list, ">"+plots.Temperature.In(u).Number(k.Value)+"<", ">"+plots.Clock(k.Time)+"<",
			">"+plots.Height.In(u).Number(k.Altitude)+"<", ">"+plots.Warmth.In(u).Number(k.Margin)+"<",
			">"+plots.Temperature.In(u).Number(k.Caution)+"<", ">"+plots.Temperature.In(u).Number(k.Limit)+"<", ">"+limitTime(&k)+"<")
	}
	for _, x := range r.Exchangers {
		list = append(list, x.Name, ">"+plots.AirFlow.In(u).Number(x.AirFlow)+"<", ">"+plots.Heat.In(u).Number(x.Heat)+"<")
	}
	return append(list, r.Warnings...)
}

// TestNumbersOfRun: what the page shows is what its own command gives, character
// by character, and the command sets what the edits set, no more and no less.
func TestNumbersOfRun(t *testing.T) {
	b := smallBench(t)
	h := handler(t, b)
	for _, c := range []struct{ name, edits, command string }{
		{"cool", ``, `hotclimb run small.yaml --case cool`},
		{
			"hot", `{"path":"exits.belly.area","value":"60 in²"}`,
			`hotclimb run small.yaml --case hot --set "exits.belly.area=60 in²"`,
		},
		{
			"hot", `{"path":"day.temperature","value":"90 degF","case":"hot"},{"path":"day.temperature","value":"20 degF","case":"cool"}`,
			`hotclimb run small.yaml --case hot --set "day.temperature=90 degF"`,
		},
		{
			"hot", `{"path":"inlets.chin.area","value":"60 in^2"},{"path":"inlets.chin.area","value":"55 in^2"}`,
			`hotclimb run small.yaml --case hot --set "inlets.chin.area=55 in^2"`,
		},
		{ // what an area excludes goes
			"cool", `{"path":"exits.belly.width","value":"10 in"},{"path":"exits.belly.height","value":"9 in"},{"path":"exits.belly.area","value":"85 in^2"}`,
			`hotclimb run small.yaml --case cool --set "exits.belly.area=85 in^2"`,
		},
		{ // a change of every case over an edit of one, and the other way round
			"hot", `{"path":"flight.legs.climb.speed","value":"95 mph","case":"hot"},{"change":"fast"}`,
			`hotclimb run small.yaml --case hot --set "flight.legs.climb.speed=100 mph"`,
		},
		{
			"hot", `{"change":"fast"},{"path":"flight.legs.climb.speed","value":"95 mph","case":"hot"}`,
			`hotclimb run small.yaml --case hot --set "flight.legs.climb.speed=95 mph"`,
		},
		{
			"cool", `{"change":"fast"},{"path":"flight.legs.climb.speed","value":"95 mph","case":"hot"}`,
			`hotclimb run small.yaml --case cool --set "flight.legs.climb.speed=100 mph"`,
		},
		{ // the same said twice, and in two cases
			"hot", `{"path":"flight.legs.climb.speed","value":"100 mph","case":"hot"},{"change":"fast"}`,
			`hotclimb run small.yaml --case hot --set "flight.legs.climb.speed=100 mph"`,
		},
		{
			"hot", `{"change":"fast"},{"path":"flight.legs.climb.speed","value":"100 mph","case":"hot"}`,
			`hotclimb run small.yaml --case hot --set "flight.legs.climb.speed=100 mph"`,
		},
		{
			"hot", `{"path":"day.temperature","value":"90 degF","case":"hot"},{"path":"day.temperature","value":"90 degF","case":"cool"}`,
			`hotclimb run small.yaml --case hot --set "day.temperature=90 degF"`,
		},
		{ // weights on the mass
			"cool", `{"change":"wide"},{"change":"heavy_core"}`,
			`hotclimb run small.yaml --case cool --set "exits.belly.area=95 in^2" --set "exchangers.cooler.rating.heat=25 kW" --set "aircraft.mass=1505 lb"`,
		},
		{
			"cool", `{"change":"wide"},{"change":"lean"}`,
			`hotclimb run small.yaml --case cool --set "exits.belly.area=95 in^2" --set "aircraft.mass=1402 lb"`,
		},
		{
			"cool", `{"change":"wide"},{"path":"aircraft.mass","value":"1450 lb"},{"change":"wide"}`,
			`hotclimb run small.yaml --case cool --set "exits.belly.area=95 in^2" --set "aircraft.mass=1452 lb"`,
		},
		{
			"cool", `{"change":"wide"},{"path":"aircraft.mass","value":"1450 lb"}`,
			`hotclimb run small.yaml --case cool --set "exits.belly.area=95 in^2" --set "aircraft.mass=1450 lb"`,
		},
		{ // a setting of a case itself, and a word
			"hot", `{"path":"cases.hot.day.temperature","value":"95 degF"},{"path":"inlets.chin.lip","value":"sharp"}`,
			`hotclimb run small.yaml --case hot --set "cases.hot.day.temperature=95 degF" --set inlets.chin.lip=sharp`,
		},
		{ // spray
			"hot", `{"path":"spray.rate","value":"0.8 L/min"}`,
			`hotclimb run small.yaml --case hot --set "spray.rate=0.8 L/min"`,
		},
	} {
		m := move(t, h, 200, fmt.Sprintf(`{"case":%q,"edits":[%s]}`, c.name, c.edits))
		if m.Command != c.command {
			t.Errorf("%s: the command is\n%s\nwant\n%s", c.edits, m.Command, c.command)
		}
		sc, r := asRun(t, b.Scenario, m.Command)
		text := html.UnescapeString(m.Result)
		for _, want := range quantities(r, plots.US) {
			if !strings.Contains(text, want) {
				t.Errorf("%s: the page lacks %q of run:\n%s", c.edits, want, m.Result)
			}
		}
		for _, k := range m.Controls {
			p, err := sc.Compile(k.Path)
			if err != nil {
				t.Fatal(err)
			}
			if n, ok := p.Get(sc); ok && plots.Pretty(scenarios.Format(n.Value, n.Unit, p.Dimension)) != k.Text {
				t.Errorf("%s: the slider of %s reads %s, not %s", c.edits, k.Path, k.Text, n.Text)
			}
		}
		if c := m.Chart; c == nil || len(c.Time) < 10 || len(c.Coolant) != len(c.Time) || len(c.Oil) != len(c.Time) {
			t.Errorf("the chart is %+v", c)
		} else if peak := plots.Temperature.US.Of(r.Peaks[1].Value); slices.Max(c.Oil) > peak+0.01 || slices.Max(c.Oil) < peak-1 {
			t.Errorf("the oil of the chart peaks at %g, not at %g", slices.Max(c.Oil), peak)
		}
	}
}

// TestChangesAsRanked: a change does to the margins on the page what it does where
// changes are ranked, its weight counted.
func TestChangesAsRanked(t *testing.T) {
	b := builtin(t, "rotary")
	h := handler(t, b)
	cases, err := b.Scenario.EffectiveCases([]string{"hot_climb", "hot_taxi"}, nil)
	if err != nil {
		t.Fatal(err)
	}
	ranked, err := sweep.Rank(t.Context(), sweep.Ranking{Cases: cases, Changes: b.Scenario.Changes, Workers: 2}, func() {})
	if err != nil {
		t.Fatal(err)
	}
	for _, one := range ranked.Changes {
		for i, k := range cases {
			m := move(t, h, 200, fmt.Sprintf(`{"case":%q,"edits":[{"change":%q}]}`, k.Name, one.Change.Name))
			for _, c := range one.Flown[i].Circuits {
				if want := plots.Warmth.Show(plots.US, c.Margin); !strings.Contains(m.Say, "margin "+want) {
					t.Errorf("%s in %s: %s; ranked it has a margin of %s", one.Change.Name, k.Name, m.Say, want)
				}
			}
		}
	}
}

// TestIncomplete: a flight that does not reach its end says so.
func TestIncomplete(t *testing.T) {
	m := move(t, handler(t, smallBench(t)), 200, `{"edits":[{"path":"flight.legs.climb.to_altitude","value":"40000 ft","case":"cool"}]}`)
	if !strings.Contains(m.Result, "leg climb did not reach its end") || !strings.Contains(m.Say, "Leg climb did not reach its end.") {
		t.Errorf("%s\n%s", m.Say, m.Result)
	}
}

// TestCautions: those of spray only where water is sprayed.
func TestCautions(t *testing.T) {
	b := smallBench(t)
	page := serve(handler(t, b), asking("GET", "/", "")).Body.String()
	if !strings.Contains(page, "An estimate.") || !strings.Contains(page, "Spray has hazards.") {
		t.Error("a caution is missing")
	}
	dry, err := b.Scenario.With([]scenarios.Setting{{Path: "spray.rate", Text: "0 L/min"}})
	if err != nil {
		t.Fatal(err)
	}
	b.Scenario = dry
	page = serve(handler(t, b), asking("GET", "/", "")).Body.String()
	if !strings.Contains(page, "An estimate.") || strings.Contains(page, "Spray has hazards.") {
		t.Error("a caution of spray without spray")
	}
}

// TestSameBytes: the same request has the same answer, whatever came before.
func TestSameBytes(t *testing.T) {
	const body = `{"case":"hot","edits":[{"change":"wide"},{"change":"heavy_core"}],"pinned":[{"change":"wide"}]}`
	h := handler(t, smallBench(t))
	first := serve(h, asking("POST", "/fly", body)).Body.String()
	move(t, h, 200, `{"case":"cool","edits":[{"change":"wide"}]}`)
	move(t, h, 422, `{"case":"cool","edits":[{"change":"none"}]}`)
	again := serve(h, asking("POST", "/fly", body)).Body.String()
	other := serve(handler(t, smallBench(t)), asking("POST", "/fly", body)).Body.String()
	if first != again || first != other {
		t.Errorf("three answers:\n%s\n%s\n%s", first, again, other)
	}
	if !json.Valid([]byte(first)) {
		t.Error("no JSON")
	}
}

// TestAlarms: what is over a limit is marked, and nothing else.
func TestAlarms(t *testing.T) {
	s, err := newServer(builtin(t, "rotary"))
	if err != nil {
		t.Fatal(err)
	}
	st, err := s.state(nil)
	if err != nil {
		t.Fatal(err)
	}
	now, err := s.fly(t.Context(), st, 0)
	if err != nil {
		t.Fatal(err)
	}
	r := s.result(now, nil, 0)
	var got []string
	for _, g := range []Grid{r.Peaks, r.Exchangers, r.Cases} {
		for _, row := range g.Rows {
			for _, c := range row.Cells {
				if c.Alarm {
					got = append(got, row.Name+" "+c.Text)
				}
			}
		}
	}
	want := []string{"oil in -8.5", "oil in 1:37", "hot_climb over limit", "hot_climb -8.5", "hot_climb 1:37"}
	if !slices.Equal(got, want) {
		t.Errorf("marked: %q, want %q", got, want)
	}

	now.flown[0] = flown{err: errors.New("the air flow was not found")}
	r = s.result(now, now, 0)
	if r.Failed != "the air flow was not found" || !r.Cases.Rows[0].Cells[0].Alarm || r.Cases.Rows[1].Cells[0].Text != "caution" {
		t.Errorf("a case that fails: %+v", r)
	}
	if code, _ := s.answer(now, now, 0); code != 200 {
		t.Errorf("status %d", code)
	}
}
