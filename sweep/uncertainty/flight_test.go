package uncertainty

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"
	"sync/atomic"
	"testing"

	"gonum.org/v1/gonum/mathext"
	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sweep"
)

const (
	heatPath = "engine.heat_to_coolant"
	pumpPath = "coolant.pump_flow"
	oilPath  = "engine.heat_to_oil"
)

// tug is a built-in scenario, in which heat and pump correlate.
func tug(t *testing.T, rho float64) *scenarios.Scenario {
	t.Helper()
	sc, err := scenarios.LoadFile("tug", nil)
	if err != nil {
		t.Fatal(err)
	}
	if sc, err = sc.Case("hot_tow"); err != nil {
		t.Fatal(err)
	}
	if rho != 0 {
		c := &scenarios.Correlation{Name: "c", Of: pumpPath, With: heatPath}
		c.Value.Value, c.Value.Written, c.Value.Known = rho, true, true
		sc.Correlations = []*scenarios.Correlation{c}
	}
	return sc
}

// toy are flights that are linear in three numbers, each counted in deviations:
// margins of the coolant 6 - 3 heat - 4 pump, of the oil 20 - 3 heat - 4 oil. The
// temperature of both rises evenly to its peak; the flight is over after
// 100 + 5 heat seconds.
type toy struct {
	at     map[string]float64
	sigma  map[string]float64
	params map[string]scenarios.Param
	fail   func(heat float64) error
}

func newToy(t *testing.T, sc *scenarios.Scenario) *toy {
	t.Helper()
	f := &toy{map[string]float64{}, map[string]float64{}, map[string]scenarios.Param{}, func(float64) error { return nil }}
	for _, path := range []string{heatPath, pumpPath, oilPath} {
		p, err := sc.Compile(path)
		if err != nil {
			t.Fatal(err)
		}
		n, _ := p.Get(sc)
		f.at[path], f.sigma[path], f.params[path] = n.Value, n.Doubt, p
	}
	return f
}

func (f *toy) of(sc *scenarios.Scenario, path string) float64 {
	n, _ := f.params[path].Get(sc)
	return (n.Value - f.at[path]) / f.sigma[path]
}

func (f *toy) fly(_ context.Context, sc *scenarios.Scenario, set sim.Settings) (*sim.Result, error) {
	heat, pump, oil := f.of(sc, heatPath), f.of(sc, pumpPath), f.of(sc, oilPath)
	if err := f.fail(heat); err != nil {
		return nil, err
	}
	r := &sim.Result{BoilMargin: math.Inf(1), Legs: []sim.LegSpan{{Name: "climb", End: 100 + 5*heat}}, Peaks: []sim.Peak{
		{Channel: "coolant_out", Limit: 118, Value: 118 - (6 - 3*heat - 4*pump)},
		{Channel: "oil_in", Limit: 120, Value: 120 - (20 - 3*heat - 4*oil)},
	}}
	for i := range r.Peaks {
		p := &r.Peaks[i]
		p.Margin = p.Limit - p.Value
	}
	if set.Sample == 0 {
		return r, nil
	}
	var times, coolant, oils []float64
	for i := 0; ; i++ {
		at := math.Min(float64(i)*set.Sample, r.Legs[0].End)
		times = append(times, at)
		coolant = append(coolant, r.Peaks[0].Value*at/r.Legs[0].End)
		oils = append(oils, r.Peaks[1].Value*at/r.Legs[0].End)
		if at == r.Legs[0].End {
			break
		}
	}
	r.Trajectory = &sim.Trajectory{Channels: []sim.Channel{
		{Name: "time_s", Values: times}, {Name: "coolant_out_degC", Values: coolant}, {Name: "oil_in_degC", Values: oils},
	}}
	return r, nil
}

// Margins of a line: σ² = 9 + 16 + 24ρ for the coolant, 25 for the oil.
func TestOfFlightOfALine(t *testing.T) {
	for _, rho := range []float64{-0.5, 0.8} {
		sc := tug(t, rho)
		for _, design := range []string{sweep.SobolDesign, sweep.LatinDesign} {
			s, err := OfFlight(t.Context(), sc, FlightSettings{Draws: 256, Sampling: design, Workers: 2, Fly: newToy(t, sc).fly})
			if err != nil {
				t.Fatal(err)
			}
			for i, want := range []struct {
				limit       string
				mean, sigma float64
			}{{CoolantLimit, 6, math.Sqrt(25 + 24*rho)}, {OilLimit, 20, 5}} {
				m := s.Margins[i]
				chance := phi(-want.mean / want.sigma)
				t.Logf("ρ = %g, %s, %s: %.3f ± %.3f, exceeded %.4f; want ± %.3f and %.4f", rho, design, m.Limit, m.Mean, m.Deviation, m.Passed.Value, want.sigma, chance)
				if m.Limit != want.limit || math.Abs(m.Stated-want.mean) > 1e-9 || math.Abs(m.Mean-want.mean) > 0.05*want.sigma || math.Abs(m.Deviation/want.sigma-1) > 0.05 {
					t.Errorf("ρ = %g, %s: %+v, want %+v", rho, design, m, want)
				}
				if m.Passed.Lo > chance || m.Passed.Hi < chance {
					t.Errorf("ρ = %g, %s, %s: exceeded %+v, want %g", rho, design, m.Limit, m.Passed, chance)
				}
			}
			if len(s.Margins) != 2 || s.Least.Stated != 6 || s.Least.Mean > s.Margins[0].Mean || s.Least.Passed.Value < s.Margins[0].Passed.Value {
				t.Errorf("least %+v of %d margins", s.Least, len(s.Margins))
			}
			if s.Bands != nil || s.Failed.Value != 0 || s.Failed.Lo != 0 || s.Failed.Hi < 0.001 || s.Draws != 256 {
				t.Errorf("bands %v, failed %+v of %d", s.Bands, s.Failed, s.Draws)
			}
		}
	}
}

// The bands of temperatures that rise evenly, T = P t/E, up to the end of the
// flight as it stands, or to where less than nine tenths are under way: a tenth of
// the flights end before 100 - 1.2816·5 = 93.6 s.
func TestBands(t *testing.T) {
	sc := tug(t, 0)
	f := newToy(t, sc)
	s, err := OfFlight(t.Context(), sc, FlightSettings{Draws: 512, Workers: 2, Times: 50, Fly: f.fly})
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Bands) != 2 || s.Bands[0].Channel != "coolant_out" || s.Bands[1].Channel != "oil_in" || s.Bands[1].Limit != 120 {
		t.Fatalf("%+v", s.Bands)
	}
	b := s.Bands[0]
	last := len(b.Time) - 1
	if b.Time[0] != 0 || b.Time[1] != 2 || b.Time[last] != 92 || b.Flights[last] < 461 || b.Flights[last] == 512 || b.Flights[0] != 512 {
		t.Errorf("times %v, flights %v", b.Time, b.Flights)
	}
	for i, at := range b.Time {
		if want := 112 * at / 100; math.Abs(b.Stated[i]-want) > 1e-9 {
			t.Errorf("%g s as it stands: %g, want %g", at, b.Stated[i], want)
		}
		if at > 80 {
			break // from here on some flights may be over
		}
		// (112 + 3h + 4p)/(100 + 5h) is 1.12 - 0.026 h + 0.04 p to first order.
		half := mathext.NormalQuantile(0.95) * math.Hypot(0.026, 0.04) * at
		for _, e := range []float64{b.Median[i] - 1.12*at, b.Low[i] - 1.12*at + half, b.High[i] - 1.12*at - half} {
			if math.Abs(e) > 0.1*half+1e-9 {
				t.Errorf("%g s: %.3f, %.3f, %.3f, want %.3f ± %.3f", at, b.Low[i], b.Median[i], b.High[i], 1.12*at, half)
				break
			}
		}
	}
}

// Draws that cannot be flown are told, and widen the intervals.
func TestFlightFailures(t *testing.T) {
	sc := tug(t, 0)
	f := newToy(t, sc)
	hot := errors.New("no balance of the air")
	f.fail = func(heat float64) error {
		if heat > 1.5 {
			return hot
		}
		return nil
	}
	set := FlightSettings{Draws: 256, Times: 20, Workers: 2, Fly: f.fly}
	s, err := OfFlight(t.Context(), sc, set)
	if err != nil {
		t.Fatal(err)
	}
	share := phi(-1.5)
	if n := len(s.Failures); math.Abs(float64(n)-256*share) > 2 || s.Failed.Value != float64(n)/256 || s.Failed.Lo > share || s.Failed.Hi < share || !errors.Is(s.Failures[0].Err, hot) {
		t.Errorf("%d failures, %+v", n, s.Failed)
	}
	if p := s.Margins[0].Passed; p.Hi < p.Value+s.Failed.Value || s.Bands[0].Flights[0] != 256-len(s.Failures) {
		t.Errorf("exceeded %+v", p)
	}
	set.Points = 64
	w, err := WhereFrom(t.Context(), sc, set)
	if err != nil || w.Dropped == 0 || len(w.Failures) < w.Dropped {
		t.Errorf("%+v, %v", w, err)
	}
	f.fail = func(heat float64) error {
		if heat != 0 {
			return hot
		}
		return nil
	}
	if _, err := OfFlight(t.Context(), sc, set); !errors.Is(err, hot) {
		t.Errorf("no draw can be flown: %v", err)
	}
	f.fail = func(heat float64) error { return hot }
	if _, err := OfFlight(t.Context(), sc, set); !errors.Is(err, hot) {
		t.Errorf("the flight cannot be flown: %v", err)
	}
	if _, err := WhereFrom(t.Context(), sc, set); !errors.Is(err, hot) {
		t.Errorf("the flight cannot be flown: %v", err)
	}
}

// Draws that cannot be, here with the limit of the coolant below its caution, are
// told; they are as many of the one half as the others of the other.
func TestTurnedFlights(t *testing.T) {
	sc, err := tug(t, 0).Edit(func(sc *scenarios.Scenario) error {
		sc.Coolant.Maximum.Doubt = sc.Coolant.Maximum.Value - sc.Coolant.Caution.Value
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	s, err := OfFlight(t.Context(), sc, FlightSettings{Draws: 256, Workers: 2, Fly: newToy(t, sc).fly})
	if err != nil {
		t.Fatal(err)
	}
	if want := 256 * phi(-1); math.Abs(float64(s.Turned)-want) > 2 || len(s.Failures) > 0 {
		t.Errorf("%d draws are turned, want %g; %d failed", s.Turned, want, len(s.Failures))
	}
}

// Where the variance of a line comes from: the coolant's from heat and pump, which
// go together, the oil's from these, 9/25, and from its own heat, 16/25.
func TestWhereFromOfALine(t *testing.T) {
	sc := tug(t, 0.5)
	w, err := WhereFrom(t.Context(), sc, FlightSettings{Points: 512, Workers: 2, Fly: newToy(t, sc).fly})
	if err != nil {
		t.Fatal(err)
	}
	want := []map[string]float64{
		{heatPath + " and " + pumpPath: 1, oilPath: 0, AllOthers: 0},
		{heatPath + " and " + pumpPath: 9. / 25, oilPath: 16. / 25, AllOthers: 0},
	}
	for i, m := range w.Margins {
		if len(m.Shares) != 3 || m.Limit != []string{CoolantLimit, OilLimit}[i] {
			t.Errorf("%+v", m)
		}
		for _, s := range m.Shares {
			share, ok := want[i][s.Name]
			t.Logf("%s, %s: %.4f and %.4f, want %.4f", m.Limit, s.Name, s.First.Value, s.Total.Value, share)
			if !ok || math.Abs(s.First.Value-share) > 0.03 || math.Abs(s.Total.Value-share) > 0.03 {
				t.Errorf("%s: %+v, want %g", m.Limit, s, share)
			}
		}
	}
	if w.Flights != 512*5 || w.Points != 512 || len(w.Least.Shares) != 3 || w.Least.Shares[0].Name != heatPath+" and "+pumpPath {
		t.Errorf("%d flights; least %+v", w.Flights, w.Least)
	}
	// The range of the oil heat, cut off below, leaves σ² (1 + α φ(α) - φ(α)²) of its
	// variance, for hardly anything lies below α.
	f := newToy(t, sc)
	alpha := (f.params[oilPath].Lo - f.at[oilPath]) / f.sigma[oilPath]
	density := math.Exp(-alpha*alpha/2) / math.Sqrt(2*math.Pi)
	oil := math.Sqrt(9 + 16*(1+alpha*density-density*density))
	if sigma := w.Slopes.Spread().Circuits; math.Abs(sigma[sweep.Coolant]-math.Sqrt(37)) > 1e-9 || math.Abs(sigma[sweep.Oil]-oil) > 1e-7 {
		t.Errorf("by slopes %.10f, want the oil %.10f at %g deviations", sigma, oil, alpha)
	}
}

// Of twelve numbers that do something, number k as much as k + 1, the last eight
// have a share of their own.
func TestMostAlone(t *testing.T) {
	sc := tug(t, 0)
	doubts, err := sweep.DoubtsOf(sc)
	if err != nil {
		t.Fatal(err)
	}
	fly := func(_ context.Context, sc *scenarios.Scenario, _ sim.Settings) (*sim.Result, error) {
		r := &sim.Result{BoilMargin: math.Inf(1), Peaks: make([]sim.Peak, 2)}
		for k := range 12 {
			n, _ := doubts.Params[k].Get(sc)
			r.Peaks[0].Margin += float64(k+1) * (n.Value - doubts.Mean[k]) / doubts.Deviation[k]
		}
		return r, nil
	}
	w, err := WhereFrom(t.Context(), sc, FlightSettings{Points: 2, Fly: fly})
	if err != nil {
		t.Fatal(err)
	}
	names := map[string]bool{}
	for _, s := range w.Margins[0].Shares {
		names[s.Name] = true
	}
	if len(names) != mostAlone+1 || !names[AllOthers] {
		t.Errorf("%v", names)
	}
	for k := range 12 {
		if names[doubts.Params[k].Path] != (k >= 4) {
			t.Errorf("%s, number %d, is alone: %t", doubts.Params[k].Path, k, names[doubts.Params[k].Path])
		}
	}
}

// Flights are the same to the last digit with one worker and with four, and as
// many as foretold.
func TestFlightWorkersAlike(t *testing.T) {
	sc := tug(t, 0.5)
	spread := func(workers int, seed uint64) *FlightSpread {
		s, err := OfFlight(t.Context(), sc, FlightSettings{Draws: 16, Workers: workers, Seed: seed})
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	of := func(workers int, seed uint64) []byte {
		var flights atomic.Int64
		set := FlightSettings{Draws: 16, Points: 2, Times: 60, Workers: workers, Seed: seed, Flown: func() { flights.Add(1) }}
		s, err := OfFlight(t.Context(), sc, set)
		if err != nil {
			t.Fatal(err)
		}
		if int(flights.Load()) != set.SpreadFlights() {
			t.Errorf("%d flights, foretold %d", flights.Load(), set.SpreadFlights())
		}
		flights.Store(0)
		w, err := WhereFrom(t.Context(), sc, set)
		if err != nil {
			t.Fatal(err)
		}
		if n, most := int(flights.Load()), set.SourceFlights(len(w.Doubts.Params)); n > most || n < most/2 || len(w.Margins) != 3 || len(w.Margins[0].Shares) > mostAlone+1 {
			t.Errorf("%d flights, foretold at most %d", n, most)
		}
		text, err := json.Marshal([]any{s.Margins, s.Least, s.Bands, s.Failed, w.Margins, w.Least, w.Slopes.By})
		if err != nil {
			t.Fatal(err)
		}
		return text
	}
	one := of(1, 3)
	if !bytes.Equal(one, of(4, 3)) {
		t.Error("four workers give something else than one")
	}
	if a, b := spread(4, 3), spread(4, 4); a.Least == b.Least {
		t.Error("another seed gives the same")
	}
}

func TestFlightFaults(t *testing.T) {
	sc := tug(t, 0)
	for _, row := range []struct {
		set  FlightSettings
		want string
	}{
		{FlightSettings{Draws: 100}, "100 points: a Sobol sequence needs a power of two"},
		{FlightSettings{Sampling: "dice"}, `design "dice" is not known`},
		{FlightSettings{Draws: 1}, "1 points: take 2"},
		{FlightSettings{Level: 2}, "level 2"},
	} {
		row.set.Fly = newToy(t, sc).fly
		if _, err := OfFlight(t.Context(), sc, row.set); err == nil || !strings.Contains(err.Error(), row.want) {
			t.Errorf("%v, want %q", err, row.want)
		}
	}
	known := sc.Clone()
	doubts, err := sweep.DoubtsOf(sc)
	if err != nil {
		t.Fatal(err)
	}
	for k, p := range doubts.Params {
		if err := p.Set(known, doubts.Mean[k]); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := OfFlight(t.Context(), known, FlightSettings{}); !errors.Is(err, ErrNoDoubt) {
		t.Errorf("nothing is in doubt: %v", err)
	}
	if _, err := WhereFrom(t.Context(), known, FlightSettings{}); !errors.Is(err, ErrNoDoubt) {
		t.Errorf("nothing is in doubt: %v", err)
	}
	ctx, stop := context.WithCancel(t.Context())
	stop()
	if _, err := OfFlight(ctx, sc, FlightSettings{}); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}

// A flight whose temperatures run away before it begins has margins, but is never
// under way.
func TestFlightThatDoesNotBegin(t *testing.T) {
	sc := tug(t, 0)
	f := newToy(t, sc)
	fly := func(most float64) func(context.Context, *scenarios.Scenario, sim.Settings) (*sim.Result, error) {
		return func(ctx context.Context, sc *scenarios.Scenario, set sim.Settings) (*sim.Result, error) {
			r, err := f.fly(ctx, sc, set)
			if f.of(sc, heatPath) > most {
				r.Legs, r.Incomplete = nil, "climb"
				r.Trajectory = &sim.Trajectory{Channels: []sim.Channel{{Name: "time_s"}, {Name: "coolant_out_degC"}, {Name: "oil_in_degC"}}}
			}
			return r, err
		}
	}
	s, err := OfFlight(t.Context(), sc, FlightSettings{Draws: 256, Times: 20, Fly: fly(1.5)})
	if err != nil {
		t.Fatal(err)
	}
	if n := s.Incomplete; math.Abs(float64(n)-256*phi(-1.5)) > 2 || s.Bands[0].Flights[0] != 256-n || len(s.Failures) != 0 {
		t.Errorf("%d incomplete, %d under way", n, s.Bands[0].Flights[0])
	}
	s, err = OfFlight(t.Context(), sc, FlightSettings{Draws: 16, Times: 20, Fly: fly(math.Inf(-1))})
	if err != nil || s.Bands != nil || s.Incomplete != 16 {
		t.Errorf("%+v, %v", s, err)
	}
}

func ExampleOfFlight() {
	sc, err := scenarios.LoadFile("tug", nil)
	if err == nil {
		sc, err = sc.Case("hot_tow")
	}
	if err != nil {
		fmt.Println(err)
		return
	}
	s, err := OfFlight(context.Background(), sc, FlightSettings{Draws: 64, Workers: 2})
	if err != nil {
		fmt.Println(err)
		return
	}
	m := s.Margins[0]
	fmt.Printf("%s: %.0f K as filed, from %.0f to %.0f K\n", m.Limit, m.Stated, m.Low, m.High)
	// Output:
	// coolant: 1 K as filed, from -17 to 15 K
}
