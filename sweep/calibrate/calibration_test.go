package calibrate

import (
	"context"
	"errors"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"hotclimb/scenarios"
)

const highwing = "../../testdata/scenarios/highwing.yaml"

// plan is how a synthetic flight is flown: level for its first half, then a
// climb.
type plan struct {
	name                      string
	minutes                   float64
	every                     float64 // interval of readings [s]
	speed, outside            float64 // [m/s], [°C]
	power                     float64 // [W]
	climb                     float64 // [m/s]
	startCoolant, startOil    float64 // [°C]
	coolantDoubt, oilDoubt    float64 // of the starts [K]; 0: known
	set                       map[string]string
	withoutOil, withoutStarts bool
}

func given(v, doubt float64) scenarios.Number {
	return scenarios.Number{Value: v, Doubt: doubt, Known: true, Written: true}
}

// blank is the record of a flight whose readings all are 0 °C.
func blank(t testing.TB, sc *scenarios.Scenario, p plan) *Record {
	t.Helper()
	test := &scenarios.Test{Name: p.name, Set: p.set, Points: map[string]*scenarios.TestPoint{}}
	test.Speed.Number, test.Outside.Number, test.Power.Number = given(p.speed, 0), given(p.outside, 0), given(p.power, 0)
	if !p.withoutStarts {
		test.StartCoolant.Number, test.StartOil.Number = given(p.startCoolant, p.coolantDoubt), given(p.startOil, p.oilDoubt)
	}
	end := 60 * p.minutes
	for at := 0.0; at <= end; at += p.every {
		q := &scenarios.TestPoint{}
		q.Time.Number, q.Coolant.Number = given(at, 0), given(0, 0)
		q.Altitude.Number = given(300+p.climb*math.Max(0, at-end/2), 0)
		if !p.withoutOil {
			q.Oil.Number = given(0, 0)
		}
		test.Points[string(rune('a'+len(test.Points)/26))+string(rune('a'+len(test.Points)%26))] = q
	}
	flown, err := sc.AsFlown(test, nil)
	if err != nil {
		t.Fatal(err)
	}
	r, err := NewRecord(flown, test, nil)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// truth are numbers by their paths, SI.
type truth map[string]float64

// read are a record's readings as an aircraft with other numbers would have given
// them: the model with these, and errors of the noise of the gauges times a
// factor.
func (n truth) read(t testing.TB, blank *Record, start [2]float64, errs func() float64) *Record {
	t.Helper()
	sc, err := blank.Scenario.Edit(func(c *scenarios.Scenario) error {
		for _, path := range slices.Sorted(maps.Keys(n)) {
			p, err := c.Compile(path)
			if err != nil {
				return err
			}
			if err := p.Set(c, n[path]); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	trace, err := blank.Fly(context.Background(), sc, Conditions{Start: &start, RelTol: fitTol})
	if err != nil {
		t.Fatal(err)
	}
	r := *blank
	r.Readings = slices.Clone(blank.Readings)
	for i := range r.Readings {
		m := &r.Readings[i]
		m.Value = trace.Of(*m) + errs()*blank.Gauge(m.Circuit).Noise.Value
	}
	for c := range r.Start {
		if told := [2]scenarios.Number{r.Test.StartCoolant.Number, r.Test.StartOil.Number}[c]; !told.Known {
			i := slices.IndexFunc(r.Readings, func(m Reading) bool { return m.Circuit == c })
			r.Start[c] = Beginning{r.Readings[i].Value, r.Gauge(c).Noise.Value}
		}
	}
	return &r
}

func exactly() float64 { return 0 }

// withDoubts is a scenario with numbers and doubts set as text.
func withDoubts(t testing.TB, file string, settings ...string) *scenarios.Scenario {
	t.Helper()
	sc, list := loaded(t, file, settings...)
	base, err := sc.AsFlown(&scenarios.Test{}, list)
	if err != nil {
		t.Fatal(err)
	}
	return base
}

// find runs a calibration.
func find(t testing.TB, c *Calibration) *Calibrated {
	t.Helper()
	found, err := c.Find(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return found
}

var short = plan{
	name: "short", minutes: 4, every: 20, speed: 40, outside: 25, power: 62e3, climb: 2.5,
	startCoolant: 88, startOil: 75,
}

// fourUnknown are the settings and the paths of most tests: two numbers of the
// engine, and of the gauges a bias and a lag.
var (
	fourDoubts = []string{"gauges.oil.bias=0 K ± 2 K", "gauges.coolant.lag=20 s ± 5 s"}
	fourPaths  = []string{"engine.heat_to_coolant", "engine.heat_to_oil", "gauges.oil.bias", "gauges.coolant.lag"}
)

// TestFindsTheTruth: with readings free of error, of two flights of one of which
// nobody wrote down how warm it started, the numbers with which they were made
// come out.
func TestFindsTheTruth(t *testing.T) {
	sc := withDoubts(t, highwing, fourDoubts...)
	want := truth{"engine.heat_to_coolant": 0.84, "engine.heat_to_oil": 0.118, "gauges.oil.bias": 2.5, "gauges.coolant.lag": 27}
	cold := short
	cold.name, cold.outside, cold.speed, cold.withoutStarts = "cold", 5, 45, true
	starts := [][2]float64{{88, 75}, {71, 63}}
	var records []*Record
	for i, p := range []plan{short, cold} {
		p.minutes = 8
		records = append(records, want.read(t, blank(t, sc, p), starts[i], exactly))
	}
	// Doubts before are made wide, so that they do not pull.
	wide := withDoubts(t, highwing, "engine.heat_to_coolant=0.75 ± 1", "engine.heat_to_oil=0.1 ± 0.5",
		"gauges.oil.bias=0 K ± 20 K", "gauges.coolant.lag=20 s ± 60 s")
	for _, r := range records {
		r.Scenario = wide
	}
	found := find(t, &Calibration{Scenario: wide, Records: records, Paths: fourPaths, Workers: 2})
	for i := range found.Numbers {
		n := &found.Numbers[i]
		off := (n.After - want[n.Param.Path]) / n.Left
		t.Logf("%s: %.5g ± %.2g, in truth %.5g", n.Param.Path, n.After, n.Left, want[n.Param.Path])
		if math.Abs(off) > 0.1 {
			t.Errorf("%s is off by %.2f of its doubt", n.Param.Path, off)
		}
	}
	for c, want := range starts[1] {
		if got := found.Records[1].Start[c]; math.Abs(got.Value-want) > 0.1*got.Doubt {
			t.Errorf("the second flight starts at %+v, in truth at %g", got, want)
		}
	}
	if got := found.Records[0].Start[0]; got != (Beginning{88, 0}) {
		t.Errorf("a start that is known came out as %+v", got)
	}
}

// TestCalibrationWorkers: the same bytes for any number of workers.
func TestCalibrationWorkers(t *testing.T) {
	sc := withDoubts(t, highwing, fourDoubts...)
	p := short
	p.withoutStarts = true
	rng := rand.New(rand.NewPCG(4, 4))
	var records []*Record
	for range 2 {
		records = append(records, truth{}.read(t, blank(t, sc, p), [2]float64{80, 70}, rng.NormFloat64))
	}
	one := find(t, &Calibration{Scenario: sc, Records: records, Paths: fourPaths, Workers: 1})
	for _, workers := range []int{2, 8} {
		many := find(t, &Calibration{Scenario: sc, Records: records, Paths: fourPaths, Workers: workers})
		if !slices.Equal(one.Solution.X, many.Solution.X) || !slices.Equal(one.Solution.Sigma, many.Solution.Sigma) || one.Flights != many.Flights {
			t.Errorf("%d workers find %v in %d flights, one finds %v in %d", workers, many.Solution.X, many.Flights, one.Solution.X, one.Flights)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	study := &Calibration{Scenario: sc, Records: records, Paths: fourPaths, Workers: 2, Flown: cancel}
	if _, err := study.Find(ctx); !errors.Is(err, context.Canceled) {
		t.Errorf("interrupted, it says %v", err)
	}
}

// TestNoWorkRepeated: what a gauge does needs no flight, and a start is flown on
// its own record alone.
func TestNoWorkRepeated(t *testing.T) {
	sc := withDoubts(t, highwing, fourDoubts...)
	p := short
	p.withoutStarts = true
	record := truth{}.read(t, blank(t, sc, p), [2]float64{80, 70}, exactly)
	f, err := (&Calibration{Scenario: sc, Records: []*Record{record, record}, Paths: fourPaths}).prepare()
	if err != nil {
		t.Fatal(err)
	}
	r := make([]float64, f.readings)
	for _, step := range []struct {
		parameter int // −1: none
		flights   int // after it
	}{{-1, 2}, {0, 4}, {2, 4}, {3, 4}, {4, 5}, {7, 6}, {0, 6}} {
		x := f.before()
		if step.parameter >= 0 {
			x[step.parameter] += 0.01
		}
		if err := f.evaluate(context.Background(), x, r); err != nil {
			t.Fatal(err)
		}
		if f.flown() != step.flights {
			t.Errorf("after parameter %d: %d flights, want %d", step.parameter, f.flown(), step.flights)
		}
	}
}
