package optimum

import (
	"cmp"
	"context"
	"math"

	"hotclimb/scenarios"
	"hotclimb/sim"
)

// SprayClimb is what spray water adds to the climb at its own speed and
// elevation. It starts when the caution of the sprayed circuit is passed, or at
// the temperature that the file gives, in the legs that the file gives.
type SprayClimb struct {
	Onto    string  // the exchanger
	Circuit string  // coolant or oil, that it serves
	Starts  float64 // at the gauge of that circuit [°C]
	Rate    float64 // [m³/s]; 0 when no rate holds the limits
	Least   bool    // the file gives no rate: the least that holds at RateFor
	RateFor float64 // field temperature of that [°C]
	Tank    float64 // [m³]
	Carried float64 // the time that the tank lasts, or the file allows [s]
	Brings  float64 // what spray adds to the least margin there, the tank never dry [K]
	Needed  []SprayTime
	Ceiling Ceiling // of an unlimited climb with spray and the tank carried
	Trouble string  // why there is nothing of it, "" when there is
}

// SprayTime is how long spray must run on a hotter day.
type SprayTime struct {
	Temperature float64 // at the field [°C]
	Time        float64 // the least time from its start that keeps the limits [s]; NaN when none does
	Enough      bool    // so much is carried
}

// sprayPlan is how spray is set.
type sprayPlan struct {
	onto, circuit           string
	rate, tank, above, time scenarios.Param
	starts                  float64 // [°C]
	filed                   sprayUse
	filedTime               float64 // most that the file allows [s]; +Inf for no end
}

const (
	waterDensity  = 997.0     // kg/m³, as in the plant: IAPWS-IF97 at 25 °C
	endlessTank   = 0.2       // m³, the most a file may carry
	litrePerMin   = 1e-3 / 60 // m³/s
	firstRate     = 0.1       // L/min
	lastRate      = 12.8      // L/min, seven doublings on
	rateTolerance = 0.01      // L/min
	timeTolerance = 2.0       // s
	noHelp        = 0.2       // K of margin below which spray is said not to help
)

// sprayOf is the spray of a scenario, nil when it has none.
func sprayOf(sc *scenarios.Scenario, plant *sim.Plant) *sprayPlan {
	s := sc.Spray
	if s == nil {
		return nil
	}
	p := &sprayPlan{
		onto: s.Onto, circuit: ByCoolant, starts: plant.Coolant.Caution,
		filed: sprayUse{rate: s.Rate.Value, tank: s.Tank.Value}, filedTime: math.Inf(1),
	}
	if plant.Exchangers[plant.Spray.Exchanger].Oil {
		p.circuit, p.starts = ByOil, plant.Oil.Caution
	}
	if s.Above.Known {
		p.starts = s.Above.Value
	}
	if s.For.Known {
		p.filedTime = s.For.Value
	}
	for path, param := range map[string]*scenarios.Param{"rate": &p.rate, "tank": &p.tank, "above": &p.above, "for": &p.time} {
		var err error
		if *param, err = sc.Compile("spray." + path); err != nil {
			panic(err) // the paths are ours and the section exists
		}
	}
	return p
}

// set puts spray, or none, into a scenario.
func (p *sprayPlan) set(sc *scenarios.Scenario, use *sprayUse) error {
	if use == nil {
		return p.rate.Set(sc, 0)
	}
	errs := []error{p.rate.Set(sc, use.rate), p.tank.Set(sc, use.tank), p.above.Set(sc, p.starts)}
	if use.time > 0 {
		errs = append(errs, p.time.Set(sc, use.time))
	}
	return cmp.Or(errs...) // the first
}

// sprayed finds what spray adds to the climb of a row.
func (p *limitPlan) sprayed(ctx context.Context, s *SprayClimb, own *LimitRow) error {
	*s = SprayClimb{
		Onto: p.spray.onto, Circuit: p.spray.circuit, Starts: p.spray.starts, Tank: p.spray.filed.tank,
		Rate: p.spray.filed.rate, Ceiling: Ceiling{Temperature: math.NaN(), Bound: NoClimb},
	}
	if own.Bound != Found {
		s.Trouble = "there is no highest temperature without it to start from"
		return nil
	}
	c := condition{speed: own.Speed, elevation: own.Elevation, temperature: own.Temperature + p.above[1]}
	s.RateFor = c.temperature
	if err := p.keptRate(ctx, s, &c, own); err != nil || s.Rate == 0 {
		return err
	}
	s.Carried = math.Min(s.Tank/s.Rate, p.spray.filedTime)
	for _, step := range p.above {
		c.temperature = own.Temperature + step
		t, err := p.sprayTime(ctx, c, s.Rate)
		if err != nil {
			return err
		}
		s.Needed = append(s.Needed, SprayTime{c.temperature, t, t <= s.Carried})
	}
	c.spray = &sprayUse{rate: s.Rate, tank: s.Tank}
	var err error
	s.Ceiling, _, err = p.ceiling(ctx, c, own.Temperature+p.above[1])
	return err
}

// keptRate finds the rate with what is kept: first as without spray, and then as
// with spray at that rate, the doubts of the spray itself among the others.
func (p *limitPlan) keptRate(ctx context.Context, s *SprayClimb, c *condition, own *LimitRow) error {
	if own.Spread != nil {
		c.kept = times(p.study.Doubt, *own.Spread)
	}
	first := *s
	if err := p.sprayRate(ctx, s, *c); err != nil || s.Rate == 0 || own.Spread == nil {
		return err
	}
	wet := *c
	wet.spray = &sprayUse{rate: s.Rate, tank: endlessTank, time: longest}
	spread, err := p.spread(ctx, wet, 1)
	if err != nil {
		return err
	}
	*s, c.kept = first, times(p.study.Doubt, spread)
	return p.sprayRate(ctx, s, *c)
}

// sprayRate finds the rate, unless the file gives one, and what it brings.
func (p *limitPlan) sprayRate(ctx context.Context, s *SprayClimb, c condition) error {
	dry, err := p.fly(ctx, c)
	if err != nil {
		return err
	}
	last := dry.margin
	margin := func(rate float64) (float64, error) {
		c.spray = &sprayUse{rate: rate * litrePerMin, tank: endlessTank, time: longest}
		v, err := p.fly(ctx, c)
		last = v.margin
		return v.score(), err
	}
	if s.Rate > 0 {
		_, err := margin(s.Rate / litrePerMin)
		s.Brings = last - dry.margin
		return err
	}
	s.Least = true
	e := edge{bad: probe{0, dry.margin}, hasBad: true}
	for rate := firstRate; rate <= lastRate && !e.hasGood; rate *= 2 {
		m, err := margin(rate)
		if err != nil {
			return err
		}
		s.Brings = math.Max(s.Brings, last-dry.margin)
		e.take(probe{rate, m})
	}
	if !e.hasGood {
		s.Trouble = "no rate of spray holds the limits"
		if s.Brings < noHelp {
			s.Trouble = "spray does not help: " + dry.by + " limits the climb"
		}
		return nil
	}
	e, err = refine(e, rateTolerance, margin)
	s.Rate = e.good.x * litrePerMin
	return err
}

// longest is a time without end for spray [s].
const longest = 24 * 3600.0

// sprayTime finds the least time for which spray of a rate must run.
func (p *limitPlan) sprayTime(ctx context.Context, c condition, rate float64) (float64, error) {
	c.spray = &sprayUse{rate: rate, tank: endlessTank, time: longest}
	v, err := p.fly(ctx, c)
	if err != nil || !(v.score() >= 0) {
		return math.NaN(), err
	}
	used := v.water / (waterDensity * rate)
	e := edge{good: probe{used, v.margin}, bad: probe{0, math.NaN()}, hasGood: true, hasBad: true}
	e, err = refine(e, timeTolerance, func(t float64) (float64, error) {
		c.spray = &sprayUse{rate: rate, tank: endlessTank, time: t}
		v, err := p.fly(ctx, c)
		return v.score(), err
	})
	return e.good.x, err
}
