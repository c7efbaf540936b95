package optimum

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"sync/atomic"

	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sim/atmos"
	"hotclimb/sweep"
)

// limitPlan is a study with everything that does not change from flight to flight.
type limitPlan struct {
	study       LimitStudy
	leg         string // the climb
	temperature scenarios.Param
	elevation   scenarios.Param
	speed       scenarios.Param
	tops        []top
	day         atmos.Day // as filed
	dayGiven    bool      // by a temperature at the field
	spray       *sprayPlan
	filed       FiledClimb
	speeds      []float64 // rising
	elevations  []float64
	above       []float64
	flights     atomic.Int64

	// Slopes that serve all flights without spray, by path. The own climb, which is
	// looked at before all else, gives them; nil until then.
	small map[string]sweep.Margins
}

// top is the altitude that ends a leg.
type top struct {
	param scenarios.Param
	value float64 // as filed [m]
}

// ClimbLegs are the names of the climb legs of a case.
func ClimbLegs(sc *scenarios.Scenario) []string {
	var names []string
	for _, leg := range sc.Flight.Legs {
		if leg.Kind == "climb" {
			names = append(names, leg.Name)
		}
	}
	return names
}

// plan flies the case as filed and makes the plan of a study.
func (study *LimitStudy) plan(ctx context.Context) (*limitPlan, error) {
	p := &limitPlan{study: *study}
	sc := study.Case.Scenario
	plant, err := sc.Build()
	if err != nil {
		return nil, err
	}
	p.day, p.dayGiven = plant.Weather.Day, sc.Day.Temperature.Known
	filed, err := sweep.Fly(ctx, sc, sim.Settings{Sample: sampleInterval, RelTol: study.Sim.RelTol, Method: study.Sim.Method})
	if err != nil {
		return nil, fmt.Errorf("case %s: %w", study.Case.Name, err)
	}
	p.flights.Add(1)
	if p.leg, err = study.climb(filed); err != nil {
		return nil, err
	}
	if err := p.compile(); err != nil {
		return nil, err
	}
	p.fileOf(sc, filed)
	p.spray = sprayOf(sc, plant)
	p.ranges(sc)
	return p, nil
}

// sampleInterval is that of flights looked at in time [s].
const sampleInterval = 5.0

// climb is the name of the leg that is studied.
func (study *LimitStudy) climb(filed *sim.Result) (string, error) {
	names := ClimbLegs(study.Case.Scenario)
	switch {
	case len(names) == 0:
		return "", fmt.Errorf("case %s: has no climb leg", study.Case.Name)
	case study.Leg == "":
		return slices.MaxFunc(names, func(a, b string) int {
			return cmp.Compare(gain(filed, a), gain(filed, b))
		}), nil
	case !slices.Contains(names, study.Leg):
		return "", fmt.Errorf("case %s: has no climb leg %s", study.Case.Name, study.Leg)
	}
	return study.Leg, nil
}

// gain is the height that a leg of a flight with samples gains [m].
func gain(r *sim.Result, leg string) float64 {
	when, high := r.Trajectory.Find("time_s"), r.Trajectory.Find("altitude_m")
	span := spanOf(r, leg)
	least, most := math.Inf(1), math.Inf(-1)
	for i, t := range when.Values {
		if span != nil && t >= span.Start && t <= span.End {
			least, most = math.Min(least, high.Values[i]), math.Max(most, high.Values[i])
		}
	}
	return math.Max(0, most-least)
}

// spanOf is the time that a leg of a flight took; nil when it was not begun.
func spanOf(r *sim.Result, leg string) *sim.LegSpan {
	i := slices.IndexFunc(r.Legs, func(s sim.LegSpan) bool { return s.Name == leg })
	if i < 0 {
		return nil
	}
	return &r.Legs[i]
}

// compile finds what is set from flight to flight.
func (p *limitPlan) compile() error {
	sc := p.study.Case.Scenario
	compile := func(path string) scenarios.Param {
		param, err := sc.Compile(path)
		if err != nil {
			panic(err) // the path is one of ours and its section exists
		}
		return param
	}
	p.temperature, p.elevation = compile("day.temperature"), compile("day.elevation")
	p.speed = compile("flight.legs." + p.leg + ".speed")
	for _, leg := range sc.Flight.Legs {
		if leg.ToAltitude.Known {
			p.tops = append(p.tops, top{compile("flight.legs." + leg.Name + ".to_altitude"), leg.ToAltitude.Value})
		}
	}
	if _, known := p.speed.Get(sc); !known {
		return fmt.Errorf("case %s: leg %s has no speed", p.study.Case.Name, p.leg)
	}
	return nil
}

// fileOf notes what became of the flight as it is filed.
func (p *limitPlan) fileOf(sc *scenarios.Scenario, r *sim.Result) {
	v := judge(r, p.leg, 0)
	speed, _ := p.speed.Get(sc)
	elevation := sc.Day.Elevation.Value
	p.filed = FiledClimb{
		Speed: speed.Value, Elevation: elevation, Temperature: p.day.Temperature(elevation), Gain: gain(r, p.leg),
		Status: r.Status, Margin: v.margin, By: v.by, Trouble: v.trouble,
		Warnings: r.Warnings,
	}
}

// What is looked at when nothing is said.
var (
	speedFactors = []float64{0.85, 0.925, 1, 1.1, 1.2} // of the filed speed

	// Roundings of speeds, in the unit that the file writes them in.
	speedSteps = map[string]float64{"km/h": 2, "m/s": 0.5}

	higherFields = map[string][]float64{ // above the filed one [m]
		"us": {2000 * foot, 4000 * foot},
		"si": {600, 1200},
	}
	hotterDays = map[string][]float64{ // above the highest temperature [K]
		"us": {5 / 1.8, 10 / 1.8, 15 / 1.8},
		"si": {3, 6, 9},
	}
)

const foot = 0.3048 // m, exact, international foot

// ranges fills in the speeds, elevations and temperatures that are looked at.
func (p *limitPlan) ranges(sc *scenarios.Scenario) {
	p.speeds, p.elevations, p.above = slices.Clone(p.study.Speeds), slices.Clone(p.study.Elevations), hotterDays[sc.Display]
	if p.speeds == nil {
		p.speeds = p.speedsAround(sc)
	}
	slices.Sort(p.speeds)
	if p.elevations == nil {
		p.elevations = []float64{p.filed.Elevation}
		for _, h := range higherFields[sc.Display] {
			p.elevations = append(p.elevations, p.filed.Elevation+h)
		}
	}
}

// speedsAround are speeds around the filed one, round ones but for that itself.
func (p *limitPlan) speedsAround(sc *scenarios.Scenario) []float64 {
	n, _ := p.speed.Get(sc)
	perUnit, err := scenarios.Convert(1, n.Unit, p.speed.Dimension)
	if err != nil {
		perUnit = 1 // a default in SI has no unit
	}
	step := 1.0
	if s, ok := speedSteps[n.Unit]; ok {
		step = s
	}
	list := make([]float64, len(speedFactors))
	for i, f := range speedFactors {
		list[i] = n.Value
		if f != 1 {
			list[i] = math.Round(f*n.Value*perUnit/step) * step / perUnit
		}
	}
	return list
}
