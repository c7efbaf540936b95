package sweep

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"hotclimb/scenarios"
	"hotclimb/sim"
)

// loadRanked is a small scenario with a cool and a hot case, in which the text adds
// what a test needs.
func loadRanked(t *testing.T, overlay string) (*scenarios.Scenario, []scenarios.CaseScenario) {
	t.Helper()
	small, err := os.ReadFile("../testdata/script/small.yaml")
	if err != nil {
		t.Fatal(err)
	}
	cases := `
cases:
  - {name: cool, day: {elevation: 500 ft, temperature: 20 degC}}
  - {name: hot, day: {elevation: 500 ft, temperature: 40 degC}, set: {exits.belly.area: 500 cm^2}}
`
	sc, err := scenarios.Load(
		scenarios.Source{Name: "small.yaml", Text: small},
		scenarios.Source{Name: "cases.yaml", Text: []byte(cases)},
		scenarios.Source{Name: "overlay.yaml", Text: []byte(overlay)},
	)
	if err != nil {
		t.Fatal(err)
	}
	list, err := sc.EffectiveCases(nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	return sc, list
}

// linear is a flight in closed form: x is the exit and y the inlet, in units of
// 100 cm² above 500 and 300. Coolant is 4 + x + 2y, oil 5 + x - 3y in the cool
// case, 5 K less of each in the hot one. Mass costs 0.1 K/kg on both above
// 700 kg. A limit comes 100 s after the margin is lost, for each K 10 s earlier.
func linear(sc *scenarios.Scenario) Flown {
	x := sc.Exits["belly"].Area.Value*100 - 5
	y := sc.Inlets["chin"].Area.Value*100 - 3
	warmer := (sc.Day.Temperature.Value - 20) / 4
	heavier := 0.1 * (sc.Aircraft.Mass.Value - 700)
	return flownAt(4+x+2*y-warmer-heavier, 5+x-3*y-warmer-heavier, Climb{Drag: 10 + x, DragPower: 1000 + 200*x, Rate: 5 - x})
}

// flownAt is a flight with given margins.
func flownAt(coolant, oil float64, climb Climb) Flown {
	f := Flown{Outcome: Outcome{Status: sim.WithinLimits}, Climb: climb}
	for i, margin := range []float64{coolant, oil} {
		f.Circuits[i] = Circuit{Margin: margin, TimeToLimit: math.Inf(1)}
		if margin < 0 {
			f.Status, f.Circuits[i].TimeToLimit = sim.OverLimit, 100+10*margin
		}
	}
	return f
}

func evaluated(fly func(*scenarios.Scenario) Flown) func(context.Context, *scenarios.Scenario) (Flown, error) {
	return func(_ context.Context, sc *scenarios.Scenario) (Flown, error) { return fly(sc), nil }
}

func mustRank(t *testing.T, r Ranking) *Ranked {
	t.Helper()
	steps := 0
	var lock sync.Mutex
	ranked, err := Rank(context.Background(), r, func() { lock.Lock(); steps++; lock.Unlock() })
	if err != nil {
		t.Fatal(err)
	}
	if most := r.Steps(); steps > most {
		t.Errorf("%d steps, said to be %d at most", steps, most)
	}
	return ranked
}

// single finds a change by its name.
func (r *Ranked) single(t *testing.T, name string) *Single {
	t.Helper()
	for i := range r.Changes {
		if r.Changes[i].Change.Name == name {
			return &r.Changes[i]
		}
	}
	t.Fatalf("no change %s", name)
	return nil
}

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) < 1e-9) && got != want && !(math.IsNaN(got) && math.IsNaN(want)) {
		t.Errorf("%s: %g, want %g", what, got, want)
	}
}

const someChanges = `
aircraft: {mass: 700 kg}
exits: {belly: {area: 500 cm^2}}
inlets: {chin: {area: 300 cm^2}}
changes:
  - {name: exit, set: {exits.belly.area: 700 cm^2}, weight: 5 kg, arm: 2 m, cost: 50, hours: 4}
  - {name: inlet, set: {inlets.chin.area: 400 cm^2}, cost: 10}
  - {name: less_mass, set: {aircraft.mass: 690 kg}, weight: -10 kg}
  - {name: faster, set: {flight.legs.climb.speed: 99 mph}}
`

// TestRankSingles: gains, prices and order of single changes in closed form.
func TestRankSingles(t *testing.T) {
	sc, cases := loadRanked(t, someChanges)
	r := mustRank(t, Ranking{Cases: cases, Changes: sc.Changes, Evaluate: evaluated(linear)})
	near(t, "coolant as it is", r.Base.Margin[Coolant], -1)
	near(t, "oil as it is", r.Base.Margin[Oil], 0)
	near(t, "earliest limit as it is", r.Base.LimitTime, 90)
	if r.Base.Worst() != 1 || r.Base.Limiting() != Coolant || r.Base.LimitCase != 1 {
		t.Errorf("as it is: %+v", r.Base)
	}

	exit := r.single(t, "exit") // x is 2, the mass 705 kg: 0.5 K
	near(t, "exit: coolant", exit.Gain[Coolant], 1.5)
	near(t, "exit: oil", exit.Gain[Oil], 1.5)
	near(t, "exit: least", exit.LeastGain, 1.5)
	near(t, "exit: drag", exit.Drag, 2)
	near(t, "exit: drag power", exit.DragPower, 400)
	near(t, "exit: climb", exit.Climb, -2)
	near(t, "exit: moment", exit.Moment, 10)
	near(t, "exit: per kg", Per(exit.LeastGain, exit.Weight), 0.3)
	near(t, "exit: per cost", Per(exit.LeastGain, exit.Cost), 0.03)
	near(t, "exit: per W", exit.PerDragPower(), 1.5/400)
	near(t, "exit: limit", exit.TimeGain(&r.Base), math.Inf(1))

	inlet := r.single(t, "inlet") // coolant +2, oil -3: least from -1 to -3
	near(t, "inlet: least", inlet.LeastGain, -2)
	near(t, "inlet: time", inlet.TimeGain(&r.Base), -20)
	near(t, "inlet: per W", inlet.PerDragPower(), math.NaN())
	near(t, "inlet: per hour", Per(inlet.LeastGain, inlet.Hours), math.NaN())
	if circuit, ok := inlet.Spoils(); !ok || circuit != Oil {
		t.Errorf("the inlet helps the coolant by spoiling the oil, got %d %v", circuit, ok)
	}

	near(t, "less_mass: its mass is what it sets", r.single(t, "less_mass").LeastGain, 1)
	if got := r.single(t, "faster"); got.LeastGain != 0 || !got.Applied || !FliesOnly(got.Change) || FliesOnly(exit.Change) {
		t.Errorf("faster: %+v", got)
	}
	order := ""
	for i := range r.Changes {
		order += r.Changes[i].Change.Name + " "
	}
	if order != "exit less_mass faster inlet " {
		t.Errorf("order %s", order)
	}
	if r.Flights != 10 || len(r.Pairs) > 0 || len(r.Tenths) > 0 {
		t.Errorf("%d flights, %d pairs, %d tenths", r.Flights, len(r.Pairs), len(r.Tenths))
	}
}

// TestRankVerdict: who stands out.
func TestRankVerdict(t *testing.T) {
	sc, cases := loadRanked(t, someChanges)
	r := mustRank(t, Ranking{Cases: cases, Changes: sc.Changes, Pairs: 2, Evaluate: evaluated(linear)})
	name := func(i int) string {
		if i < 0 {
			return "none"
		}
		return r.Changes[i].Change.Name
	}
	v := r.Verdict()
	got := fmt.Sprint(name(v.Best), name(v.BestBuilt), name(v.BestOn[Coolant]), name(v.BestOn[Oil]),
		name(v.PerWeight), name(v.PerCost), name(v.PerHour), name(v.PerDrag))
	if want := fmt.Sprint("exit", "exit", "inlet", "exit", "exit", "exit", "exit", "exit"); got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	if v.PerWeight < 0 || len(r.Pairs) != 1 || r.BestPair() != 0 {
		t.Errorf("%+v, %d pairs", v, len(r.Pairs))
	}
}

// TestRankTies: of changes that gain alike the lighter, then the cheaper.
func TestRankTies(t *testing.T) {
	sc, cases := loadRanked(t, `
changes:
  - {name: dear, set: {oil.pump_flow: 30 L/min}, weight: 1 kg, cost: 20}
  - {name: heavy, set: {oil.pump_flow: 31 L/min}, weight: 2 kg}
  - {name: cheap, set: {oil.pump_flow: 32 L/min}, weight: 1 kg, cost: 10}
`)
	r := mustRank(t, Ranking{Cases: cases, Changes: sc.Changes, Evaluate: evaluated(func(*scenarios.Scenario) Flown { return flownAt(1, 1, Climb{}) })})
	if got := r.Changes[0].Change.Name + r.Changes[1].Change.Name + r.Changes[2].Change.Name; got != "cheapdearheavy" {
		t.Error(got)
	}
}

// TestRankPairs: what two changes do to each other, told in the case that is
// the worst as it is, and pairs that cannot be.
func TestRankPairs(t *testing.T) {
	sc, cases := loadRanked(t, `
aircraft: {mass: 700 kg}
exits: {belly: {area: 500 cm^2}}
inlets: {chin: {area: 300 cm^2}}
changes:
  - {name: exit, set: {exits.belly.area: 700 cm^2}}
  - {name: inlet, set: {inlets.chin.area: 400 cm^2}, weight: 1 kg}
  - {name: wide_exit, set: {exits.belly.area: 650 cm^2}}
  - {name: box, set: {exits.belly.width: 30 cm, exits.belly.height: 20 cm, exits.belly.count: 1}}
`)
	fly := func(sc *scenarios.Scenario) Flown {
		f := linear(sc)
		x, y := sc.Exits["belly"].Area.Value*100-5, sc.Inlets["chin"].Area.Value*100-3
		if !sc.Exits["belly"].Area.Known {
			x = 1
		}
		coolant, oil := f.Circuits[Coolant].Margin+0.4*x*y, f.Circuits[Oil].Margin-0.4*x*y
		if sc.Day.Temperature.Value < 30 {
			coolant, oil = 2, 2 // caps the gain over all cases
		}
		return flownAt(coolant, oil, f.Climb)
	}
	r := mustRank(t, Ranking{Cases: cases, Changes: sc.Changes, Pairs: 4, Evaluate: evaluated(fly)})
	if len(r.Pairs) != 6 {
		t.Fatalf("%d pairs", len(r.Pairs))
	}
	said := map[string]string{}
	for i := range r.Pairs {
		p := &r.Pairs[i]
		names := r.Changes[p.First].Change.Name + "+" + r.Changes[p.Second].Change.Name
		if p.Err != nil {
			said[names] = p.Err.Error()
			continue
		}
		said[names] = fmt.Sprintf("%.1f %.1f %v, %.1f %.1f %v", p.Sum[Coolant], p.Joint[Coolant], p.Together[Coolant],
			p.Sum[Oil], p.Joint[Oil], p.Together[Oil])
		near(t, names+": weight", p.Weight, r.Changes[p.First].Weight+r.Changes[p.Second].Weight)
	}
	for names, want := range map[string]string{
		"exit+inlet":     "3.9 4.7 help, -1.1 -1.9 fight",
		"exit+wide_exit": "both set exits.belly.area",
		"exit+box":       "case cool: exits.belly.count: excludes exits.belly.area, which is set as well (keep one)",
	} {
		if first, _, _ := strings.Cut(said[names], "\n"); first != want {
			t.Errorf("%s: %q, want %q", names, said[names], want)
		}
	}
	if t.Failed() {
		t.Log(said)
	}
}

// TestTogether: a tenth of the sum, and 0.2 K.
func TestTogether(t *testing.T) {
	for _, c := range []struct {
		a, b, pair float64
		want       Together
	}{
		{1, 1, 2.19, AddUp}, {1, 1, 2.21, Help}, {1, 1, 1.79, Fight}, // 0.2 K
		{5, 5, 10.9, AddUp}, {5, 5, 11.1, Help}, {5, 5, 8.9, Fight}, // a tenth
		{-5, 5, 0.1, AddUp}, {-5, 5, 0.3, Help}, {-5, -5, -10.9, AddUp}, {-5, -5, -11.1, Fight},
	} {
		if got := together(c.a, c.b, c.pair); got != c.want {
			t.Errorf("%g and %g, together %g: %v, want %v", c.a, c.b, c.pair, got, c.want)
		}
	}
}

// TestWorthPairing: the best on each circuit come first, then the best of all.
func TestWorthPairing(t *testing.T) {
	list := make([]Single, 5)
	for i, gains := range [][2]float64{{2, 2}, {1, 1}, {3, 0}, {0, 4}, {0, 0}} {
		list[i].Gain, list[i].Applied = gains, true
	}
	list[4].Err = errors.New("failed")
	for n, want := range map[int]string{0: "[]", 1: "[]", 2: "[2 3]", 3: "[0 2 3]", 4: "[0 1 2 3]", 9: "[0 1 2 3]"} {
		if got := fmt.Sprint(worthPairing(list, n)); got != want {
			t.Errorf("%d: %s, want %s", n, got, want)
		}
	}
}

// TestRankTenths: every number that a builder makes, relative to each case.
func TestRankTenths(t *testing.T) {
	_, cases := loadRanked(t, `
aircraft: {mass: 700 kg}
exits:
  belly: {area: 400 cm^2}
  gills: {from: plenum, kind: louvers, count: 7, width: 10 cm, height: 2 cm}
  shut: {from: plenum, area: 0 cm^2}
inlets: {chin: {area: 300 cm^2}}
`)
	r := mustRank(t, Ranking{Cases: cases, Tenths: true, Evaluate: evaluated(linear)})
	found := map[string]*Tenth{}
	for i := range r.Tenths {
		found[r.Tenths[i].Param.Path] = &r.Tenths[i]
	}
	belly := found["exits.belly.area"] // 400 cm² when cool, 500 cm² by the setting of hot
	near(t, "from", belly.From, 0.04)
	near(t, "step", belly.Step, 0.004)
	near(t, "up, cool", belly.Up.Flown[0].Circuits[Coolant].Margin, 4-1+0.4)
	near(t, "up, hot", belly.Up.Gain[Coolant], 0.5)
	near(t, "down, hot", belly.Down.Gain[Coolant], -0.5)
	near(t, "pieces", found["exits.gills.count"].Step, 1)
	if found["exits.belly.area"].Unit != "cm^2" {
		t.Error(belly.Unit)
	}
	for path, want := range map[string]bool{
		"inlets.chin.area": true, "exits.gills.height": true, "coolant.pump_flow": true, "exchangers.radiator.rating.heat": true,
		"exits.shut.area": false, "exits.gills.flap_angle": false, "exchangers.radiator.width": false, "aircraft.mass": false, "day.temperature": false,
	} {
		if (found[path] != nil) != want {
			t.Errorf("%s: moved %v", path, !want)
		}
	}
	if best := r.Tenths[0].Param.Path; best != "exits.belly.area" {
		t.Errorf("the strongest is %s", best)
	}
}

// TestRankPieces: a number of pieces moves by whole ones, each case from its own.
func TestRankPieces(t *testing.T) {
	_, cases := loadRanked(t, `
exits: {gills: {from: plenum, kind: louvers, count: 7, width: 10 cm, height: 2 cm}}
cases:
  - {name: cool, day: {elevation: 500 ft, temperature: 20 degC}}
  - {name: hot, day: {elevation: 500 ft, temperature: 40 degC}, set: {exits.gills.count: "26"}}
`)
	count := func(sc *scenarios.Scenario) Flown {
		return flownAt(sc.Exits["gills"].Count.Value, 99, Climb{})
	}
	r := mustRank(t, Ranking{Cases: cases, Tenths: true, Evaluate: evaluated(count)})
	for i := range r.Tenths {
		x := &r.Tenths[i]
		if x.Param.Path != "exits.gills.count" {
			continue
		}
		for k, want := range [][2]float64{{8, 6}, {29, 23}} {
			near(t, "up", x.Up.Flown[k].Circuits[Coolant].Margin, want[0])
			near(t, "down", x.Down.Flown[k].Circuits[Coolant].Margin, want[1])
		}
		return
	}
	t.Error("pieces are not moved")
}

// TestPairWeighs: a pair is flown with the weight of both changes, and on top
// of a mass that one of them sets with that of the other alone.
func TestPairWeighs(t *testing.T) {
	sc, cases := loadRanked(t, someChanges+`
  - {name: door, set: {exits.belly.area: 700 cm^2}, weight: 3 kg}
`)
	byName := map[string]*scenarios.Change{}
	for _, c := range sc.Changes {
		byName[c.Name] = c
	}
	for _, test := range []struct {
		a, b string
		mass float64
	}{{"exit", "door", 708}, {"exit", "inlet", 705}, {"less_mass", "door", 693}, {"door", "less_mass", 693}} {
		both, err := withChanges(cases[0].Scenario, byName[test.a], byName[test.b])
		if err != nil {
			t.Fatal(err)
		}
		near(t, test.a+" and "+test.b, both.Aircraft.Mass.Value, test.mass)
	}
}

// TestBestPairIsWhole: a pair with a leg that no longer reaches its end is not
// the best.
func TestBestPairIsWhole(t *testing.T) {
	pair := func(margin float64, incomplete ...int) Pair {
		return Pair{Effect: Effect{Stand: standOf([]Flown{flownAt(margin, 99, Climb{})}), NewIncomplete: incomplete}}
	}
	r := Ranked{Pairs: []Pair{pair(1), pair(3), pair(5, 0), pair(2)}}
	if best := r.BestPair(); best != 1 {
		t.Errorf("the best is pair %d", best)
	}
	r.Pairs = r.Pairs[2:3]
	if best := r.BestPair(); best != -1 {
		t.Errorf("of none the best is pair %d", best)
	}
}

// TestRankOneCaseOnly: a path that one case alone has leaves the others as they
// are; one that no case flown has changes nothing, and says so.
func TestRankOneCaseOnly(t *testing.T) {
	sc, cases := loadRanked(t, `
cases:
  - {name: cool, day: {elevation: 500 ft, temperature: 20 degC}}
  - name: hot
    day: {elevation: 500 ft, temperature: 40 degC}
    flight: {legs: [{name: steep, kind: climb, speed: 80 mph, to_altitude: 3000 ft}]}
changes:
  - {name: shallow, set: {flight.legs.steep.speed: 100 mph}}
`)
	fly := func(sc *scenarios.Scenario) Flown {
		v := sc.Flight.Legs[0].Speed.Value
		return flownAt(v, v+1, Climb{})
	}
	r := mustRank(t, Ranking{Cases: cases, Changes: sc.Changes, Evaluate: evaluated(fly)})
	if r.Flights != 3 || !r.Changes[0].Applied {
		t.Errorf("%d flights, applied %v", r.Flights, r.Changes[0].Applied)
	}
	r = mustRank(t, Ranking{Cases: []scenarios.CaseScenario{cases[1], cases[0]}, Changes: sc.Changes, Evaluate: evaluated(fly)})
	near(t, "the case that stays", r.Changes[0].Flown[1].Circuits[Coolant].Margin, r.Base.Flown[1].Circuits[Coolant].Margin)
	r = mustRank(t, Ranking{Cases: cases[:1], Changes: sc.Changes, Evaluate: evaluated(fly)})
	if r.Flights != 1 || r.Changes[0].Applied || r.Changes[0].LeastGain != 0 {
		t.Errorf("%d flights, %+v", r.Flights, r.Changes[0])
	}
}

// TestRankFailures: what fails stands last with its reason and its case.
func TestRankFailures(t *testing.T) {
	sc, cases := loadRanked(t, `
exits: {belly: {width: 30 cm, height: 20 cm, count: 1}}
changes:
  - {name: higher, set: {exits.belly.height: 25 cm}}
  - {name: breaks, set: {oil.pump_flow: 99 L/min}}
  - {name: good, set: {inlets.chin.area: 400 cm^2}}
`)
	fly := func(_ context.Context, sc *scenarios.Scenario) (Flown, error) {
		if sc.Oil.PumpFlow.Value > 98e-3/60 {
			return Flown{}, errors.New("the oil froze")
		}
		return flownAt(1, 1, Climb{}), nil
	}
	// In the hot case, which gives the exit an area, a height alone is no exit.
	r := mustRank(t, Ranking{Cases: cases, Changes: sc.Changes, Pairs: 3, Evaluate: fly})
	if r.Changes[0].Change.Name != "good" || len(r.Pairs) > 0 {
		t.Errorf("first %s, %d pairs", r.Changes[0].Change.Name, len(r.Pairs))
	}
	if err := r.single(t, "breaks").Err; err == nil || err.Error() != "case cool: the oil froze" {
		t.Error(err)
	}
	if err := r.single(t, "higher").Err; err == nil || !strings.HasPrefix(err.Error(), "case hot: ") || !strings.Contains(err.Error(), "exits.belly: has a height but no width") {
		t.Error(err)
	}
	_, err := Rank(context.Background(), Ranking{Cases: cases, Evaluate: func(context.Context, *scenarios.Scenario) (Flown, error) {
		return Flown{}, errors.New("no engine")
	}}, func() {})
	if err == nil || err.Error() != "case cool: no engine" {
		t.Errorf("nothing to compare with, got %v", err)
	}
}

// TestRankCancelled: an interrupted ranking is an error, not a ranking.
func TestRankCancelled(t *testing.T) {
	sc, cases := loadRanked(t, someChanges)
	ctx, cancel := context.WithCancel(context.Background())
	flights := 0
	r, err := Rank(ctx, Ranking{Cases: cases, Changes: sc.Changes, Tenths: true, Evaluate: func(_ context.Context, sc *scenarios.Scenario) (Flown, error) {
		if flights++; flights == 4 {
			cancel()
		}
		return linear(sc), nil
	}}, func() {})
	if r != nil || !errors.Is(err, context.Canceled) || flights > 4 {
		t.Errorf("%v, %v after %d flights", r, err, flights)
	}
}

// TestVerdictOf: a change of flying is no change of build, and a flight that
// breaks off before it gets hot is no cure.
func TestVerdictOf(t *testing.T) {
	gains := func(path string, gain float64) Single {
		return Single{
			Change: &scenarios.Change{Set: map[string]string{path: "1"}},
			Effect: Effect{Gain: [2]float64{gain, gain}, LeastGain: gain, Applied: true},
		}
	}
	broken := gains("exits.a.area", 9)
	broken.NewIncomplete = []int{0}
	r := Ranked{Changes: []Single{gains("flight.legs.climb.speed", 3), gains("exits.a.area", 2), broken}}
	v := r.Verdict()
	if v.Best != 0 || v.BestBuilt != 1 || v.BestOn != [2]int{0, 0} || v.PerCost != -1 {
		t.Errorf("%+v", v)
	}
	if broken.order(&r.Changes[1]) <= 0 {
		t.Error("a flight that breaks off ranks before a whole one")
	}
	if none := (&Ranked{}).Verdict(); none != (Verdict{-1, -1, [2]int{-1, -1}, -1, -1, -1, -1}) {
		t.Errorf("of nothing: %+v", none)
	}
	if (&Ranked{}).BestPair() != -1 {
		t.Error("a pair of nothing")
	}
}

// TestRankBounded: no more flights at a time than workers.
func TestRankBounded(t *testing.T) {
	sc, cases := loadRanked(t, someChanges)
	for _, workers := range []int{0, 1, 3} {
		var now, most atomic.Int32
		r := Ranking{Cases: cases, Changes: sc.Changes, Tenths: true, Workers: workers}
		r.Evaluate = func(_ context.Context, sc *scenarios.Scenario) (Flown, error) {
			if n := now.Add(1); n > most.Load() {
				most.Store(n)
			}
			time.Sleep(time.Millisecond)
			now.Add(-1)
			return linear(sc), nil
		}
		mustRank(t, r)
		if int(most.Load()) > max(1, workers) {
			t.Errorf("%d flights at a time by %d workers", most.Load(), workers)
		}
	}
}
