package optimum

import (
	"context"
	"fmt"
	"math"
	"regexp"
	"testing"

	"hotclimb/scenarios"
	"hotclimb/sweep"
)

// caseOf is one case of a built-in scenario with settings.
func caseOf(t *testing.T, file, name string, set ...scenarios.Setting) scenarios.CaseScenario {
	t.Helper()
	sc, err := scenarios.LoadFile(file, nil)
	if err != nil {
		t.Fatal(err)
	}
	cases, err := sc.EffectiveCases([]string{name}, set)
	if err != nil {
		t.Fatal(err)
	}
	return cases[0]
}

// toy is a climb in closed form. Coolant and oil have the margins
//
//	coolant: 30 + (v − 30) − T + h/500 + min(w, 20)   oil: 34 + 0.5 (v − 30) − T
//
// with speed v [m/s], field temperature T [°C], elevation h [m] and w the litres
// of spray water a minute times ten, if it runs 100 s at least and the tank lasts
// so long, less what is kept. A limit passed by m is reached after 600/m s. Above 45 m/s there is no
// climb, below 20 m/s no flight.
func toy(_ context.Context, c condition) (verdict, error) {
	if c.asFiled {
		c.temperature = 35 - (c.elevation-toyElevation)*0.0065 // the air of the tug's day
	}
	coolant := 30 + (c.speed - 30) - c.temperature + c.elevation/500
	v := verdict{reached: math.NaN(), leg: "tow", climbTime: 700}
	if s := c.spray; s != nil {
		long := math.Min(s.tank/s.rate, s.time)
		if s.time == 0 {
			long = s.tank / s.rate
		}
		if long >= 100 {
			coolant += math.Min(10*s.rate/litrePerMin, 20)
		}
		v.water = waterDensity * s.rate * math.Min(long, 400)
	}
	oil := 34 + 0.5*(c.speed-30) - c.temperature
	coolant, oil = coolant-c.kept.Circuits[sweep.Coolant], oil-c.kept.Circuits[sweep.Oil]
	v.margin, v.by = coolant, ByCoolant
	if oil < coolant {
		v.margin, v.by = oil, ByOil
	}
	if v.margin < 0 {
		v.reached = -600 / v.margin
	}
	switch {
	case c.speed < 20:
		v.stalled, v.trouble = true, "slower than the aircraft can fly"
	case c.speed > 45:
		v.trouble = "leg tow does not reach its end"
	}
	return v, nil
}

const toyElevation = 620 * foot // of the tug

// toyCeiling is the highest temperature of the toy without spray.
func toyCeiling(speed, elevation float64) (float64, string) {
	coolant, oil := speed+elevation/500, 34+0.5*(speed-30)
	if oil < coolant {
		return oil, ByOil
	}
	return coolant, ByCoolant
}

func toyStudy(t *testing.T) LimitStudy {
	return LimitStudy{
		Case: caseOf(t, "tug", "hot_tow"), Speeds: []float64{40, 15, 25, 30, 35, 50}, Elevations: []float64{toyElevation, 1500},
		Workers: 3, evaluate: toy,
	}
}

func TestLimitsInClosedForm(t *testing.T) {
	table, err := Limits(context.Background(), toyStudy(t))
	if err != nil {
		t.Fatal(err)
	}
	if len(table.Rows) != 12 {
		t.Fatalf("%d rows", len(table.Rows))
	}
	for i, r := range table.Rows {
		speed, elevation := []float64{15, 25, 30, 35, 40, 50}[i%6], []float64{toyElevation, 1500}[i/6]
		if r.Speed != speed || r.Elevation != elevation {
			t.Fatalf("row %d is %g m/s, %g m", i, r.Speed, r.Elevation)
		}
		switch {
		case speed == 15:
			if r.Bound != NoClimb || r.By != ByStall || !math.IsNaN(r.Temperature) || r.Above != nil {
				t.Errorf("too slow: %+v", r)
			}
			continue
		case speed == 50:
			if r.Bound != NoClimb || r.By != ByClimb || r.Trouble == "" {
				t.Errorf("no climb: %+v", r)
			}
			continue
		}
		want, by := toyCeiling(speed, elevation)
		if r.Bound != Found || r.By != by || r.Temperature > want || r.Temperature < want-temperatureTolerance {
			t.Errorf("%g m/s, %g m: %+v, want %g by %s", speed, elevation, r, want, by)
		}
		for k, a := range r.Above {
			over := a.Temperature - want
			if math.Abs(a.Temperature-r.Temperature-table.Above[k]) > 1e-9 {
				t.Errorf("step %d is %g", k, a.Temperature-r.Temperature)
			}
			// Both circuits lose 1 K/K, so that one limit leads all the way up.
			if math.Abs(a.Time*over-600) > 1e-6 || a.By != by {
				t.Errorf("%g m/s at %g °C: %+v", speed, a.Temperature, a)
			}
		}
	}
}

// On the day of the file, 35 °C at 189 m, the coolant wants v + h/500 ≥ T, the
// oil 34 + (v − 30)/2 ≥ T.
func TestSlowestInClosedForm(t *testing.T) {
	table, err := Limits(context.Background(), toyStudy(t))
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range table.Slowest {
		day := 35 - (s.Elevation-toyElevation)*0.0065
		want, by := math.Max(day-s.Elevation/500, 30+2*(day-34)), ByCoolant
		if 30+2*(day-34) == want {
			by = ByOil
		}
		if s.Bound != SlowestFound || s.By != by || s.Speed < want || s.Speed > want+speedTolerance || s.Fastest != 45 {
			t.Errorf("%+v, want %g by %s", s, want, by)
		}
		if math.Abs(s.Temperature-day) > 1e-9 {
			t.Errorf("%g °C at %g m, want %g", s.Temperature, s.Elevation, day)
		}
	}
}

// A margin that falls and rises again with speed leaves the fast side alone safe.
func TestSlowestOfMarginsThatTurn(t *testing.T) {
	study := toyStudy(t)
	study.Speeds, study.Elevations = []float64{20, 25, 30, 35, 40}, []float64{toyElevation}
	study.evaluate = func(_ context.Context, c condition) (verdict, error) {
		return verdict{margin: math.Abs(c.speed-31) - 2, by: ByOil}, nil // bad between 29 and 33
	}
	table, err := Limits(context.Background(), study)
	if err != nil {
		t.Fatal(err)
	}
	if s := table.Slowest[0]; s.Bound != SlowestFound || s.Speed < 33 || s.Speed > 33+speedTolerance {
		t.Errorf("%+v", s)
	}
	study.evaluate = func(_ context.Context, c condition) (verdict, error) { return verdict{margin: 1}, nil }
	if table, err = Limits(context.Background(), study); err != nil || table.Slowest[0].Bound != SlowestAny || table.Slowest[0].Speed != 20 {
		t.Errorf("all are safe: %+v, %v", table.Slowest, err)
	}
	if table.Own.Bound != Hotter || table.Own.Temperature != HottestField || table.Own.Above != nil {
		t.Errorf("no limit: %+v", table.Own)
	}
	study.evaluate = func(_ context.Context, c condition) (verdict, error) {
		return verdict{margin: -90, by: ByBoiling}, nil
	}
	table, err = Limits(context.Background(), study)
	if err != nil || table.Slowest[0].Bound != SlowestNone || table.Slowest[0].Speed != 40 || table.Slowest[0].By != ByBoiling {
		t.Errorf("none is safe: %+v, %v", table.Slowest, err)
	}
	if table.Own.Bound != Colder || table.Own.By != ByBoiling || table.Spray.Trouble == "" {
		t.Errorf("always over: %+v, %+v", table.Own, table.Spray)
	}
}

// A flight that cannot be computed is told as such, not as a slow climb.
func TestFaultsAreTold(t *testing.T) {
	study := toyStudy(t)
	study.Speeds = []float64{30, 40}
	study.evaluate = func(ctx context.Context, c condition) (verdict, error) {
		if c.speed == 40 {
			return verdict{margin: math.NaN(), by: ByFault, trouble: "the air flow was not found"}, nil
		}
		return toy(ctx, c)
	}
	table, err := Limits(context.Background(), study)
	if err != nil {
		t.Fatal(err)
	}
	if r := table.Rows[1]; r.Bound != NoClimb || r.By != ByFault || r.Trouble != "the air flow was not found" {
		t.Errorf("%+v", r)
	}
	if r := table.Rows[0]; r.Bound != Found {
		t.Errorf("%+v", r)
	}
}

// coolantToy is the toy with coolant alone, of the margin v − T + min(w, 20).
func coolantToy(ctx context.Context, c condition) (verdict, error) {
	v, err := toy(ctx, condition{speed: c.speed, elevation: 1e5, temperature: c.temperature - 15, asFiled: c.asFiled})
	spray, _ := toy(ctx, c)
	v.margin, v.by, v.water = c.speed-c.temperature-c.kept.Circuits[sweep.Coolant], ByCoolant, spray.water
	if s := c.spray; s != nil && (s.time == 0 || s.time >= 100) && s.tank/s.rate >= 100 {
		v.margin += math.Min(10*s.rate/litrePerMin, 20)
	}
	return v, err
}

// The tug climbs at 31.29 m/s: 31.67 °C by the coolant, 34.65 °C by the oil. At
// 10 °F above the first the oil is 2.58 K over whatever is sprayed.
func TestSprayInClosedForm(t *testing.T) {
	study := toyStudy(t)
	table, err := Limits(context.Background(), study)
	if err != nil {
		t.Fatal(err)
	}
	if s := table.Spray; s.Rate != 0 || s.Trouble == "" || math.Abs(s.Brings-2.98) > 0.05 || s.Onto != "radiator" || s.Circuit != ByCoolant {
		t.Errorf("spray cannot hold the oil: %+v", s)
	}
	study.evaluate = coolantToy
	if table, err = Limits(context.Background(), study); err != nil {
		t.Fatal(err)
	}
	s := table.Spray
	step := 10 / 1.8
	least := s.RateFor - table.Own.Speed // over the limit, at 10 K for a litre a minute
	if !s.Least || s.Rate < least/10*litrePerMin || s.Rate > (least/10+rateTolerance)*litrePerMin {
		t.Errorf("rate %g L/min for %g K: %+v", s.Rate/litrePerMin, least, s)
	}
	if math.Abs(least-step) > temperatureTolerance || math.Abs(s.Carried-s.Tank/s.Rate) > 1e-9 {
		t.Errorf("step %g, carried %g", least, s.Carried)
	}
	for k, n := range s.Needed {
		switch {
		case k < 2 && (n.Time < 100 || n.Time > 100+timeTolerance || !n.Enough):
			t.Errorf("100 s are needed and carried: %+v", n)
		case k == 2 && (!math.IsNaN(n.Time) || n.Enough):
			t.Errorf("nothing holds there: %+v", n)
		}
	}
	want := table.Own.Speed + 10*s.Rate/litrePerMin
	if s.Ceiling.Bound != Found || s.Ceiling.Temperature > want || s.Ceiling.Temperature < want-temperatureTolerance {
		t.Errorf("with spray %+v, want %g", s.Ceiling, want)
	}
}

// The file lets spray run for less than the tank lasts.
func TestSprayStoppedByTheFile(t *testing.T) {
	study := toyStudy(t)
	study.evaluate = coolantToy
	var err error
	study.Case.Scenario, err = study.Case.Scenario.Edit(func(sc *scenarios.Scenario) error { return setAt(sc, "spray.for", 60) })
	if err != nil {
		t.Fatal(err)
	}
	table, err := Limits(context.Background(), study)
	if err != nil {
		t.Fatal(err)
	}
	if s := table.Spray; s.Carried != 60 || len(s.Needed) == 0 || s.Needed[0].Enough {
		t.Errorf("60 s of spray, and 100 s are needed: %+v", s)
	}
}

// Whatever the number of workers, the answer and the number of parts is the same.
func TestWorkersAndParts(t *testing.T) {
	var first string
	for _, workers := range []int{1, 4} {
		study := toyStudy(t)
		study.Workers = workers
		done := make(chan bool, 1000)
		study.Done = func() { done <- true }
		table, err := Limits(context.Background(), study)
		if err != nil {
			t.Fatal(err)
		}
		if len(done) != study.Parts() {
			t.Errorf("%d parts done, %d announced", len(done), study.Parts())
		}
		if got := fmt.Sprintf("%+v %+v", *table, *table.Spray); first == "" {
			first = got
		} else if pointers.ReplaceAllString(got, "") != pointers.ReplaceAllString(first, "") {
			t.Errorf("%d workers:\n%s\n1 worker:\n%s", workers, got, first)
		}
	}
}

// pointers are addresses in printed values.
var pointers = regexp.MustCompile(`0x[0-9a-f]+`)
