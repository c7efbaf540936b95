package calibrate

import (
	"fmt"
	"math"

	"hotclimb/sim"
	"hotclimb/sim/atmos"
	"hotclimb/sim/flight"
)

// A leg goes on as long as the record is flown alike within these: engineering
// judgement. Each leg has the means of its own, so what is lost is how a condition
// moved within it: 0.01 K against half as much, at nearly twice the legs.
const (
	piece       = 5.0   // length of the shortest leg [s]
	longest     = 120.0 // of the longest [s]
	smooth      = 10.0  // over which altitude is a mean [s]
	alikeSpeed  = 1.5   // [m/s]
	alikePower  = 0.02  // share of the greater
	leastPower  = 500.0 // less is alike: a monitor that shows whole hp [W]
	alikeWarmth = 0.5   // [K]
	alikeClimb  = 0.4   // [m/s]

	overrun = 1e-3 // of the last leg, so that rounding leaves no reading behind it [s]
	rolling = 13.0 // airspeed below which the aircraft is on the ground [m/s], 25 kt
	drying  = 1e-8 // flow of spray water that counts as none [m³/s]
)

// how is how a stretch of a record was flown.
type how struct {
	speed, power, warmth, climb, engineSpeed, water float64
}

// between is how the record was flown between two times.
func (r *Record) between(a, b float64) how {
	h := how{
		speed: r.speed.mean(a, b), warmth: r.warmth.mean(a, b),
		climb: (r.height(b) - r.height(a)) / (b - a),
	}
	if r.power.known() {
		h.power = r.power.mean(a, b)
	}
	if r.engineSpeed.known() {
		h.engineSpeed = r.engineSpeed.mean(a, b)
	}
	if r.water.known() {
		h.water = r.water.mean(a, b)
	}
	return h
}

// height is the altitude of the record [m], of a log as a mean over some seconds:
// a gauge that goes in steps of 10 ft would else climb and sink at 0.6 m/s.
func (r *Record) height(t float64) float64 {
	if r.Log == nil {
		return r.altitude.at(t)
	}
	return r.altitude.mean(t-smooth/2, t+smooth/2)
}

// alike says that two stretches may be flown as one.
func (h how) alike(o how) bool {
	near := func(a, b, tol float64) bool { return math.Abs(a-b) <= tol }
	return near(h.speed, o.speed, alikeSpeed) && near(h.warmth, o.warmth, alikeWarmth) &&
		near(h.climb, o.climb, alikeClimb) && near(h.power, o.power, max(leastPower, alikePower*max(h.power, o.power))) &&
		near(h.engineSpeed, o.engineSpeed, alikePower*max(h.engineSpeed, o.engineSpeed)) &&
		(h.water > drying) == (o.water > drying) && h.rolls() == o.rolls()
}

// cut divides the record into legs: short pieces, joined to those before as long
// as they are flown like them.
func (r *Record) cut() {
	n := max(1, int(math.Round(r.End/piece)))
	at := func(i int) float64 { return r.End * float64(i) / float64(n) }
	start := 0.0
	r.cuts = []float64{0}
	for i := 1; i < n; i++ {
		if at(i+1)-start > longest || !r.between(at(i), at(i+1)).alike(r.between(start, at(i))) {
			start = at(i)
			r.cuts = append(r.cuts, start)
		}
	}
	r.cuts = append(r.cuts, r.End)
}

// legs are those of the record on a plant. On another day than that of the
// record the throttle stays and the power follows the air.
func (r *Record) legs(p *sim.Plant, day *atmos.Day) []flight.Leg {
	legs := make([]flight.Leg, 0, len(r.cuts)-1)
	for i := range len(r.cuts) - 1 {
		a, b := r.cuts[i], r.cuts[i+1]
		h := r.between(a, b)
		middle := r.altitude.at((a + b) / 2)
		recorded := atmos.Offset(h.warmth)
		leg := flight.Leg{
			Name: dry, Kind: h.kind(), Speed: h.speed, Duration: b - a,
			Prescribed: true, RateOfClimb: h.climb, EngineSpeed: h.engineSpeed,
			OwnAir: true, AirOffset: h.warmth,
		}
		if h.rolls() {
			leg.SpeedKind = flight.True
		}
		if h.water > drying {
			leg.Name = wet
		}
		if day != nil {
			leg.AirOffset = day.Temperature(middle) - atmos.Standard().Temperature(middle)
		}
		if !r.power.known() {
			h.power = h.needed(p, recorded, middle)
		}
		leg.Throttle = h.power / p.Available(recorded, middle)
		legs = append(legs, leg)
	}
	legs[len(legs)-1].Duration += overrun
	return legs
}

// tooStrong is how far above what the engine gives by the scenario power may be read
// before it is told: monitors compute it, and engines differ (engineering judgement).
const tooStrong = 1.10

// strong notes power that the engine cannot give.
func (r *Record) strong() error {
	p, err := r.Scenario.Build()
	if err != nil {
		return err
	}
	most := 0.0
	for _, leg := range r.legs(p, nil) {
		most = max(most, leg.Throttle)
	}
	if most > tooStrong {
		r.Notes = append(r.Notes, fmt.Sprintf("power reads up to %.0f %% of what the engine of the scenario gives there, and is flown as read; look at its unit, and at the power of the engine", 100*most))
	}
	return nil
}

// Names of legs, by which the spray knows when to run.
const (
	dry = "record"
	wet = "record with spray"
)

// rolls says that the aircraft is on the ground.
func (h how) rolls() bool { return h.speed < rolling }

// kind is the kind of leg that is flown so: one of which the altitude follows
// the record, on the ground as well, where pressure altitude changes a little
// too. The propeller works there and in a climb as in a climb.
func (h how) kind() flight.Kind {
	if h.rolls() || h.climb > 1 {
		return flight.Climb
	}
	return flight.Descend
}

// idlePower is the share of the rated power that an engine gives on the ground
// where nobody wrote it down: engineering judgement.
const idlePower = 0.05

// needed is the power [W] that the speed and the climb take:
//
//	P = (D·V + W·ḣ)/η
//
// with the drag of the aircraft without that of its cooling, as far as the
// engine gives it.
func (h how) needed(p *sim.Plant, air atmos.Day, altitude float64) float64 {
	if h.rolls() {
		return idlePower * p.Engine.RatedPower
	}
	state := air.At(altitude)
	v := atmos.CalibratedToTrue(p.Airspeed.Calibrated(h.speed), state)
	efficiency := p.Propeller.EfficiencyCruise
	if h.kind() == flight.Climb {
		efficiency = p.Propeller.EfficiencyClimb
	}
	drag := p.Aircraft.Drag(0.5 * state.Density * v * v)
	needs := (drag*v + p.Aircraft.Weight()*h.climb) / efficiency
	return math.Min(math.Max(needs, 0), p.Available(air, altitude))
}
