package calibrate

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sim/atmos"
	"hotclimb/sim/flight"
	"hotclimb/sweep"
)

var regen = flag.Bool("regen", false, "write the demo logs anew")

// demoTruth is what the invented aircraft of the demo records really is, and
// what the file of the rotary does not know: its numbers moved by half to one
// and a half of their doubts.
var demoTruth = []string{
	"engine.heat_to_oil=0.285",
	"engine.heat_to_coolant=0.72",
	"exits.aft_ring.pressure_coefficient=-0.13",
	"inlets.armpit_left.recovery=0.77",
	"inlets.armpit_right.recovery=0.68",
	"exchangers.radiator.rating.heat=103 kW",
	"exchangers.oil_cooler.rating.heat=34.5 kW",
	"gauges.coolant.lag=5 s",
	"gauges.oil.lag=9 s",
	"gauges.oil.bias=2 ddegF",
}

// demoFlight is one flight of the demo.
type demoFlight struct {
	name   string
	set    []string // what was different on it
	clock  string   // at the first row
	field  float64  // air at the field [°C]
	speed  float64  // of the climb [m/s]
	climb  int      // seconds of climb, those of take-off aside
	cruise int      // seconds level
	seed   uint64
	flaws  func(rows []demoRow) []demoRow
}

// demoRow is a second of a flight as the monitor shows it; NaN is an empty cell.
type demoRow struct {
	time                                 int // [s]
	altitude, speed, outside, power, rpm float64
	coolant, oil                         float64
}

const mph, degF = 0.44704, 1 / 1.8

var wideRing = []string{"exits.aft_ring.area=100 in^2"}

// demoFlights are a baseline, the aft ring opened on a colder day and climbed
// faster, and the same again with readings by hand.
var demoFlights = []demoFlight{
	{"baseline", nil, "09:42:10", (66 - 32) * degF, 112 * mph, 450, 560, 1, func(rows []demoRow) []demoRow {
		for i := 392; i < 480; i++ { // the oil sensor sticks
			rows[i].oil = rows[391].oil
		}
		return append(rows[:748:748], rows[779:]...) // the monitor restarts
	}},
	{"wide_ring", wideRing, "10:05:31", (60 - 32) * degF, 115 * mph, 475, 560, 2, func(rows []demoRow) []demoRow {
		for i := 605; i < 629; i++ { // a loose plug
			rows[i].coolant = math.NaN()
		}
		return rows
	}},
	{"wide_ring_again", wideRing, "09:15:00", (63 - 32) * degF, 113 * mph, 470, 300, 3, nil},
}

// wander is noise that fades over some seconds: dx = −x/τ dt + √(2/τ) σ dW.
type wander struct {
	sigma, tau, x float64
	random        *rand.Rand
}

func (w *wander) next(dt float64) float64 {
	keep := math.Exp(-dt / w.tau)
	w.x = keep*w.x + math.Sqrt(1-keep*keep)*w.sigma*w.random.NormFloat64()
	return w.x
}

// legs are those of a flight through slow turbulence: pieces of some seconds.
func (f *demoFlight) legs(random *rand.Rand) []flight.Leg {
	const piece = 5
	warm := f.field - atmos.Standard().Temperature(1200*0.3048)
	gusts, thermals := &wander{1.2 * mph, 25, 0, random}, &wander{0.4, 90, 0, random}
	var legs []flight.Leg
	add := func(kind flight.Kind, seconds int, throttle float64, speed func(t float64) float64) {
		for t := 0; t < seconds; t += piece {
			leg := flight.Leg{Name: fmt.Sprint(len(legs)), Kind: kind, Speed: speed(float64(t)), Throttle: throttle, Duration: piece, OwnAir: true}
			leg.AirOffset = warm + thermals.next(piece)
			if leg.Speed > 30*mph {
				leg.Speed += gusts.next(piece)
			}
			leg.Prescribed = kind == flight.TakeOff && leg.Speed < 75*mph // on the ground still
			legs = append(legs, leg)
		}
	}
	add(flight.Idle, 60, 0.06, func(float64) float64 { return 0 })
	add(flight.TakeOff, 60, 1, func(t float64) float64 { return math.Min(15*mph+6*mph*t, 95*mph) })
	add(flight.Climb, f.climb, 1, func(t float64) float64 { return math.Min(97*mph+1*mph*t, f.speed) })
	add(flight.Level, f.cruise, 0.75, func(t float64) float64 { return math.Min(f.speed+1*mph*t, 163*mph) })
	return legs
}

// fly flies the true aircraft and returns what a monitor shows every second.
func (f *demoFlight) fly(t *testing.T) []demoRow {
	t.Helper()
	sc, settings := loaded(t, "rotary", append(append([]string{}, demoTruth...), f.set...)...)
	flown, err := sc.AsFlown(&scenarios.Test{}, settings)
	if err != nil {
		t.Fatal(err)
	}
	plant, err := flown.Build()
	if err != nil {
		t.Fatal(err)
	}
	random := rand.New(rand.NewPCG(f.seed, 0))
	plant.Legs = f.legs(random)
	plant.Start = sim.Start{Given: true, Coolant: 82, Oil: 74}
	var times []float64
	for i := range 5 * len(plant.Legs) {
		times = append(times, float64(i))
	}
	result, err := sweep.FlyPlant(context.Background(), plant, sim.Settings{Sample: 1, Readings: times})
	if err != nil || result.Incomplete != "" {
		t.Fatal(err, result)
	}
	rows := f.shown(result, plant, random)
	for c, gauge := range [2]scenarios.Gauge{flown.Gauges.Coolant, flown.Gauges.Oil} {
		slow := &wander{1.7 * degF, 6, 0, random} // eddies at the sensor, and what no model has
		for i, v := range shown(times, result.Readings[c], gauge.Lag.Value, gauge.Bias.Value) {
			v = (v+slow.next(1)+0.2*degF*random.NormFloat64())/degF + 32
			*[2]*float64{&rows[i].coolant, &rows[i].oil}[c] = math.Round(10*v) / 10
		}
	}
	t.Logf("%s: %s, peaks %.1f °F of %.0f, %.1f °F of %.0f, level at %.0f ft", f.name, result.Status,
		result.Peaks[0].Value/degF+32, result.Peaks[0].Limit/degF+32, result.Peaks[1].Value/degF+32, result.Peaks[1].Limit/degF+32, rows[len(rows)-1].altitude)
	return rows
}

// shown are the conditions of a flight with the noise and the steps of sensors.
func (f *demoFlight) shown(result *sim.Result, p *sim.Plant, random *rand.Rand) []demoRow {
	channel := func(name string) []float64 { return result.Trajectory.Find(name).Values }
	step := func(v, noise, size float64) float64 { return math.Round((v+noise*random.NormFloat64())/size) * size }
	speed := series{}
	for i, leg := range p.Legs {
		speed.add(5*float64(i)+2.5, leg.Speed/mph)
	}
	var rows []demoRow
	for i, at := range channel("time_s") {
		if at != float64(len(rows)) || len(rows) == len(result.Readings[0]) {
			continue
		}
		h, power := channel("altitude_m")[i], channel("power_W")[i]
		sigma := atmos.AtField(1200*0.3048, f.field).At(h).Density / atmos.SeaLevelDensity
		rows = append(rows, demoRow{
			time: len(rows), altitude: step(h/0.3048, 4, 10), speed: math.Max(0, step(speed.at(at), 0.5, 1)),
			outside: step(channel("outside_degC")[i]/degF+32, 0.3, 1), power: step(power/745.7, 0.8, 1),
			rpm: step(p.Engine.Speed(power, sigma)*30/math.Pi, 12, 10),
		})
	}
	return rows
}

// log is what the monitor of a flight writes.
func (f *demoFlight) log(t *testing.T) string {
	t.Helper()
	var b strings.Builder
	fmt.Fprintf(&b, "# Invented: no aircraft flew this. The model of rotary.yaml made it, with numbers moved\n"+
		"# by half to one and a half of their doubts, turbulence, lag and noise of sensors, a\n"+
		"# dropout and a sensor that sticks or comes loose (demo_test.go in sweep/calibrate).\n"+
		"Clock,PAlt,IAS,OAT,Power,RPM,Coolant,OilReturn\nh:m:s,ft,mph,°F,hp,rpm,°F,°F\n")
	start, err := time.Parse(time.TimeOnly, f.clock)
	if err != nil {
		t.Fatal(err)
	}
	cell := func(v float64) string {
		if math.IsNaN(v) {
			return ""
		}
		return fmt.Sprintf("%.1f", v)
	}
	for _, r := range f.flaws(f.fly(t)) {
		fmt.Fprintf(&b, "%s,%.0f,%.0f,%.0f,%.0f,%.0f,%s,%s\n", start.Add(time.Duration(r.time)*time.Second).Format(time.TimeOnly),
			r.altitude, r.speed, r.outside, r.power, r.rpm, cell(r.coolant), cell(r.oil))
	}
	return b.String()
}

// TestDemoLogs: the demo logs of the rotary are those that the model makes;
// -regen writes them.
func TestDemoLogs(t *testing.T) {
	for _, f := range demoFlights[:2] {
		file := "../../scenarios/rotary_" + f.name + ".csv"
		text := f.log(t)
		if *regen {
			if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		kept, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if text != string(kept) {
			t.Errorf("%s is not what the model makes now; if that is meant, write it with -regen", file)
		}
	}
}

// TestDemoByHand: the readings by hand of the rotary are those that the model
// makes, every 80 s of the climb from lift-off on, each eyed for ten seconds; -v
// prints them as they stand in the file.
func TestDemoByHand(t *testing.T) {
	f := demoFlights[2]
	sc, _ := loaded(t, "rotary")
	at := slices.Index(sc.TestNames(), f.name)
	if at < 0 {
		t.Fatalf("the rotary has no test %s", f.name)
	}
	rows, names := f.fly(t), strings.Fields("a b c d e f g")
	if n := len(sc.Tests[at].Points); n != len(names) {
		t.Errorf("%d readings, want %d", n, len(names))
	}
	for i, name := range names {
		now := 100 + 80*i
		r := rows[now]
		coolant, oil := 0.0, 0.0
		for _, near := range rows[now-5 : now+6] {
			coolant, oil = coolant+near.coolant/11, oil+near.oil/11
		}
		want := fmt.Sprintf("%d s %.0f ft %.0f hp %.0f degF %.0f degF", 80*i, math.Round(r.altitude/20)*20, r.power, coolant, oil)
		got := ""
		if p := sc.Tests[at].Points[name]; p != nil {
			got = strings.Join([]string{
				p.Time.Exact(), p.Altitude.Exact(), p.Power.Exact(),
				p.Coolant.Exact(), p.Oil.Exact(),
			}, " ")
		}
		t.Logf("%s: %s, outside %.0f, at %.0f mph", name, want, r.outside, r.speed)
		if got != want {
			t.Errorf("reading %s is %q, want %q", name, got, want)
		}
	}
}

// demoRecords are the flight records of the rotary.
func demoRecords(t *testing.T, sc *scenarios.Scenario) []*Record {
	t.Helper()
	var records []*Record
	for _, test := range sc.Tests {
		var log *Log
		if test.Log != "" {
			file, err := sc.OpenLog(test)
			if err != nil {
				t.Fatal(err)
			}
			log, err = ReadLog(file, test.Log, ColumnsOf(test.Columns), LogSettings{})
			if err := errors.Join(err, file.Close()); err != nil {
				t.Fatal(err)
			}
		}
		flown, err := sc.AsFlown(test, nil)
		if err != nil {
			t.Fatal(err)
		}
		r, err := NewRecord(flown, test, log)
		if err != nil {
			t.Fatal(err)
		}
		records = append(records, r)
	}
	return records
}

// TestDemoFitted: the demo teaches what it was made with. The stuck sensor, the
// dropout and the empty cells are told; every number that the file asks for ends
// within three doubts of the truth, and readings are as far from the model as
// their noise says.
func TestDemoFitted(t *testing.T) {
	sc, settings := loaded(t, "rotary", demoTruth...)
	truth, err := sc.AsFlown(&scenarios.Test{}, settings)
	if err != nil {
		t.Fatal(err)
	}
	records := demoRecords(t, sc)
	for i, want := range []int{Stuck: 1, Gap: 1, Missing: 1} {
		got := 0
		for _, r := range records[:2] {
			for _, f := range r.Log.Faults {
				if f.Kind == FaultKind(i) {
					got++
				}
			}
		}
		if got != want {
			t.Errorf("%d faults of kind %d, want %d", got, i, want)
		}
	}
	c := Calibration{Scenario: sc, Records: records, Paths: sc.Fit.Paths, Workers: 2}
	found, err := c.Find(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range found.Numbers {
		p, err := truth.Compile(n.Param.Path)
		if err != nil {
			t.Fatal(err)
		}
		want, _ := p.Get(truth)
		off := (n.After - want.Value) / n.Left
		t.Logf("%-40s true %9.4g before %9.4g ± %-8.3g after %9.4g ± %-8.3g off %+.2f", n.Param.Path, want.Value, n.Before, n.Doubt, n.After, n.Left, off)
		if math.Abs(off) > 3 {
			t.Errorf("%s is %.1f doubts off", n.Param.Path, off)
		}
	}
	if s := found.Checks.Scatters(); math.Abs(s) > 3 {
		t.Errorf("readings scatter %.2f of what their noise says, %.1f spreads off", found.Checks.Reduced, s)
	}
}

// TestDemoLegs: a flight through turbulence, with an altitude in steps of 10 ft,
// still is few legs, and they last to the last reading.
func TestDemoLegs(t *testing.T) {
	sc, _ := loaded(t, "rotary")
	for _, r := range demoRecords(t, sc)[:2] {
		plant, err := r.plant(sc, Conditions{})
		if err != nil {
			t.Fatal(err)
		}
		if n := len(plant.Legs); n > 45 {
			t.Errorf("%s: %d legs", r.Name, n)
		}
		lasts := 0.0
		for _, leg := range plant.Legs {
			lasts += leg.Duration
		}
		if over := lasts - r.End; over < overrun/2 || over > 2*overrun {
			t.Errorf("%s: legs end %g s after the record", r.Name, over)
		}
	}
}
