package calibrate

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sweep"
)

// corrected corrects a record by two workers, with few draws unless it is said how
// many.
func corrected(t testing.TB, r *Record, set CorrectSettings) *Corrected {
	t.Helper()
	set.Workers, set.Draws = 2, cmp.Or(set.Draws, 6)
	c, err := CorrectRecord(context.Background(), r, set)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func aNumber(v float64) scenarios.Number { return scenarios.Number{Value: v, Known: true} }

// handTest is a test of readings by hand: time [s], altitude [m], outside, coolant
// and oil [°C]; NaN was not read.
func handTest(rows ...[5]float64) *scenarios.Test {
	test := &scenarios.Test{Name: "hand", Points: map[string]*scenarios.TestPoint{}}
	test.Speed.Number = aNumber(31)
	for i, row := range rows {
		p := &scenarios.TestPoint{}
		for k, n := range []*scenarios.Number{&p.Time.Number, &p.Altitude.Number, &p.Outside.Number, &p.Coolant.Number, &p.Oil.Number} {
			if !math.IsNaN(row[k]) {
				*n = aNumber(row[k])
			}
		}
		test.Points[fmt.Sprintf("p%02d", i)] = p
	}
	return test
}

func handRecord(t testing.TB, rows ...[5]float64) *Record {
	t.Helper()
	sc, _ := loaded(t, "tug")
	r, err := NewRecord(sc, handTest(rows...), nil)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// TestCorrectByHandWorked: the worked example of the rule in a record. A coolant
// first highest with 203 °F at 5500 ft in air of 70 °F is 213.2 °F on the hot day:
// 100 − 3.6·5.5 = 80.2 °F there, 10.2 °F more. Source: 14 CFR 23.1043(b), (c),
// arithmetic checked by hand. CS 22.1043 has 38 °C − 6.5 °C/km · 1.6764 km = 27.10 °C
// there, 5.99 K more than 70 °F.
func TestCorrectByHandWorked(t *testing.T) {
	f := func(f float64) float64 { return (f - 32) / 1.8 }
	rows := [][5]float64{
		{0, 300, f(85), f(180), f(170)}, {120, 800, f(80), f(195), f(180)},
		{320, 5500 * 0.3048, f(70), f(203), f(190)}, {420, 2000, f(68), f(203), f(188)}, {500, 2300, f(66), f(201), f(188)},
	}
	for _, test := range []struct {
		rule Rule
		want float64
	}{{Part23, f(213.2)}, {CS22, f(203) + 38 - 6.5*1.6764 - f(70)}} {
		c := corrected(t, handRecord(t, rows...), CorrectSettings{Rule: test.rule})
		if len(c.Segments) == 0 || c.Segments[0].Kind != Climb {
			t.Fatalf("segments %+v, want a climb", c.Segments)
		}
		k := c.Segments[0].Circuits[sweep.Coolant]
		if math.Abs(k.ByRule.Value-test.want) > 0.005 {
			t.Errorf("%v: %.3f °C, want %.3f", test.rule, k.ByRule.Value, test.want)
		}
		if k.Time != 320 || math.Abs(k.ByRule.Margin-(k.Limit-test.want)) > 0.005 {
			t.Errorf("%v: at %.0f s, margin %.2f K of limit %.2f", test.rule, k.Time, k.ByRule.Margin, k.Limit)
		}
	}
}

// TestHandSegments: what climbs and what is settled among readings by hand, with
// gauges whose noise makes a rate doubtful by 2 °F/min over 38 s.
func TestHandSegments(t *testing.T) {
	const no = 0.0
	nan := math.NaN()
	for _, test := range []struct {
		name string
		rows [][5]float64
		want string
	}{
		// 2 °F/min is 0.0185 K/s: 1.1 K in a minute is below it, 1.2 above.
		{"settled at 1.1 K/min", [][5]float64{{0, 900, 20, 90, 80}, {60, 900, 20, 91.1, 80}, {120, 900, 20, 92.2, 80}}, "settled 0-120"},
		{"moves by 1.2 K/min", [][5]float64{{0, 900, 20, 90, 80}, {60, 900, 20, 91.2, 80}, {120, 900, 20, 92.4, 80}}, ""},
		{"oil moves", [][5]float64{{0, 900, 20, 90, 80}, {60, 900, 20, 90, 82}, {120, 900, 20, 90, 82}}, "settled 60-120"},
		// 1 m/s is 60 m in a minute.
		{"climbs by 61 m", [][5]float64{{0, 900, 20, 90, 80}, {60, 961, 20, 93, 80}, {120, 1000, 20, 96, 80}}, "climb 0-60"},
		{"both", [][5]float64{{0, 900, 20, 90, 80}, {60, 1100, 20, 90, 80}, {120, 1300, 20, 93, 80}}, "climb 0-120, settled 0-60"},
		{"two climbs", [][5]float64{{0, 900, 20, 90, 80}, {60, 1100, 20, 92, 80}, {120, 1100, 20, 94, 80}, {180, 1300, 20, 96, 80}}, "climb 0-60, climb 120-180"},
		{"shorter than half a minute", [][5]float64{{0, 900, 20, 90, 80}, {25, 1100, 20, 92, 80}, {60, 1100, 20, 96, 80}}, ""},
		{"oil read twice", [][5]float64{{0, 900, 20, 90, 80}, {60, 900, 20, 90, nan}, {120, 900, 20, 90, 81}}, "settled 0-120"},
	} {
		var got []string
		r := handRecord(t, test.rows...)
		r.Scenario.Gauges.Coolant.Noise.Value, r.Scenario.Gauges.Oil.Noise.Value = 0.5, 0.5
		for _, s := range r.segments(SegmentSettings{}) {
			got = append(got, fmt.Sprintf("%v %.0f-%.0f", s.Kind, s.From, s.To+no))
		}
		if text := strings.Join(got, ", "); text != test.want {
			t.Errorf("%s: %q, want %q", test.name, text, test.want)
		}
	}
}

// TestHandSegmentsOfANeedle: two readings that are alike settle nothing while the noise
// of the needle over the time between them, √2·σ/Δt, is above 2 °F/min.
func TestHandSegmentsOfANeedle(t *testing.T) {
	for _, test := range []struct {
		noise, apart float64
		want         int
	}{{1.0, 70, 0}, {1.0, 80, 1}, {2.0, 140, 0}, {2.0, 160, 1}} { // 76.4 s for 1 K, 152.7 s for 2 K
		r := handRecord(t, [5]float64{0, 900, 20, 90, 80}, [5]float64{test.apart, 900, 20, 90, 80}, [5]float64{400, 900, 20, 105, 99})
		r.Scenario.Gauges.Oil.Noise.Value, r.Scenario.Gauges.Coolant.Noise.Value = test.noise, 0.1
		if got := len(r.segments(SegmentSettings{})); got != test.want {
			t.Errorf("noise %.0f K, %.0f s apart: %d settled, want %d", test.noise, test.apart, got, test.want)
		}
	}
}

// TestDeviation: that of draws at the quantiles of a normal distribution is its own,
// and one wild draw of 64 adds little to it.
func TestDeviation(t *testing.T) {
	for _, n := range []int{8, 64, 1000} {
		var draws []float64
		for i := range n {
			draws = append(draws, 5+3*distuv.UnitNormal.Quantile(float64(i+1)/float64(n+1)))
		}
		if got := deviation(draws); math.Abs(got-3) > 0.1 {
			t.Errorf("%d draws: %.3f, want 3", n, got)
		}
		draws[n/2] = -200
		if got := deviation(draws); n >= 64 && math.Abs(got-3) > 0.25 {
			t.Errorf("%d draws, one of them wild: %.3f, want 3", n, got)
		}
	}
	if got := deviation([]float64{4, 2}); got != 1 {
		t.Errorf("two draws 2 apart: %g, want 1", got)
	}
	if got := deviation([]float64{4}); got != 0 {
		t.Errorf("one draw: %g", got)
	}
}

// TestCorrectAgainstTheHotDay: a case flown on a cool day and corrected by the model
// to the hot day has the highest temperatures of the same climb flown in the air of
// the hot day, within the doubt stated, for every built-in aircraft. The record is
// free of noise, but the model that corrects it is wrong in one number by one
// deviation.
func TestCorrectAgainstTheHotDay(t *testing.T) {
	for _, test := range []struct {
		file, flown, wrong string
	}{
		{"rotary", "hot_climb", ""}, {"seaplane", "hot_climb", ""},
		{"tug", "hot_tow", "engine.heat_to_coolant"},
	} {
		sc, settings := loaded(t, test.file, "day.temperature=60 degF")
		cases, err := sc.EffectiveCases([]string{test.flown}, settings)
		if err != nil {
			t.Fatal(err)
		}
		c := cases[0].Scenario
		if c.Spray != nil {
			c.Spray = nil // a spray that comes on by temperature changes the flight
		}
		log := written(t, c, faultless)
		r := recordOf(t, sc, nil, &scenarios.Test{Name: "cool"}, log)
		truth := climbOnTheHotDay(t, c)
		if test.wrong != "" {
			p, err := r.Scenario.Compile(test.wrong)
			if err != nil {
				t.Fatal(err)
			}
			n, _ := p.Get(r.Scenario)
			wrong, err := r.Scenario.Edit(func(s *scenarios.Scenario) error {
				return p.SetText(s, fmt.Sprintf("%s ± %s", scenarios.Format(n.Value+n.Doubt, n.Unit, p.Dimension), scenarios.Format(n.Doubt, n.Unit, p.Dimension)))
			})
			if err != nil {
				t.Fatal(err)
			}
			r.Scenario = wrong
		}
		for _, s := range corrected(t, r, CorrectSettings{Draws: 32}).Segments {
			for circuit, k := range s.Circuits {
				if s.Kind != Climb || s.To-s.From < 120 || k == nil {
					continue
				}
				want := truth[circuit]
				t.Logf("%s %s, %s from %.0f to %.0f s: read %.1f °C, hot day %.1f: by rule %+.1f ± %.1f K off, by model %+.2f ± %.2f",
					test.file, test.wrong, circuitName(circuit), s.From, s.To, k.Read, want, k.ByRule.Value-want, k.ByRule.Doubt, k.ByModel.Value-want, k.ByModel.Doubt)
				if math.Abs(k.ByModel.Value-want) > 2*k.ByModel.Doubt {
					t.Errorf("%s %s: %s is %.2f K off, stated ± %.2f", test.file, test.wrong, circuitName(circuit), k.ByModel.Value-want, k.ByModel.Doubt)
				}
				if k.Over < 0.5 {
					t.Errorf("%s: the rule is over by %.2f K only; it moves a reading degree for degree", test.file, k.Over)
				}
			}
		}
	}
}

// climbOnTheHotDay flies a case in the air of the hot day at its field, with all that
// changes with it: how warm it starts and how fast it climbs. It gives the highest of
// each circuit in the climb.
func climbOnTheHotDay(t *testing.T, c *scenarios.Scenario) (most [2]float64) {
	t.Helper()
	c = c.Clone()
	day := Part23.Day()
	c.Day.Temperature.Number = scenarios.Number{Value: day.Temperature(c.Day.Elevation.Value), Known: true, Written: true}
	result, err := sweep.Fly(context.Background(), c, sim.Settings{Sample: 5})
	if err != nil {
		t.Fatal(err)
	}
	times, climbing := result.Trajectory.Find("time_s").Values, result.Trajectory.Find("rate_of_climb_m_s").Values
	for i := range most {
		most[i] = math.Inf(-1)
		for k, v := range result.Trajectory.Find(result.Peaks[i].Channel + "_degC").Values {
			if climbing[k] > 1 && times[k] > 60 {
				most[i] = math.Max(most[i], v)
			}
		}
	}
	return most
}

// TestCorrectDoubtAgainstSlopes: the drawn doubt of the model is that of the guide's
// formula where the numbers act along lines: the oil of the tug, which has no
// thermostat that regulates, by the numbers that change it. Correlations count: with
// two numbers of opposite effect going wholly together it is less.
func TestCorrectDoubtAgainstSlopes(t *testing.T) {
	r := handRecord(t, [5]float64{0, 300, 22, 98, 90}, [5]float64{150, 900, 28, 107, 102}, [5]float64{300, 1500, 25, 109, 106})
	only := []string{"engine.heat_to_oil", "exits.belly.discharge"}
	knownBut(t, r, only...)
	flown := func(rho float64) (*correcting, float64) {
		r.Scenario.Correlations = nil
		if rho != 0 {
			k := &scenarios.Correlation{Name: "both", Of: only[0], With: only[1]}
			k.Value.Number = scenarios.Number{Value: rho, Known: true, Written: true}
			r.Scenario.Correlations = append(r.Scenario.Correlations, k)
		}
		c := &correcting{record: r, day: Part23.Day(), CorrectSettings: CorrectSettings{Workers: 2, Draws: 64, Outside: 1e-9}}
		c.choose(r.segments(SegmentSettings{})[:1])
		if err := c.fly(context.Background()); err != nil {
			t.Fatal(err)
		}
		// Without what the start brings, which is no number of the aircraft.
		c.hotter = 0
		if err := c.draw(context.Background(), func() {}); err != nil {
			t.Fatal(err)
		}
		step, _ := c.draws.doubt(1)
		return c, step
	}
	c, apart := flown(0)
	var slopes [2]float64
	for k, path := range only {
		p, err := r.Scenario.Compile(path)
		if err != nil {
			t.Fatal(err)
		}
		n, _ := p.Get(r.Scenario)
		var ends [2][]float64
		for i, by := range []float64{n.Doubt, -n.Doubt} {
			sc, err := r.Scenario.Edit(func(s *scenarios.Scenario) error { return p.Set(s, n.Value+by) })
			if err != nil {
				t.Fatal(err)
			}
			if ends[i], err = c.steps(context.Background(), nil, r, sc, c.start); err != nil {
				t.Fatal(err)
			}
		}
		slopes[k] = (ends[0][1] - ends[1][1]) / 2
	}
	for _, rho := range []float64{0, 0.95} {
		got := apart
		if rho != 0 {
			_, got = flown(rho)
		}
		want := math.Sqrt(slopes[0]*slopes[0] + slopes[1]*slopes[1] + 2*rho*slopes[0]*slopes[1])
		t.Logf("correlation %.2f: %.4f K by draws, %.4f by slopes %.4f", rho, got, want, slopes)
		if math.Abs(got/want-1) > 0.15 {
			t.Errorf("correlation %.2f: %.4f K by draws, %.4f by slopes", rho, got, want)
		}
	}
}

// knownBut takes the doubts off the aircraft of a record, but for some paths.
func knownBut(t *testing.T, r *Record, paths ...string) {
	t.Helper()
	for _, path := range r.Scenario.Paths() {
		p, err := r.Scenario.Compile(path)
		if err != nil || slices.Contains(paths, path) {
			continue
		}
		if n, ok := p.Get(r.Scenario); ok && n.Doubt > 0 {
			if err := p.Set(r.Scenario, n.Value); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// TestCorrectOutside: air that was read too cold makes the rule add too much degree
// for degree, and the model nearly as much; the start adds to its doubt. So their
// difference is less in doubt than the air is.
func TestCorrectOutside(t *testing.T) {
	r := handRecord(t, [5]float64{0, 300, 22, 98, 90}, [5]float64{150, 900, 28, 107, 102}, [5]float64{300, 1500, 25, 109, 106}, [5]float64{420, 1900, 22, 108, 105})
	knownBut(t, r)
	const doubt = 2.0
	k := corrected(t, r, CorrectSettings{Outside: doubt, Draws: 32}).Segments[0].Circuits[sweep.Oil]
	model := math.Sqrt(k.ByModel.Doubt*k.ByModel.Doubt - k.Doubt*k.Doubt)
	t.Logf("air ± %.1f K: model ± %.2f, rule less model ± %.2f", doubt, model, k.OverDoubt)
	if model < 0.3*doubt || model > 1.2*doubt || k.OverDoubt > 0.7*doubt {
		t.Errorf("model ± %.2f K, rule less model ± %.2f K", model, k.OverDoubt)
	}
}

// TestCorrectNoise: readings with the noise of the gauge spread as stated, by rule
// and by model; and the highest of means is too high by less than that.
func TestCorrectNoise(t *testing.T) {
	rows := func(e func() float64) [][5]float64 {
		var list [][5]float64
		for i := range 12 {
			at := 60 * float64(i)
			shape := 95 - math.Pow(at-400, 2)/4e3
			list = append(list, [5]float64{at, 300 + 3*at, 25 - 0.02*at, shape + e(), shape - 10 + e()})
		}
		return list
	}
	c := corrected(t, handRecord(t, rows(func() float64 { return 0 })...), CorrectSettings{Outside: 2})
	k := c.Segments[0].Circuits[sweep.Coolant]
	gauge := c.Record.Gauge(sweep.Coolant)
	if want := math.Hypot(gauge.Noise.Value, 2); math.Abs(k.ByRule.Doubt-want) > 1e-9 {
		t.Errorf("doubt by rule %.3f K, want %.3f", k.ByRule.Doubt, want)
	}
	if k.ByModel.Doubt <= k.Doubt {
		t.Errorf("doubt by model %.3f K is not above that of the reading, %.3f", k.ByModel.Doubt, k.Doubt)
	}
	if len(c.Segments[0].Remarks) == 0 || !strings.Contains(c.Segments[0].Remarks[0], "not settled") {
		t.Errorf("remarks %q", c.Segments[0].Remarks)
	}
}

// TestCorrectWarmerAir: air hotter than the hot day has a negative correction, and a
// remark; so has a climb that ends too soon.
func TestCorrectWarmerAir(t *testing.T) {
	c := corrected(t, handRecord(t, [5]float64{0, 500, 48, 90, 85}, [5]float64{120, 900, 46, 100, 90}, [5]float64{200, 1100, 45, 99, 90}), CorrectSettings{})
	k := c.Segments[0].Circuits[sweep.Coolant]
	if k.ByRule.Value >= k.Temperature || k.ByModel.Value >= k.Temperature || k.Over >= 0 {
		t.Errorf("read %.1f, by rule %.1f, by model %.1f, over %.2f", k.Temperature, k.ByRule.Value, k.ByModel.Value, k.Over)
	}
	remarks := strings.Join(c.Segments[0].Remarks, "\n")
	for _, want := range []string{"coolant: the air was hotter", "coolant: the climb goes on for 80 s", "not settled"} {
		if !strings.Contains(remarks, want) {
			t.Errorf("no remark %q in\n%s", want, remarks)
		}
	}
}

// TestCorrectBias: a known bias of the gauge is taken off, and its doubt counts.
func TestCorrectBias(t *testing.T) {
	r := handRecord(t, [5]float64{0, 500, 20, 90, 85}, [5]float64{120, 900, 18, 100, 90}, [5]float64{200, 1100, 17, 99, 90})
	plain := corrected(t, r, CorrectSettings{}).Segments[0].Circuits[sweep.Coolant]
	r.Scenario.Gauges.Coolant.Bias.Number = scenarios.Number{Value: 3, Doubt: 2, Known: true}
	biased := corrected(t, r, CorrectSettings{}).Segments[0].Circuits[sweep.Coolant]
	if d := plain.ByRule.Value - biased.ByRule.Value; math.Abs(d-3) > 1e-9 {
		t.Errorf("a bias of 3 K takes off %.3f", d)
	}
	if want := math.Hypot(plain.Doubt, 2); math.Abs(biased.Doubt-want) > 1e-9 {
		t.Errorf("doubt %.3f K, want %.3f", biased.Doubt, want)
	}
}

// TestCorrectWorkers: any number of workers, the same numbers.
func TestCorrectWorkers(t *testing.T) {
	r := handRecord(t, [5]float64{0, 500, 20, 90, 85}, [5]float64{120, 900, 18, 100, 90}, [5]float64{240, 900, 18, 100, 90})
	var lists [2]string
	for i, workers := range []int{1, 7} {
		c, err := CorrectRecord(context.Background(), r, CorrectSettings{Workers: workers, Draws: 12})
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range c.Segments {
			lists[i] += fmt.Sprintf("%+v %+v %q\n", s.Circuits[0], s.Circuits[1], s.Remarks)
		}
	}
	if lists[0] != lists[1] || lists[0] == "" {
		t.Errorf("one worker:\n%sseven:\n%s", lists[0], lists[1])
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := CorrectRecord(ctx, r, CorrectSettings{}); err == nil {
		t.Error("a correction that was called off has a result")
	}
}

// TestColumnText: columns as a scenario file has them, there and back.
func TestColumnText(t *testing.T) {
	for _, test := range []struct {
		text string
		want Column
	}{
		{"CLT [degF]", Column{"CLT", "degF"}}, {"Clock", Column{"Clock", ""}}, {" OAT [F]  [degF] ", Column{"OAT [F]", "degF"}},
		{"#4 [m/s]", Column{"#4", "m/s"}}, {"Time [utc] []", Column{"Time [utc]", ""}}, {"a]b", Column{"a]b", ""}},
	} {
		got := ParseColumn(test.text)
		if got != test.want || ParseColumn(got.String()) != got {
			t.Errorf("%q: %+v, written %q", test.text, got, got.String())
		}
	}
	m := ColumnMap{Time: {"Clock", ""}, Oil: {"OilT", "degF"}, Spray: {"W", "L/min"}}
	back := ColumnsOf(m.Texts())
	if len(back) != 3 || !slices.Contains([]Column{back[Oil]}, Column{"OilT", "degF"}) {
		t.Errorf("there and back: %+v", back)
	}
}
