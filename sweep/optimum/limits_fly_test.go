package optimum

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"
	"sync"
	"testing"

	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sweep"
)

// flown flies a case with paths set as --set does.
func flown(t *testing.T, k scenarios.CaseScenario, set ...scenarios.Setting) *sim.Result {
	t.Helper()
	sc, err := k.Scenario.With(set)
	if err != nil {
		t.Fatal(err)
	}
	r, err := sweep.Fly(context.Background(), sc, sim.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func degC(t float64) string { return fmt.Sprintf("%.6f degC", t) }

// limitsOf answers a study.
func limitsOf(t *testing.T, study LimitStudy) *LimitTable {
	t.Helper()
	table, err := Limits(context.Background(), study)
	if err != nil {
		t.Fatal(err)
	}
	return table
}

// tugTable is the answer for the tug in its hot tow, as it is asked first.
var tugTable = sync.OnceValues(func() (*LimitTable, error) {
	sc, err := scenarios.LoadFile("tug", nil)
	if err != nil {
		return nil, err
	}
	cases, err := sc.EffectiveCases([]string{"hot_tow"}, nil)
	if err != nil {
		return nil, err
	}
	return Limits(context.Background(), LimitStudy{Case: cases[0], Workers: 2})
})

func limitsOfTug(t *testing.T) *LimitTable {
	t.Helper()
	table, err := tugTable()
	if err != nil {
		t.Fatal(err)
	}
	return table
}

// 0.2 K below the highest temperature a flight, set up by texts, is within its
// limits, 0.2 K above it is over the limit named.
func TestLimitsOfTheTugHold(t *testing.T) {
	k := caseOf(t, "tug", "hot_tow")
	table := limitsOfTug(t)
	for _, r := range table.Rows {
		if r.Bound != Found || r.By == ByClimb {
			continue
		}
		at := func(temperature float64) *sim.Result { return towed(t, k, r.Speed, r.Elevation, temperature) }
		if span := spanOf(at(r.Temperature), "tow"); math.Abs(span.End-span.Start-r.ClimbTime) > 1 {
			t.Errorf("%.1f m/s, %.0f m: the tow takes %.0f s, not %.0f s", r.Speed, r.Elevation, span.End-span.Start, r.ClimbTime)
		}
		if below := at(r.Temperature - 0.2); below.Status == sim.OverLimit || below.BoilMargin < 0 || below.Incomplete != "" {
			t.Errorf("%.1f m/s, %.0f m: at %.2f °C it is %s", r.Speed, r.Elevation, r.Temperature-0.2, below.Status)
		}
		above := at(r.Temperature + 0.2)
		if i := map[string]int{ByCoolant: sweep.Coolant, ByOil: sweep.Oil}[r.By]; !above.Peaks[i].Exceeded {
			t.Errorf("%.1f m/s, %.0f m: at %.2f °C the %s is within its limit", r.Speed, r.Elevation, r.Temperature+0.2, r.By)
		}
		hot := at(r.Above[2].Temperature)
		first := math.Min(timeOf(hot.Peaks[0]), timeOf(hot.Peaks[1])) - spanOf(hot, "tow").Start
		if math.Abs(math.Max(0, first)-r.Above[2].Time) > 0.1 {
			t.Errorf("%.1f m/s: the limit is reached after %.1f s, not %.1f s", r.Speed, first, r.Above[2].Time)
		}
	}
	trends(t, table)
}

// towed flies the tug's tow, set up by texts, to the height above the field that
// it is filed with.
func towed(t *testing.T, k scenarios.CaseScenario, speed, elevation, temperature float64) *sim.Result {
	t.Helper()
	up := elevation - 620*foot
	return flown(t, k, scenarios.Setting{Path: "day.temperature", Text: degC(temperature)},
		scenarios.Setting{Path: "day.elevation", Text: fmt.Sprintf("%.6f m", elevation)},
		scenarios.Setting{Path: "flight.legs.tow.speed", Text: fmt.Sprintf("%.8f m/s", speed)},
		scenarios.Setting{Path: "flight.legs.tow.to_altitude", Text: fmt.Sprintf("%.6f m", 5600*foot+up)},
		scenarios.Setting{Path: "flight.legs.down.to_altitude", Text: fmt.Sprintf("%.6f m", 900*foot+up)})
}

// timeOf is when a limit is reached.
func timeOf(p sim.Peak) float64 {
	if !p.Exceeded {
		return math.Inf(1)
	}
	return p.TimeToLimit
}

// The hotter the day, the sooner the limit. More speed brings more air: as long
// as the tug climbs well, its highest temperature rises with speed.
func trends(t *testing.T, table *LimitTable) {
	for i, r := range table.Rows {
		for k := 1; k < len(r.Above); k++ {
			if r.Above[k].Time > r.Above[k-1].Time {
				t.Errorf("%.1f m/s, %.0f m: the limit comes later on a hotter day: %+v", r.Speed, r.Elevation, r.Above)
			}
		}
		if i > 0 && table.Rows[i-1].Elevation == r.Elevation && r.By != ByClimb && r.Temperature <= table.Rows[i-1].Temperature {
			t.Errorf("%.0f m: %.1f °C at %.1f m/s, less than slower", r.Elevation, r.Temperature, r.Speed)
		}
	}
}

// At the slowest safe speed the flight is within limits on the day of the file;
// 0.5 m/s slower it is not. On a higher field the same air is cooler, by 6.5 K
// in 1000 m.
func TestSlowestOfTheTug(t *testing.T) {
	found := 0
	for _, s := range limitsOfTug(t).Slowest {
		if s.Bound != SlowestFound {
			continue
		}
		found++
		day := 35 - 0.0065*(s.Elevation-620*foot)
		for by, want := range map[float64]bool{0: false, -0.5: true} {
			r := towed(t, caseOf(t, "tug", "hot_tow"), s.Speed+by, s.Elevation, day)
			if over := r.Status == sim.OverLimit; over != want {
				t.Errorf("%.2f m/s, %.0f m: over the limit is %v", s.Speed+by, s.Elevation, over)
			}
		}
	}
	if found < 2 {
		t.Errorf("%d slowest speeds were found", found)
	}
}

// With the spray that is told, for the time that is told, the flight is within
// limits; with a little less of either it is not.
func TestSprayOfTheTug(t *testing.T) {
	k := caseOf(t, "tug", "hot_tow")
	s := limitsOfTug(t).Spray
	if s.Rate == 0 || !s.Least || s.Ceiling.Bound != Found {
		t.Fatalf("%+v", s)
	}
	with := func(temperature, rate, time float64) bool {
		r := flown(t, k, scenarios.Setting{Path: "day.temperature", Text: degC(temperature)},
			scenarios.Setting{Path: "spray.rate", Text: fmt.Sprintf("%.8f L/min", rate/litrePerMin)},
			scenarios.Setting{Path: "spray.above", Text: "220 degF"},
			scenarios.Setting{Path: "spray.for", Text: fmt.Sprintf("%.4f s", time)})
		return r.Status != sim.OverLimit
	}
	n := s.Needed[0]
	if !n.Enough || !with(n.Temperature, s.Rate, n.Time) || with(n.Temperature, s.Rate, n.Time-2*timeTolerance) {
		t.Errorf("%.1f s is not the least time at %.1f °C", n.Time, n.Temperature)
	}
	if !with(s.RateFor, s.Rate, s.Carried) || with(s.RateFor, s.Rate-2*rateTolerance*litrePerMin, s.Carried) {
		t.Errorf("%.3f L/min is not the least rate at %.1f °C", s.Rate/litrePerMin, s.RateFor)
	}
	if top := s.Ceiling.Temperature; !with(top-0.1, s.Rate, s.Carried) || with(top+0.2, s.Rate, s.Carried) {
		t.Errorf("%.2f °C is not the highest with spray", top)
	}
}

// A day given as a regulation's hot day or as an offset serves as well: fields
// differ by its own lapse, and the highest temperature by nothing that matters.
func TestDaysOfOtherKinds(t *testing.T) {
	study := LimitStudy{Case: caseOf(t, "seaplane", "hot_climb"), Speeds: []float64{37}, Elevations: []float64{900 * foot, 900*foot + 1000}}
	table := limitsOf(t, study)
	if fall := table.Slowest[0].Temperature - table.Slowest[1].Temperature; math.Abs(fall-3.6/1.8/0.3048) > 1e-6 {
		t.Errorf("the hot day of Part 23 falls by %g K in 1000 m", fall)
	}
	if r := table.Own; r.Bound != Found || r.Temperature < table.Filed.Temperature {
		t.Errorf("%+v as filed, %+v", table.Filed, r)
	}
	byOffset := limitsOf(t, LimitStudy{
		Case:   caseOf(t, "tug", "hot_tow", scenarios.Setting{Path: "day.isa_offset", Text: "12 K"}),
		Speeds: []float64{31}, Elevations: []float64{189},
	})
	byField := limitsOfTug(t)
	if math.Abs(byOffset.Own.Temperature-byField.Own.Temperature) > 2*temperatureTolerance {
		t.Errorf("%g °C by an offset, %g °C by the field", byOffset.Own.Temperature, byField.Own.Temperature)
	}
	if want := 15 - 0.0065*620*foot + 12; math.Abs(byOffset.Filed.Temperature-want) > 1e-9 {
		t.Errorf("the field is at %g °C, not %g °C", byOffset.Filed.Temperature, want)
	}
}

// Where the coolant boils before it reaches its limit, boiling limits, and its
// time is that of the samples; with doubt it counts as boiling before.
func TestBoilingLimits(t *testing.T) {
	set := []scenarios.Setting{
		{Path: "coolant.maximum", Text: "270 degF"}, {Path: "coolant.cap_pressure", Text: "0 psi"},
		{Path: "oil.maximum", Text: "300 degF"},
	}
	k := caseOf(t, "tug", "hot_tow", set...)
	for _, deviations := range []float64{0, 0.5} {
		table := limitsOf(t, LimitStudy{Case: k, Speeds: []float64{31}, Elevations: []float64{189}, Doubt: deviations, Workers: 2})
		if table.Own.Bound != Found || table.Own.By != ByBoiling {
			t.Fatalf("%+v", table.Own)
		}
		kept := 0.0
		if deviations > 0 {
			kept = deviations * table.Own.Spread.Boil
		}
		checkBoiling(t, k, table.Own.Above[2], kept)
	}
}

// checkBoiling finds in samples when the coolant of a tow is so near to boiling.
func checkBoiling(t *testing.T, k scenarios.CaseScenario, a TimeAbove, kept float64) {
	t.Helper()
	sc, err := k.Scenario.With([]scenarios.Setting{{Path: "day.temperature", Text: degC(a.Temperature)}})
	if err != nil {
		t.Fatal(err)
	}
	r, err := sweep.Fly(context.Background(), sc, sim.Settings{Sample: 0.5})
	if err != nil {
		t.Fatal(err)
	}
	when, hot, boil := r.Trajectory.Find("time_s"), r.Trajectory.Find("coolant_out_degC"), r.Trajectory.Find("boil_degC")
	i := 0
	for hot.Values[i] < boil.Values[i]-kept {
		i++
	}
	if at := when.Values[i] - spanOf(r, "tow").Start; a.By != ByBoiling || math.Abs(at-a.Time) > 1 {
		t.Errorf("it boils %.1f s into the climb, not %+v", at, a)
	}
}

// Which leg is the climb, and what cannot be studied.
func TestClimbOfAStudy(t *testing.T) {
	k := caseOf(t, "tug", "hot_tow")
	for text, study := range map[string]LimitStudy{
		"has no climb leg down": {Case: k, Leg: "down"},
		"has no climb leg":      {Case: caseOf(t, "tug", "cruise")},
	} {
		if _, err := Limits(context.Background(), study); err == nil || !strings.Contains(err.Error(), text) {
			t.Errorf("%q, want %q", err, text)
		}
	}
	cancelled, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Limits(cancelled, LimitStudy{Case: k}); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
	if leg, before := limitsOfTug(t).Elsewhere(); leg != "" || before {
		t.Errorf("the tow passes its limit in leg %s", leg)
	}
	rotary := limitsOf(t, LimitStudy{Case: caseOf(t, "rotary", "hot_climb"), Speeds: []float64{50}, Elevations: []float64{366}})
	if leg, before := rotary.Elsewhere(); leg != "take_off" || !before {
		t.Errorf("the rotary passes its limit in leg %q, before the climb: %v", leg, before)
	}
	slow := limitsOf(t, LimitStudy{Case: k, Speeds: []float64{10}, Elevations: []float64{189}})
	if r := slow.Rows[0]; r.Bound != NoClimb || r.By != ByStall {
		t.Errorf("at 10 m/s no aircraft of this weight flies: %+v", r)
	}
}

// Speeds and fields that are looked at when nothing is said: round ones in the
// unit of the file, around its own.
func TestUsualSpeedsAndFields(t *testing.T) {
	for _, want := range []struct {
		speed, display string
		unit           float64 // m/s
		speeds         []float64
		higher         float64
	}{
		{"70 mph", "us", 0.44704, []float64{60, 65, 70, 77, 84}, 2000 * foot}, // 59.5, 64.75
		{"113 km/h", "si", 1 / 3.6, []float64{96, 104, 113, 124, 136}, 600},   // 96.05, 104.5, 124.3, 135.6
		{"31.3 m/s", "si", 1, []float64{26.5, 29, 31.3, 34.5, 37.5}, 600},     // 26.6, 28.95, 34.4, 37.6
		{"61 kt", "us", 1852.0 / 3600, []float64{52, 56, 61, 67, 73}, 2000 * foot},
	} {
		k := caseOf(t, "tug", "hot_tow", scenarios.Setting{Path: "flight.legs.tow.speed", Text: want.speed},
			scenarios.Setting{Path: "display", Text: want.display})
		study := LimitStudy{Case: k}
		p, err := study.plan(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		for i, v := range p.speeds {
			if math.Abs(v/want.unit-want.speeds[i]) > 1e-9 {
				t.Errorf("%s: speed %d is %g", want.speed, i, v/want.unit)
			}
		}
		if len(p.speeds) != 5 || len(p.elevations) != 3 || math.Abs(p.elevations[1]-p.elevations[0]-want.higher) > 1e-9 {
			t.Errorf("%s: speeds %v, elevations %v", want.speed, p.speeds, p.elevations)
		}
	}
}
