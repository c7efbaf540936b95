package calibrate

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
	"hotclimb/scenarios"
	"hotclimb/sweep"
)

// kept are the numbers that stay doubtful in these tests.
var kept = []string{
	"engine.heat_to_coolant", "engine.heat_to_oil", "exchangers.radiator.rating.heat",
	"inlets.chin.diffuser.multiplier", "exits.belly.pressure_coefficient", "inlets.cheek_right.recovery",
}

// towed is the tug with a few doubtful numbers, one of them of a gauge, and its
// hot tow.
func towed(t testing.TB, keep []string, settings ...string) (*scenarios.Scenario, []scenarios.CaseScenario) {
	t.Helper()
	sc, list := loaded(t, "tug", settings...)
	cases, err := sc.EffectiveCases([]string{"hot_tow"}, list)
	if err != nil {
		t.Fatal(err)
	}
	cases[0].Scenario = fewDoubts(t, cases[0].Scenario, keep)
	sc.Next = nil
	return sc, cases
}

// fewDoubts is a scenario in which all numbers but some are known.
func fewDoubts(t testing.TB, sc *scenarios.Scenario, keep []string) *scenarios.Scenario {
	t.Helper()
	doubts, err := sweep.DoubtsOf(sc)
	if err != nil {
		t.Fatal(err)
	}
	few, err := sc.Edit(func(c *scenarios.Scenario) error {
		for k, p := range doubts.Params {
			if !slices.Contains(keep, p.Path) {
				if err := p.Set(c, doubts.Mean[k]); err != nil {
					return err
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return few
}

// studied are the flights of some names in one air and what they teach.
func studied(t testing.TB, workers int, air AirRange, sc *scenarios.Scenario, cases []scenarios.CaseScenario, names ...string) *NextTable {
	t.Helper()
	flights, _, err := NextFlights(sc, cases, 0, air)
	if err != nil {
		t.Fatal(err)
	}
	flights = slices.DeleteFunc(flights, func(f NextFlight) bool { return !slices.Contains(names, f.Name) })
	study := NextStudy{Target: cases[0], Flights: flights, Workers: workers}
	table, err := study.Run(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return table
}

var mild = AirRange{Given: true, Low: 15, High: 15}

// named is the row of a flight.
func (t *NextTable) named(name string) *NextRow {
	i := slices.IndexFunc(t.Rows, func(r NextRow) bool { return r.Flight.Name == name })
	return &t.Rows[i]
}

// TestListMade: what a scenario without a list is offered, each in the coolest
// and the warmest air.
func TestListMade(t *testing.T) {
	sc, cases := towed(t, kept)
	flights, left, err := NextFlights(sc, cases, 0, AirRange{})
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for i, f := range flights {
		if want := []float64{20, 35}[i%2]; math.Abs(f.Outside-want) > 1e-6 {
			t.Errorf("%s at %g °C", f.Name, f.Outside)
		}
		plant, err := f.Scenario.Build()
		if err != nil || math.Abs(fieldAir(plant)-f.Outside) > 1e-6 {
			t.Errorf("%s is not flown at %g °C: %v", f.Name, f.Outside, err)
		}
		if i%2 == 0 {
			names = append(names, f.Name)
		}
	}
	want := []string{"as_it_is", "half_cheek_left", "shut_cheek_left", "half_cheek_right", "half_chin", "shut_chin", "half_belly", "flap_belly",
		"faster_climb", "level_75", "level_full"}
	if !reflect.DeepEqual(names, want) {
		t.Errorf("%q", names)
	}
	if len(left) != 2 || left[0].Name != "shut_cheek_right" || !strings.Contains(left[0].Why, "oil no core") ||
		left[1].Name != "slower_climb" || !strings.Contains(left[1].Why, "stall") {
		t.Errorf("left out: %v", left)
	}
	for _, f := range flights {
		opening := strings.HasPrefix(f.Name, "half_") || strings.HasPrefix(f.Name, "shut_") || strings.HasPrefix(f.Name, "flap_")
		if slices.Contains(f.Hazards, Taped) != opening || slices.Contains(f.Hazards, FullPower) != (f.Name == "level_full") {
			t.Errorf("%s has hazards %v", f.Name, f.Hazards)
		}
	}
}

// TestListOfTheFile: flights of the section next, with their cases, on a day of
// the same air.
func TestListOfTheFile(t *testing.T) {
	sc, cases := towed(t, kept)
	all, err := sc.EffectiveCases(nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	all[0] = cases[0]
	sc.Next = []*scenarios.Next{
		{Name: "taped", Set: map[string]string{"inlets.chin.height": "3 in", "flight.legs.tow.speed": "66 mph"}, Caution: "slowly"},
		{Name: "ferry", Case: "cruise", Set: map[string]string{"spray.rate": "0.5 L/min", "spray.leg": "level"}},
	}
	flights, left, err := NextFlights(sc, all, 0, AirRange{Given: true, Low: 10, High: 20})
	if err != nil || len(flights) != 4 || len(left) > 0 {
		t.Fatal(flights, left, err)
	}
	if f := flights[0]; f.Caution != "slowly" || !reflect.DeepEqual(f.Hazards, []Hazard{Taped, Slow}) || f.Outside != 10 {
		t.Errorf("%+v", f)
	}
	// 620 ft and 3000 ft in the same air: 6.5 K per 1000 m.
	if f := flights[3]; math.Abs(f.Outside-(20-0.0065*2380*0.3048)) > 1e-6 || !reflect.DeepEqual(f.Hazards, []Hazard{Sprayed}) {
		t.Errorf("%+v", f)
	}
	// A flight with a day of its own keeps it, unless the air is asked for.
	sc.Next[0].Set["day.temperature"] = "12 degC"
	own, _, err := NextFlights(sc, all, 0, AirRange{})
	if err != nil || len(own) != 3 || own[0].Name != "taped" || math.Abs(own[0].Outside-12) > 1e-9 {
		t.Errorf("%v %v", own, err)
	}
	if asked, _, _ := NextFlights(sc, all, 0, AirRange{Given: true, Low: 10, High: 20}); len(asked) != 4 || asked[0].Outside != 10 {
		t.Errorf("%v", asked)
	}
	sc.Next[1].Set = map[string]string{"flight.legs.level.throttle": "100 %"}
	if fast, _, err := NextFlights(sc, all, 0, mild); err != nil || len(fast) != 2 || !reflect.DeepEqual(fast[1].Hazards, []Hazard{FullPower}) {
		t.Errorf("%v %v", fast, err)
	}
	sc.Next[0].Set["inlets.chin.height"] = "3 psi"
	if _, _, err := NextFlights(sc, all, 0, AirRange{}); err == nil || !strings.Contains(err.Error(), "next.taped: inlets.chin.height") {
		t.Error(err)
	}
}

// TestNext: invariants of real flights, and the same answer with any number of
// workers.
func TestNext(t *testing.T) {
	sc, cases := towed(t, kept, "gauges.oil.bias=0 K ± 2 K", "gauges.coolant.lag=10 s ± 4 s")
	names := []string{"as_it_is", "half_belly", "level_75"}
	table := studied(t, 3, mild, sc, cases, names...)
	if len(table.Rows) != 3 || len(table.Numbers) != len(kept)+2 {
		t.Fatalf("%d flights, %d numbers", len(table.Rows), len(table.Numbers))
	}
	shares := 0.0
	for _, n := range table.Numbers {
		shares += n.Share[table.Deciding]
	}
	if math.Abs(shares-1) > 1e-9 {
		t.Errorf("shares add up to %g", shares)
	}
	spread, err := (&sweep.Doubt{Scenario: cases[0].Scenario, Doubts: mustDoubts(t, cases[0].Scenario), Fly: outcome}).BySlopes(context.Background())
	if err != nil || math.Abs(spread.Circuits[0]-table.Now[0]) > 1e-9 || math.Abs(spread.Circuits[1]-table.Now[1]) > 1e-9 {
		t.Errorf("doubt now %v, by slopes %v %v", table.Now, spread, err)
	}
	for i, r := range table.Rows {
		for c := range r.After {
			if r.After[c] >= table.Now[c] || r.After[c] <= 0 {
				t.Errorf("%s leaves %v of %v", r.Flight.Name, r.After, table.Now)
			}
		}
		if i > 0 && r.After[table.Deciding] < table.Rows[i-1].After[table.Deciding] {
			t.Error("not in order")
		}
		sum := 0.0
		for _, l := range r.Lessons {
			sum += l.Share
			if l.Left > 1+1e-9 {
				t.Errorf("%s: %s grows", r.Flight.Name, table.Numbers[l.Number].Param.Path)
			}
		}
		if math.Abs(sum-1) > 1e-9 {
			t.Errorf("%s: lessons add up to %g", r.Flight.Name, sum)
		}
		if r.Misjudged >= table.NowMisjudged() {
			t.Errorf("%s leaves a chance of %g to be wrong, now %g", r.Flight.Name, r.Misjudged, table.NowMisjudged())
		}
	}
	for i, then := range table.Then(0) {
		d := table.Deciding
		first := table.Now[d]*table.Now[d] - table.Rows[0].After[d]*table.Rows[0].After[d]
		both := table.Now[d]*table.Now[d] - then.After[d]*then.After[d]
		if then.After[d] > table.Rows[0].After[d] || then.Row == 0 && both > 2*first {
			t.Errorf("second flight %d takes %g, the first %g", i, both, first)
		}
	}
	one := studied(t, 1, mild, sc, cases, names...)
	for i := range one.Rows {
		if !reflect.DeepEqual(one.Rows[i].After, table.Rows[i].After) || !mat.Equal(one.Rows[i].slopes, table.Rows[i].slopes) {
			t.Errorf("row %d depends on the workers", i)
		}
	}
}

func mustDoubts(t testing.TB, sc *scenarios.Scenario) *sweep.Doubts {
	t.Helper()
	d, err := sweep.DoubtsOf(sc)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// TestNumbersOfGauges: the doubt of a bias takes from what a flight teaches, and
// what is known of it beforehand gives that back.
func TestNumbersOfGauges(t *testing.T) {
	left := func(settings ...string) float64 {
		sc, cases := towed(t, kept, settings...)
		return studied(t, 2, mild, sc, cases, "as_it_is").Rows[0].After[sweep.Oil]
	}
	without, little, much := left(), left("gauges.oil.bias=0 K ± 0.5 K"), left("gauges.oil.bias=0 K ± 5 K")
	t.Logf("left of the oil: %.3f K, with a bias of ±0.5 K %.3f K, of ±5 K %.3f K", without, little, much)
	if !(without < little && little < much) {
		t.Errorf("left %g, %g, %g", without, little, much)
	}
}

// TestSilentNumbers: those that move nothing are found together, and what a
// flight teaches is bit for bit the same as when each is flown.
func TestSilentNumbers(t *testing.T) {
	_, cases := towed(t, append([]string{"aircraft.parasite_drag", "aircraft.span_efficiency", "vents.cabin.share"}, kept...))
	sc := cases[0].Scenario
	list, err := openNumbersOf(sc, mustDoubts(t, sc))
	if err != nil {
		t.Fatal(err)
	}
	f := NextFlight{Name: "as_it_is", Scenario: sc}
	one, err := teach(context.Background(), &f, list, nil, func() {})
	if err != nil {
		t.Fatal(err)
	}
	if !one.quiet["aircraft.parasite_drag"] || !one.quiet["aircraft.span_efficiency"] || one.quiet["engine.heat_to_oil"] {
		t.Errorf("quiet: %v", one.quiet)
	}
	for _, quiet := range []map[string]bool{one.quiet, {"aircraft.parasite_drag": true, "engine.heat_to_oil": true}} {
		two, err := teach(context.Background(), &f, list, quiet, func() {})
		if err != nil || !mat.Equal(one.slopes, two.slopes) || !reflect.DeepEqual(one.quiet, two.quiet) {
			t.Errorf("another answer with %v: %v", quiet, err)
		}
	}
}

// TestAlong: along one number it is what is left of that number's doubt.
func TestAlong(t *testing.T) {
	sc, cases := towed(t, kept)
	table := studied(t, 2, mild, sc, cases, "as_it_is", "half_belly", "half_cheek_right")
	list, err := table.Along(map[string]float64{"inlets.cheek_right.recovery": 0.1})
	if err != nil || len(list) != 3 {
		t.Fatal(list, err)
	}
	for i, a := range list {
		left := math.NaN()
		for _, l := range table.Rows[a.Row].Lessons {
			if table.Numbers[l.Number].Param.Path == "inlets.cheek_right.recovery" {
				left = l.Left
			}
		}
		if math.Abs(a.Now-1) > 1e-12 || math.Abs(a.After-left) > 1e-12 || i > 0 && a.After < list[i-1].After {
			t.Errorf("%+v, of the number alone %g is left", a, left)
		}
	}
	// Of one number without correlations, its share of the variance of the margin.
	k := slices.IndexFunc(table.Numbers, func(n NextNumber) bool { return n.Param.Path == "inlets.cheek_right.recovery" })
	margin, err := table.MarginAlong(map[string]float64{"inlets.cheek_right.recovery": -3})
	if want := table.Now[table.Deciding] * math.Sqrt(table.Numbers[k].Share[table.Deciding]); err != nil || want == 0 || math.Abs(margin-want) > 1e-9 {
		t.Errorf("%g K of the margin go with it, want %g: %v", margin, want, err)
	}
	// A direction of two numbers, against the covariance in the other form.
	pair, err := table.Along(map[string]float64{"engine.heat_to_oil": 0.02, "exchangers.radiator.rating.heat": -4000})
	if err != nil {
		t.Fatal(err)
	}
	w := make([]float64, len(table.Numbers))
	for k, n := range table.Numbers {
		switch n.Param.Path {
		case "engine.heat_to_oil":
			w[k] = 0.02 / n.Deviation
		case "exchangers.radiator.rating.heat":
			w[k] = -4000 / n.Deviation
		}
	}
	floats.Scale(1/floats.Norm(w, 2), w)
	for _, a := range pair {
		p := updated(eye(len(w)), table.Rows[a.Row].slopes)
		v := mat.NewVecDense(len(w), w)
		if want := math.Sqrt(mat.Inner(v, p, v)); math.Abs(a.After-want) > 1e-9 {
			t.Errorf("row %d: %g is left, by the other form %g", a.Row, a.After, want)
		}
	}
	for _, direction := range []map[string]float64{{"engine.mass": 1}, {}, {"engine.heat_to_oil": 0}} {
		if _, err := table.Along(direction); err == nil {
			t.Errorf("%v is a direction", direction)
		}
	}
}

// TestNothingToLearn: no doubts at all, and doubts that move nothing.
func TestNothingToLearn(t *testing.T) {
	for _, c := range []struct {
		keep []string
		want error
	}{{nil, ErrNoDoubts}, {[]string{"vents.cabin.share"}, errNothingMoves}} {
		_, cases := towed(t, c.keep)
		study := NextStudy{Target: cases[0], Flights: []NextFlight{{Name: "as_it_is", Scenario: cases[0].Scenario}}}
		if _, err := study.Run(context.Background()); !errors.Is(err, c.want) {
			t.Errorf("%v", err)
		}
	}
	_, cases := towed(t, kept)
	study := NextStudy{Target: cases[0], Flights: []NextFlight{{Name: "as_it_is", Scenario: cases[0].Scenario}}}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := study.Run(ctx); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
}

// TestBest: of flights that leave nearly the same, the one with fewer hazards;
// none that is risky.
func TestBest(t *testing.T) {
	row := func(left, risk float64, over bool, hazards ...Hazard) NextRow {
		return NextRow{Flight: NextFlight{Hazards: hazards}, After: [2]float64{left, 9}, Passes: risk, OverLimit: over}
	}
	table := &NextTable{Rows: []NextRow{
		row(0.5, 0.01, true), row(0.6, 0.5, false), row(1, 0.05, false, Taped), row(1.2, 0.05, false), row(1.5, 0, false),
	}}
	if best := table.Best(); best != 3 {
		t.Errorf("row %d", best)
	}
	if table.Rows[3].After[0] = 1.3; table.Best() != 2 {
		t.Errorf("row %d", table.Best())
	}
	if table.Rows = table.Rows[:2]; table.Best() != -1 {
		t.Error("a risky flight is proposed")
	}
}

func eye(n int) mat.Matrix {
	d := mat.NewDiagDense(n, nil)
	for i := range n {
		d.SetDiag(i, 1)
	}
	return d
}

// TestSlopesOfGauges: a bias moves the readings of its gauge alone, by itself; a
// lag moves them as a flight with another lag says. What is not known of the
// start takes from what a flight teaches.
func TestSlopesOfGauges(t *testing.T) {
	_, cases := towed(t, kept[:2], "gauges.oil.bias=1 K ± 2 K", "gauges.coolant.lag=10 s ± 4 s")
	sc := cases[0].Scenario
	list, err := openNumbersOf(sc, mustDoubts(t, sc))
	if err != nil {
		t.Fatal(err)
	}
	f := NextFlight{Name: "as_it_is", Scenario: sc}
	p, err := planFlight(context.Background(), &f)
	if err != nil {
		t.Fatal(err)
	}
	most := 0.0
	for k := range list {
		u := &list[k]
		if !u.gauge {
			continue
		}
		z := make([]float64, len(list))
		z[k] = 1
		moved := p.flown(t, list, z, [2]float64{})
		for i, v := range p.gaugeSlope(u) {
			want := moved[i] - p.base.Of(p.record.Readings[i])
			if math.Abs(v-want) > 1e-9 || p.record.Readings[i].Circuit != u.circuit && v != 0 || !u.lag && p.record.Readings[i].Circuit == u.circuit && v != 2 {
				t.Fatalf("%s moves reading %d by %g, flown %g", u.param.Path, i, v, want)
			}
			most = math.Max(most, math.Abs(v))
		}
	}
	if most != 2 {
		t.Errorf("no bias moves anything: %g K", most)
	}
	full, err := teach(context.Background(), &f, list, nil, func() {})
	if err != nil {
		t.Fatal(err)
	}
	prior := mustBelieve(t, correlationsOf(sc, list))
	g := []float64{1, 1, 0, 0}
	if known, open := prior.after(full.slopes).deviation(g), prior.after(full.whitened).deviation(g); !(known < open*(1-1e-3)) {
		t.Errorf("with a start that is known %g is left, else %g", known, open)
	}
}

// TestStartTellsNoBias: readings at the start alone, of an engine as warm as
// nobody knows, leave the bias of a gauge as doubtful as it was.
func TestStartTellsNoBias(t *testing.T) {
	_, cases := towed(t, kept[:1], "gauges.oil.bias=0 K ± 5 K")
	sc := cases[0].Scenario
	list, err := openNumbersOf(sc, mustDoubts(t, sc))
	if err != nil || len(list) != 2 || !list[1].gauge {
		t.Fatal(list, err)
	}
	p, err := planFlight(context.Background(), &NextFlight{Name: "as_it_is", Scenario: sc})
	if err != nil {
		t.Fatal(err)
	}
	var first []Reading
	for _, m := range p.record.Readings {
		if m.From == 0 {
			first = append(first, m)
		}
	}
	if p.record.Readings = first; len(first) != 2 {
		t.Fatalf("%d readings at the start", len(first))
	}
	starts, err := p.startSlopes(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	slopes := mat.NewDense(2, 1, p.gaugeSlope(&list[1]))
	p.perNoise(starts)
	p.perNoise(slopes)
	left := mustBelieve(t, mat.NewSymDense(1, []float64{1})).after(whitened(slopes, starts)).deviation([]float64{1})
	// Of two normal numbers whose sum is read exactly.
	if want := unread / math.Hypot(unread, 5); math.Abs(left-want) > 1e-3 {
		t.Errorf("%g of the doubt of the bias is left, not %g", left, want)
	}
}

// TestApart: numbers of a flight that are not those of the target, as nuisances
// in what is read and as numbers of which nobody asks, leave the same; with
// correlations between all, singular ones among them.
func TestApart(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 4))
	const n = 9
	named := func(names ...string) (list []openNumber) {
		for _, name := range names {
			list = append(list, openNumber{param: scenarios.Param{Path: name}, sigma: 1})
		}
		return list
	}
	own, target := named("a", "b", "c", "d", "e"), named("d", "z", "b", "a")
	target[3].sigma = 2 // so that a is another on the flight
	place := []int{3, 1}
	for _, causes := range []int{7, 3} {
		r, moved := correlated(rng, len(own), causes), normals(rng, n, len(own))
		slopes, nuisance, err := apart(moved, own, target, r)
		if err != nil {
			t.Fatal(err)
		}
		shared := mat.NewDense(n, len(place), nil)
		shared.SetCol(0, mat.Col(nil, 0, slopes))
		shared.SetCol(1, mat.Col(nil, 2, slopes))
		if mat.Norm(slopes.ColView(1), 1) != 0 || mat.Norm(slopes.ColView(3), 1) != 0 {
			t.Errorf("readings move with numbers that are not of the flight: %v", mat.Formatted(slopes))
		}
		some := mat.NewSymDense(2, []float64{1, r.At(3, 1), r.At(1, 3), 1})
		got := mustBelieve(t, some).after(whitened(shared, nuisance)).covariance()
		want := picked(mustBelieve(t, r).after(moved).covariance(), place, place)
		if !mat.EqualApprox(got, want, 1e-9) {
			t.Errorf("%d causes: %v is left, jointly %v", causes, mat.Formatted(got), mat.Formatted(want))
		}
	}
	if _, nuisance, err := apart(normals(rng, n, 5), own, own, correlated(rng, 5, 5)); err != nil || nuisance != nil {
		t.Errorf("nuisances without other numbers: %v, %v", nuisance, err)
	}
	if _, nuisance, err := apart(normals(rng, n, 5), own, named("z"), correlated(rng, 5, 5)); err != nil || nuisance == nil {
		t.Errorf("no number is shared: %v", err)
	}
}

// TestCutNumber: a number at the end of its range, half of whose doubt is cut
// off, moves readings and margins in the same deviations.
func TestCutNumber(t *testing.T) {
	const path = "inlets.cheek_right.recovery"
	sc, cases := towed(t, []string{path}, path+"=1 ± 0.1")
	p, err := cases[0].Scenario.Compile(path)
	if err != nil || p.Hi != 1 {
		t.Fatalf("%s ends at %g: %v", path, p.Hi, err)
	}
	table := studied(t, 1, mild, sc, cases, "as_it_is")
	// Standard deviation of half a normal distribution.
	want := 0.1 * math.Sqrt(1-2/math.Pi)
	if got := table.Numbers[0].Deviation; math.Abs(got-want) > 1e-6 {
		t.Errorf("deviation %g, not %g", got, want)
	}
	lower := func(sc *scenarios.Scenario) *scenarios.Scenario {
		moved, err := set(sc, path, 1-want)
		if err != nil {
			t.Fatal(err)
		}
		return moved
	}
	fewer := margins(t, cases[0].Scenario)[sweep.Oil] - margins(t, lower(cases[0].Scenario))[sweep.Oil]
	if got := table.g[sweep.Oil][0]; math.Abs(got/fewer-1) > 1e-6 {
		t.Errorf("the margin moves by %g a deviation, flown %g", got, fewer)
	}
	row := &table.Rows[0]
	f, err := planFlight(context.Background(), &row.Flight)
	if err != nil {
		t.Fatal(err)
	}
	column, err := f.slope(context.Background(), &openNumber{param: p, mean: 1, sigma: want})
	if err != nil {
		t.Fatal(err)
	}
	full := mat.NewDense(len(column), 1, column)
	f.perNoise(full)
	starts, err := f.startSlopes(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	f.perNoise(starts)
	if !mat.EqualApprox(row.slopes, whitened(full, starts), 1e-6) {
		t.Error("readings move by another deviation than margins")
	}
}
