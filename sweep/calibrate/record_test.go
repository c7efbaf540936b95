package calibrate

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sim/atmos"
	"hotclimb/sweep"
)

// loaded is a scenario file with overlays given as text.
func loaded(t testing.TB, file string, settings ...string) (*scenarios.Scenario, []scenarios.Setting) {
	t.Helper()
	sc, err := scenarios.LoadFile(file, nil)
	if err != nil {
		t.Fatal(err)
	}
	var list []scenarios.Setting
	for _, text := range settings {
		s, err := scenarios.ParseSetting(text)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, s)
	}
	return sc, list
}

// written is what a monitor would write of a case flown by the model: a row a
// second. errs is added to both temperatures.
func written(t testing.TB, sc *scenarios.Scenario, errs func(circuit int, time float64) float64) string {
	t.Helper()
	result, err := sweep.Fly(context.Background(), sc, sim.Settings{Sample: 1})
	if err != nil {
		t.Fatal(err)
	}
	channel := func(name string) []float64 { return result.Trajectory.Find(name).Values }
	speeds := map[string]float64{}
	for _, leg := range sc.Flight.Legs {
		speeds[leg.Name] = leg.Speed.Value
	}
	var b strings.Builder
	b.WriteString("time,altitude,speed,outside,power,coolant,oil\n")
	times := channel("time_s")
	for i, at := range times {
		if at != math.Trunc(at) {
			continue
		}
		speed := 0.0
		for _, leg := range result.Legs {
			if at >= leg.Start && at <= leg.End {
				speed = speeds[leg.Name]
			}
		}
		fmt.Fprintf(&b, "%.0f,%.2f,%.3f,%.3f,%.1f,%.3f,%.3f\n", at, channel("altitude_m")[i], speed, channel("outside_degC")[i],
			channel("power_W")[i], channel(result.Peaks[0].Channel + "_degC")[i]+errs(sweep.Coolant, at),
			channel(result.Peaks[1].Channel + "_degC")[i]+errs(sweep.Oil, at))
	}
	return b.String()
}

// siColumns are those of written.
var siColumns = ColumnMap{
	Time: {"time", "s"}, Altitude: {"altitude", "m"}, Speed: {"speed", "m/s"}, Outside: {"outside", "degC"},
	Power: {"power", "W"}, Coolant: {"coolant", "degC"}, Oil: {"oil", "degC"},
}

// recordOf is the record of a test whose log has this text.
func recordOf(t testing.TB, sc *scenarios.Scenario, settings []scenarios.Setting, test *scenarios.Test, text string) *Record {
	t.Helper()
	log, err := ReadLog(strings.NewReader(text), test.Name+".csv", siColumns, LogSettings{})
	if err != nil {
		t.Fatal(err)
	}
	flown, err := sc.AsFlown(test, settings)
	if err != nil {
		t.Fatal(err)
	}
	r, err := NewRecord(flown, test, log)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func faultless(int, float64) float64 { return 0 }

// trueGauges are settings by which gauges show what is at their sensors.
var trueGauges = []string{"gauges.coolant.bias=0 K", "gauges.coolant.lag=0 s", "gauges.oil.bias=0 K", "gauges.oil.lag=0 s"}

// TestRecordOfTheModel: a flight of the model, written down as a monitor would
// and flown again from that, gives its own temperatures. What remains comes from
// legs over which speed and power are means, and in the first minutes from the
// start, which is as warm as the mean of the first seconds.
func TestRecordOfTheModel(t *testing.T) {
	for _, test := range []struct {
		file, flown string
	}{
		{"tug", "hot_tow"}, {"rotary", "hot_climb"}, {"seaplane", "hot_climb"},
	} {
		const most = 0.4 // K, a third of the noise of a needle
		sc, quick := loaded(t, test.file, "gauges.coolant.lag=0 s", "gauges.oil.lag=0 s")
		c, err := sc.Case(test.flown)
		if err != nil {
			t.Fatal(err)
		}
		r := recordOf(t, sc, quick, &scenarios.Test{Name: "copy"}, written(t, c, faultless))
		trace, err := r.Fly(context.Background(), r.Scenario, Conditions{})
		if err != nil {
			t.Fatal(err)
		}
		worst := 0.0
		for _, m := range r.Readings {
			if m.From >= 120 {
				worst = math.Max(worst, math.Abs(trace.Of(m)-m.Value))
			}
		}
		t.Logf("%s: %.0f s, %d legs, %d readings, worst %.3f K, %d evaluations", test.file, r.End, len(r.cuts)-1, len(r.Readings), worst, trace.Result.Evaluations)
		if worst > most {
			t.Errorf("%s: off by %.3f K", test.file, worst)
		}
	}
}

// TestShown: a gauge with lag against the exact answers for a step and a ramp.
// On T = a·t it settles at a·(t − τ), and after a step the gap dies as e^(−t/τ).
func TestShown(t *testing.T) {
	const lag = 20.0
	var times, ramp, step []float64
	for i := range 61 {
		times = append(times, 5*float64(i))
		ramp = append(ramp, 0.1*times[i])
		step = append(step, 10)
	}
	step[0] = 0 // rises within the first 5 s
	got := shown(times, ramp, lag, 3)
	if want := 0.1*(times[60]-lag) + 3; math.Abs(got[60]-want) > 1e-5 {
		t.Errorf("on a ramp the gauge shows %.4f, want %.4f", got[60], want)
	}
	got = shown(times, step, lag, 0)
	if ratio, want := (10-got[20])/(10-got[16]), math.Exp(-20/lag); math.Abs(ratio-want) > 1e-9 {
		t.Errorf("in 20 s the gap shrinks to %.6f of itself, want %.6f", ratio, want)
	}
	// The same ramp by fine steps of Euler's rule.
	g, dt := 0.0, 1e-4
	for at := 0.0; at < 50; at += dt {
		g += dt * (0.1*at - g) / lag
	}
	if got := shown(times, ramp, lag, 0)[10]; math.Abs(got-g) > 1e-3 {
		t.Errorf("after 50 s %.5f, by Euler's rule %.5f", got, g)
	}
	if got := shown(times, step, 0, -1); got[5] != 9 {
		t.Errorf("without lag the gauge shows %g, want 9", got[5])
	}
}

// TestRecordByHand: readings by hand with conditions given once, and what they
// lack.
func TestRecordByHand(t *testing.T) {
	sc, _ := loaded(t, "tug")
	number := func(v float64) scenarios.Number { return scenarios.Number{Value: v, Known: true} }
	point := func(at, height, coolant float64) *scenarios.TestPoint {
		p := &scenarios.TestPoint{}
		p.Time.Number, p.Altitude.Number, p.Coolant.Number = number(at), number(height), number(coolant)
		return p
	}
	test := &scenarios.Test{Name: "hand", Points: map[string]*scenarios.TestPoint{
		"c": point(300, 1200, 106), "a": point(0, 300, 85), "b": point(120, 660, 100),
	}}
	test.Speed.Number, test.Outside.Number = number(31), number(25)
	r, err := NewRecord(sc, test, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Readings) != 3 || r.Readings[1].From != 120 || r.Readings[2].Value != 106 {
		t.Errorf("readings %+v", r.Readings)
	}
	if r.Start[sweep.Coolant].Value != 85 || r.Start[sweep.Oil] != (Beginning{85, unread}) {
		t.Errorf("starts %+v", r.Start)
	}
	plant, err := r.plant(sc, Conditions{})
	if err != nil {
		t.Fatal(err)
	}
	// 3 m/s of climb at 31 m/s: a good part of the power, from the energy height.
	if leg := plant.Legs[0]; leg.RateOfClimb != 3 || leg.Throttle < 0.3 || leg.Throttle > 1 {
		t.Errorf("first leg %+v", leg)
	}
	if len(r.Notes) != 2 {
		t.Errorf("notes %q, want one on the power and one on the oil", r.Notes)
	}
	test.Speed.Known = false
	if _, err := NewRecord(sc, test, nil); err == nil || !strings.Contains(err.Error(), "tests.hand.speed") {
		t.Errorf("without a speed: %v", err)
	}
}

// TestRecordOnAnotherDay: hotter air at the same throttle takes power away and
// makes both temperatures higher, by less than the air is hotter.
func TestRecordOnAnotherDay(t *testing.T) {
	sc, settings := loaded(t, "tug", "day.temperature=70 degF")
	cases, err := sc.EffectiveCases([]string{"hot_tow"}, settings)
	if err != nil {
		t.Fatal(err)
	}
	c := cases[0].Scenario
	r := recordOf(t, sc, settings, &scenarios.Test{Name: "cool"}, written(t, c, faultless))
	here, err := r.Fly(context.Background(), r.Scenario, Conditions{})
	if err != nil {
		t.Fatal(err)
	}
	day := Part23.Day()
	hot, err := r.Fly(context.Background(), r.Scenario, Conditions{Day: &day})
	if err != nil {
		t.Fatal(err)
	}
	for i := range here.Result.Peaks {
		a, b := here.Result.Peaks[i], hot.Result.Peaks[i]
		hotter := day.Temperature(a.Altitude) - atmos.AtField(c.Day.Elevation.Value, c.Day.Temperature.Value).Temperature(a.Altitude)
		if gain := b.Value - a.Value; gain < 0.2*hotter || gain > hotter {
			t.Errorf("%s: %.1f K hotter air gives %.1f K", a.Channel, hotter, gain)
		}
	}
}

// TestRecordOnTheGround: a taxi written down and flown again, with its altitude
// where it was, gives its own temperatures.
func TestRecordOnTheGround(t *testing.T) {
	sc, settings := loaded(t, "rotary", trueGauges...)
	c, err := sc.Case("hot_taxi")
	if err != nil {
		t.Fatal(err)
	}
	r := recordOf(t, sc, settings, &scenarios.Test{Name: "taxi"}, written(t, c, faultless))
	trace, err := r.Fly(context.Background(), r.Scenario, Conditions{})
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range r.Readings {
		if e := math.Abs(trace.Of(m) - m.Value); m.From >= 120 && e > 0.4 {
			t.Errorf("%s %.0f s: off by %.2f K", circuitName(m.Circuit), m.From, e)
		}
	}
	if len(trace.Result.Warnings) > 0 && strings.Contains(strings.Join(trace.Result.Warnings, " "), "field") {
		t.Errorf("warnings %q", trace.Result.Warnings)
	}
}

// TestRecordOfTwoFlights: of a log whose monitor was off for an hour the longer
// stretch is the record, and the other is told.
func TestRecordOfTwoFlights(t *testing.T) {
	sc, _ := loaded(t, "tug")
	climbs := func(start, length int) string {
		var b strings.Builder
		for i := range length {
			fmt.Fprintf(&b, "%d,%d,31,20,80000,%.1f,%.1f\n", start+i, 300+3*i, 90+0.02*float64(i), 80+0.02*float64(i))
		}
		return b.String()
	}
	const head = "time,altitude,speed,outside,power,coolant,oil\n"
	unread := ""
	for at := 150; at < 250; at++ {
		unread += fmt.Sprintf("%d,%d,31,20,80000,,\n", at, 300+3*at)
	}
	for _, test := range []struct {
		name, text string
		line       int
		end, lines string
	}{
		{"second is longer", head + climbs(0, 150) + climbs(4000, 250), 152, "249", "lines 2-151 are left out"},
		{"first is longer", head + climbs(0, 250) + climbs(4000, 150), 2, "249", "lines 252-401 are left out"},
		{"a short gap", head + climbs(0, 150) + climbs(440, 150), 2, "589", ""},
		{"the climb goes on unread", head + climbs(0, 150) + unread, 2, "149", ""},
	} {
		r := recordOf(t, sc, nil, &scenarios.Test{Name: "two"}, test.text)
		if got := fmt.Sprint(r.End); r.Log.Line(r.First) != test.line || got != test.end {
			t.Errorf("%s: from line %d for %s s", test.name, r.Log.Line(r.First), got)
		}
		if notes := strings.Join(r.Notes, " "); test.lines == "" && notes != "" || !strings.Contains(notes, test.lines) {
			t.Errorf("%s: notes %q", test.name, notes)
		}
		for _, s := range r.segments(SegmentSettings{}) {
			if s.From < 0 || s.To > r.End {
				t.Errorf("%s: %v from %.0f to %.0f s", test.name, s.Kind, s.From, s.To)
			}
		}
	}
}

// TestRecordFromAloft: a record that begins high, sinks and climbs again is flown at
// its own altitudes, in its own air.
func TestRecordFromAloft(t *testing.T) {
	sc, _ := loaded(t, "rotary")
	var b strings.Builder
	b.WriteString("time,altitude,speed,outside,power,coolant,oil\n")
	for at := 0; at <= 600; at += 2 {
		altitude, power := 3000-4*float64(at), 40e3
		if at > 300 {
			altitude, power = 600+4*float64(at), 100e3
		}
		fmt.Fprintf(&b, "%d,%.1f,50,%.2f,%.0f,%d.5,%d.5\n", at, altitude, 20-0.0065*altitude, power, 80+at%3, 75+at%3)
	}
	r := recordOf(t, sc, nil, &scenarios.Test{Name: "aloft"}, b.String())
	plant, err := r.plant(r.Scenario, Conditions{})
	if err != nil {
		t.Fatal(err)
	}
	result, err := sweep.FlyPlant(context.Background(), plant, sim.Settings{Sample: 5})
	if err != nil {
		t.Fatal(err)
	}
	channel := func(name string) []float64 { return result.Trajectory.Find(name).Values }
	times, heights, air := channel("time_s"), channel("altitude_m"), channel("outside_degC")
	for i, at := range times {
		if at < 20 || math.Abs(at-300) < 20 || at > 580 {
			continue // where altitude bends or ends, it is a mean over 10 s
		}
		if want := r.altitude.at(at); math.Abs(heights[i]-want) > 2 {
			t.Errorf("at %.0f s flown at %.1f m, recorded at %.1f m", at, heights[i], want)
		}
		if want := r.outsideAt(at); math.Abs(air[i]-want) > 0.05 {
			t.Errorf("at %.0f s flown in %.2f °C, recorded %.2f °C", at, air[i], want)
		}
	}
	if end := times[len(times)-1]; end < 600 {
		t.Errorf("flown for %.0f s only; %q", end, result.Warnings)
	}
}

// TestRecordTooShort: a log of which hardly a row is usable says why.
func TestRecordTooShort(t *testing.T) {
	sc, _ := loaded(t, "tug")
	text := "time,altitude,speed,outside,power,coolant,oil\n2,300,30,20,80000,90,80\n1,300,30,20,80000,90,80\n"
	log, err := ReadLog(strings.NewReader(text), "back.csv", siColumns, LogSettings{})
	if err != nil {
		t.Fatal(err)
	}
	_, err = NewRecord(sc, &scenarios.Test{Name: "back"}, log)
	if want := "fewer than two readings of a fluid's temperature, for example line 3: time: the time goes backwards by 1 s; give more"; err == nil || !strings.Contains(err.Error(), want) {
		t.Errorf("%v, want %q", err, want)
	}
}

// TestRecordPower: power that the engine cannot give is told, with how much it is.
func TestRecordPower(t *testing.T) {
	sc, _ := loaded(t, "tug")
	plant, err := sc.Build()
	if err != nil {
		t.Fatal(err)
	}
	for share, want := range map[float64]int{0.9: 0, 1.05: 0, 1.5: 1} {
		power := share * plant.Available(atmos.Offset(0), 0)
		text := "time,altitude,speed,outside,power,coolant,oil\n"
		for at := range 60 {
			text += fmt.Sprintf("%d,0,31,15,%.0f,%d.5,%d.5\n", at, power, 90+at%2, 80+at%2)
		}
		r := recordOf(t, sc, nil, &scenarios.Test{Name: "strong"}, text)
		if len(r.Notes) != want || want > 0 && !strings.Contains(r.Notes[0], "150 %") {
			t.Errorf("%.2f of the power at hand: notes %q", share, r.Notes)
		}
	}
}
