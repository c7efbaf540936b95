package optimum

import (
	"context"
	"fmt"
	"math"
	"testing"

	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sweep"
)

// toySpread is how far the margins of the toy spread:
//
//	coolant: 1 + (v − 25)/10   oil: 2 K
//
// one K more on the coolant with spray.
func toySpread(_ context.Context, c condition) (sweep.Spread, error) {
	s := sweep.Spread{Circuits: [2]float64{1 + (c.speed-25)/10, 2}}
	if c.spray != nil {
		s.Circuits[sweep.Coolant]++
	}
	return s, nil
}

func doubtfulStudy(t *testing.T, k float64) LimitStudy {
	study := toyStudy(t)
	study.Doubt, study.spread = k, toySpread
	return study
}

// The highest temperature falls by K deviations of the margin that decides, and
// hotter days count from there.
func TestLimitsWithDoubtInClosedForm(t *testing.T) {
	const k = 1.5
	table, err := Limits(context.Background(), doubtfulStudy(t, k))
	if err != nil {
		t.Fatal(err)
	}
	if table.Doubt != k {
		t.Errorf("the table keeps %g", table.Doubt)
	}
	found := 0
	for _, r := range table.Rows {
		if r.Speed == 15 || r.Speed == 50 {
			if r.Spread != nil || r.Bound != NoClimb {
				t.Errorf("no climb: %+v", r)
			}
			continue
		}
		found++
		coolant, oil := r.Speed+r.Elevation/500-k*(1+(r.Speed-25)/10), 34+0.5*(r.Speed-30)-k*2
		want, by := coolant, ByCoolant
		if oil < coolant {
			want, by = oil, ByOil
		}
		if r.Bound != Found || r.By != by || r.Temperature > want || r.Temperature < want-temperatureTolerance {
			t.Errorf("%g m/s, %g m: %+v, want %g by %s", r.Speed, r.Elevation, r, want, by)
		}
		if math.Abs(r.Spread.Circuits[sweep.Coolant]-1-(r.Speed-25)/10) > 1e-12 {
			t.Errorf("%+v", *r.Spread)
		}
		for _, a := range r.Above {
			if over := a.Temperature - want; math.Abs(a.Time*over-600) > 1e-6 || a.By != by {
				t.Errorf("%g m/s at %g °C: %+v", r.Speed, a.Temperature, a)
			}
		}
	}
	if found != 8 {
		t.Errorf("%d rows", found)
	}
	for _, s := range table.Slowest { // what is kept is straight in the speed, as the toy has it
		day := 35 - (s.Elevation-toyElevation)*0.0065
		// v + h/500 − K (1 + (v − 25)/10) ≥ day; 34 + (v − 30)/2 − 2 K ≥ day
		coolant, oil := (day-s.Elevation/500+k*(1-2.5))/(1-k/10), 30+2*(day-34+2*k)
		want, by := coolant, ByCoolant
		if oil > coolant {
			want, by = oil, ByOil
		}
		if s.Bound != SlowestFound || s.By != by || s.Speed < want || s.Speed > want+speedTolerance {
			t.Errorf("%+v, want %g by %s", s, want, by)
		}
	}
}

// With spray the coolant spreads by one K more, which the spray has to bring as
// well: 10 °F above the highest temperature without, 5.56 + 1 K at 10 K for a litre
// a minute.
func TestSprayWithDoubtInClosedForm(t *testing.T) {
	study := doubtfulStudy(t, 1)
	study.evaluate = coolantToy
	table, err := Limits(context.Background(), study)
	if err != nil {
		t.Fatal(err)
	}
	s, own := table.Spray, table.Own
	kept := own.Spread.Circuits[sweep.Coolant]
	if want := own.Speed - kept; own.Temperature > want || own.Temperature < want-temperatureTolerance {
		t.Errorf("%g °C without spray, want %g", own.Temperature, want)
	}
	least := (s.RateFor - own.Speed + kept + 1) / 10 * litrePerMin
	if !s.Least || s.Rate < least || s.Rate > least+rateTolerance*litrePerMin {
		t.Errorf("rate %g L/min, want %g", s.Rate/litrePerMin, least/litrePerMin)
	}
	want := own.Speed - kept - 1 + 10*s.Rate/litrePerMin
	if s.Ceiling.Bound != Found || s.Ceiling.Temperature > want || s.Ceiling.Temperature < want-temperatureTolerance {
		t.Errorf("with spray %+v, want %g", s.Ceiling, want)
	}
}

// No deviation is the same as no doubt, and asks for none.
func TestLimitsWithoutDoubt(t *testing.T) {
	plain, err := Limits(context.Background(), toyStudy(t))
	if err != nil {
		t.Fatal(err)
	}
	study := toyStudy(t)
	study.spread = func(context.Context, condition) (sweep.Spread, error) { return sweep.Spread{}, fmt.Errorf("asked") }
	none, err := Limits(context.Background(), study)
	if err != nil {
		t.Fatal(err)
	}
	print := func(table *LimitTable) string {
		return pointers.ReplaceAllString(fmt.Sprintf("%+v %+v", *table, *table.Spray), "")
	}
	if print(plain) != print(none) {
		t.Errorf("%s\n%s", print(plain), print(none))
	}
	study.Doubt = 1
	if _, err := Limits(context.Background(), study); err == nil || err.Error() != "asked" {
		t.Errorf("a spread that cannot be told: %v", err)
	}
}

// Where no row tells what to keep, slow climbs ask for themselves; beyond the
// rows the nearest tells.
func TestKeptAt(t *testing.T) {
	row := func(speed, elevation, coolant float64) LimitRow {
		r := LimitRow{Speed: speed, Elevation: elevation}
		if coolant > 0 {
			r.Spread = &sweep.Spread{Circuits: [2]float64{coolant, 1}, Boil: coolant / 2}
		}
		return r
	}
	p := &limitPlan{study: LimitStudy{Doubt: 2}}
	table := &LimitTable{Rows: []LimitRow{
		row(20, 0, 0), row(30, 0, 4), row(40, 0, 6), row(50, 0, 0), row(30, 1000, 0), row(40, 1000, 0),
	}}
	for _, test := range []struct{ speed, elevation, want float64 }{
		{20, 0, 8}, {30, 0, 8}, {32.5, 0, 9}, {40, 0, 12}, {60, 0, 12}, {35, 1000, -1},
	} {
		got, known := p.keptAt(table, test.speed, test.elevation)
		if known != (test.want > 0) || known && (math.Abs(got.Circuits[0]-test.want) > 1e-12 || got.Circuits[1] != 2 || math.Abs(got.Boil-test.want/2) > 1e-12) {
			t.Errorf("%+v: %+v, %t", test, got, known)
		}
	}
	table.Own = row(35, 0, 5)
	if got, known := p.keptAt(table, 35, 1000); !known || got.Circuits[0] != 10 {
		t.Errorf("as the own climb: %+v", got)
	}

	study := doubtfulStudy(t, 1)
	study.Speeds, study.Elevations = []float64{15, 50}, []float64{toyElevation} // of which none climbs; 32.5 between does
	asked := 0
	study.spread = func(_ context.Context, c condition) (sweep.Spread, error) {
		if c.asFiled {
			asked++
		}
		return sweep.Spread{Circuits: [2]float64{9, 9}}, nil
	}
	plan, err := study.plan(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	lost := &LimitTable{Rows: []LimitRow{{Speed: 15, Elevation: toyElevation}}}
	v, err := plan.flySlow(context.Background(), lost, condition{speed: 40, elevation: toyElevation, asFiled: true})
	if err != nil || asked != 1 || math.Abs(v.margin-(34+5-35-9)) > 1e-9 {
		t.Errorf("%+v, %v, asked %d times", v, err, asked)
	}
	if v, _ = plan.flySlow(context.Background(), lost, condition{speed: 25, elevation: toyElevation, asFiled: true}); asked != 1 || !(v.margin < 0) {
		t.Errorf("over a limit as it is: %+v, asked %d times", v, asked)
	}
}

// At the highest temperature with half a deviation kept, that much is left of the
// margin that decides, as a flight and a slope of its own tell. At another speed
// slopes of all numbers tell hardly anything else than those that were flown there.
func TestLimitsOfTheTugWithDoubt(t *testing.T) {
	k := caseOf(t, "tug", "hot_tow")
	speed := k.Scenario.Flight.Legs[2].Speed.Value
	const kept = 0.5
	study := LimitStudy{Case: k, Speeds: []float64{speed, 1.2 * speed}, Elevations: []float64{k.Scenario.Day.Elevation.Value}, Doubt: kept, Workers: 2}
	table := limitsOf(t, study)
	own := table.Own
	if own.Bound != Found || own.Spread == nil || own.Spread.Circuits[0] < 3 || own.Spread.Boil < 3 {
		t.Fatalf("%+v", own)
	}
	r := flown(t, k, scenarios.Setting{Path: "day.temperature", Text: degC(own.Temperature)}, scenarios.Setting{Path: "spray.rate", Text: "0 L/min"})
	left := math.Inf(1)
	for i, s := range own.Spread.Circuits {
		left = math.Min(left, r.Peaks[i].Margin-kept*s)
	}
	if left < 0 || left > 2*temperatureTolerance {
		t.Errorf("%g K are left over what is kept", left)
	}
	if fmt.Sprint(table.Filed) != fmt.Sprint(limitsOfTug(t).Filed) {
		t.Errorf("the flight as filed is judged otherwise: %+v", table.Filed)
	}
	plain := limitsOfTug(t).Own
	if fall := plain.Temperature - own.Temperature; fall < kept*own.Spread.Circuits[1]*0.7 || fall > kept*own.Spread.Circuits[1]*1.4 {
		t.Errorf("%g K less for a spread of %+v", fall, *own.Spread)
	}
	at := sweepAt(t, k, plain.Temperature, speed)
	for i, s := range at.Circuits {
		if math.Abs(s-own.Spread.Circuits[i]) > 1e-9 {
			t.Errorf("circuit %d spreads by %g, as the table has it %g", i, s, own.Spread.Circuits[i])
		}
	}
	fast := table.Rows[1]
	without := fast.Temperature + kept*fast.Spread.Circuits[sweep.Coolant] // about where the row looked
	for i, s := range sweepAt(t, k, without, fast.Speed).Circuits {
		if got := fast.Spread.Circuits[i]; math.Abs(got/s-1) > 0.02 || got == own.Spread.Circuits[i] {
			t.Errorf("circuit %d spreads by %g at %g m/s, as the table has it %g", i, s, fast.Speed, got)
		}
	}
}

// sweepAt is the spread of the tow without spray at a field temperature.
func sweepAt(t *testing.T, k scenarios.CaseScenario, temperature, speed float64) sweep.Spread {
	t.Helper()
	sc, err := k.Scenario.Edit(func(sc *scenarios.Scenario) error {
		for path, value := range map[string]float64{"day.temperature": temperature, "spray.rate": 0, "flight.legs.tow.speed": speed} {
			if err := setAt(sc, path, value); err != nil {
				return err
			}
		}
		for _, leg := range sc.Flight.Legs { // what a climb is set up with is known
			if leg.ToAltitude.Known {
				leg.ToAltitude.Doubt = 0
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	doubts, err := sweep.DoubtsOf(sc)
	if err != nil {
		t.Fatal(err)
	}
	d := sweep.Doubt{Scenario: sc, Doubts: doubts, Workers: 2, Fly: func(ctx context.Context, sc *scenarios.Scenario) (sweep.Outcome, error) {
		r, err := sweep.Fly(ctx, sc, sim.Settings{})
		if err != nil {
			return sweep.Outcome{}, err
		}
		return sweep.OutcomeOf(r), nil
	}}
	s, err := d.BySlopes(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return s
}
