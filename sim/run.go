package sim

import (
	"context"
	"fmt"
	"math"

	"hotclimb/sim/flight"
	"hotclimb/sim/ode"
)

// Longest times a run waits for something that may never come.
const (
	longestLeg    = 4 * 3600.0 // [s]
	longestSettle = 8 * 3600.0 // [s]
)

// Temperatures that end a run: coolant has boiled away, oil has failed.
const (
	coolantLost = 160.0 // °C, or lostAbove over the limit
	oilLost     = 200.0 // °C, or lostAbove over the limit
	lostAbove   = 40.0  // K
)

// Run flies the plant through its legs. The error says that there is no
// trustworthy answer: the air flow was not found, or ctx was cancelled.
func Run(ctx context.Context, p *Plant, set Settings) (*Result, error) {
	r, err := newRunner(p, set)
	if err != nil {
		return nil, err
	}
	if err := r.start(ctx); err != nil {
		return nil, err
	}
	for i := 0; i < len(p.Legs) && !r.lost; i++ {
		if err := r.fly(ctx, &p.Legs[i]); err != nil {
			return nil, err
		}
	}
	r.out.leave(r)
	if r.out.err != nil {
		return nil, r.out.err
	}
	return r.finish()
}

// runner carries a run from leg to leg.
type runner struct {
	*model
	set      Settings
	solver   *ode.Solver
	now      float64   // [s]
	y        []float64 // state now
	first    []float64 // state at the start
	watch    [2]watch  // of both circuits
	out      *recorder
	everyLeg []ode.Event // those of every leg
	sprayed  sprayMode
	lost     bool    // the temperatures ran away
	landed   bool    // the present leg came down to the field
	coldest  float64 // outside air so far [°C]
	result   Result
}

func newRunner(p *Plant, set Settings) (*runner, error) {
	m, err := newModel(p)
	if err != nil {
		return nil, err
	}
	r := &runner{model: m, set: set, solver: ode.NewSolver(states), y: make([]float64, states)}
	if r.set.RelTol == 0 {
		r.set.RelTol = DefaultRelTol
	}
	r.loosen()
	r.result.BoilMargin = math.Inf(1)
	r.out, err = newRecorder(p, set.Sample)
	return r, err
}

// loosen makes air flows and ratings as exact as a step of the flight needs. The
// flows may be off by two thousandths of the error of a step, which no step
// notices.
func (r *runner) loosen() {
	r.air.Tolerance = math.Max(2e-3*r.set.RelTol, 1e-9)
	r.nearby = nearbyInFlight(r.set.RelTol)
}

// start sets the state at which the flight begins.
func (r *runner) start(ctx context.Context) error {
	r.leg = &r.Legs[0]
	s := &r.Plant.Start
	begin := r.Weather.Elevation + s.Above
	air := r.day().Temperature(begin)
	warm := [2]float64{air, air}
	if s.Given {
		warm = [2]float64{s.Coolant, s.Oil}
	}
	r.coldest = air
	y := r.y
	y[metal], y[altitude] = warm[coolant], begin
	for _, c := range []side{coolant, oil} {
		y[c.hot()], y[c.cold()] = warm[c], warm[c]
		y[c.open()] = 1
		if th := r.circuit(c).Thermostat; th != nil {
			y[c.open()] = th.Settled(warm[c])
		}
	}
	if s.Settled && !s.Given {
		if err := r.settle(ctx); err != nil {
			return err
		}
		if r.lost {
			r.warn("the temperatures run away in the conditions of leg %s before they settle, so the flight does not begin; let it start from ambient, or give start_coolant and start_oil", r.leg.Name)
			r.incomplete(r.leg)
		}
	}
	if r.Plant.Spray != nil {
		y[water] = r.Plant.Spray.Tank
	}
	y[heatIn], y[heatOut] = 0, 0
	r.first = append([]float64(nil), y...)
	r.boil(y[coolantHot], y[altitude])
	for _, c := range []side{coolant, oil} {
		w := &r.watch[c]
		w.begin(y, c.sensed(r.circuit(c)), r.leg)
		if w.peak > r.circuit(c).Maximum {
			w.cross(r.now)
		}
	}
	r.readGauges(r.now, func(entry int, _ float64) float64 { return y[entry] })
	return nil
}

func (r *runner) problem(t0, t1 float64) ode.Problem {
	return ode.Problem{
		Deriv: r.derivative, Jacobian: r.jacobian, Autonomous: true,
		T0: t0, T1: t1, Y0: r.y, Passive: accumulators,
	}
}

// stepError are the absolute errors allowed per step at a relative one of 1.
var stepError = allowed(1e-3 / DefaultRelTol)

// allowed returns the error of every state where temperatures may be off by t
// [K]: as much in the openings, a hundredfold in metres of altitude.
func allowed(t float64) (tol [states]float64) {
	for i := metal; i <= oilCold; i++ {
		tol[i] = t
	}
	tol[coolantOpen], tol[oilOpen], tol[altitude] = t, t, 100*t
	for i := water; i < states; i++ {
		tol[i] = 1
	}
	return tol
}

// settings returns those of the solver in flight. The absolute errors allowed
// shrink with the relative one.
func (r *runner) settings() ode.Settings {
	set := ode.Settings{RelTol: r.set.RelTol, AbsTol: make([]float64, states)}
	for i, e := range stepError {
		set.AbsTol[i] = e * r.set.RelTol
	}
	switch r.set.Method {
	case Explicit:
		set.Method = ode.DormandPrince
	case LStable:
		set.Method = ode.Rodas4
	}
	return set
}

// fly integrates one leg.
func (r *runner) fly(ctx context.Context, leg *flight.Leg) error {
	r.leg, r.stalled, r.landed = leg, false, false
	r.touchDown()
	r.beginSpray()
	end := longestLeg
	if leg.Duration > 0 {
		end = leg.Duration
	}
	span := LegSpan{Name: leg.Name, Start: r.now, End: r.now}
	there, err := r.alreadyThere()
	if err != nil {
		return fmt.Errorf("leg %s, %.0f s into the flight: %w", leg.Name, r.now, err)
	}
	if there {
		r.warn("leg %s ends where it starts", leg.Name)
		r.result.Legs = append(r.result.Legs, span)
		return nil
	}
	problem := r.problem(r.now, r.now+end)
	problem.Events = r.events()
	set := r.settings()
	set.OnStep = r.observe
	if leg.AfterPeak > 0 {
		set.MaxStep = leg.AfterPeak / 4
	}
	r.out.enter(r, leg)
	sol, err := r.solver.Solve(ctx, problem, set)
	if err != nil {
		return fmt.Errorf("leg %s, %.0f s into the flight: %w", leg.Name, sol.T, err)
	}
	r.record(sol.Hits)
	r.remark(leg, sol)
	r.now = sol.T
	copy(r.y, sol.Y)
	if r.landed {
		r.y[altitude] = r.Weather.Elevation // not fieldSlack below it
	}
	span.End, span.Stalled = r.now, r.stalled
	r.result.Legs = append(r.result.Legs, span)
	r.result.Steps += sol.Stats.Steps
	return r.out.err
}

// remark warns of what a reader must know of the end of a leg.
func (r *runner) remark(leg *flight.Leg, sol ode.Solution) {
	if sol.Status == ode.Reached && leg.Duration == 0 {
		r.warn("leg %s did not reach its end within %.0f hours", leg.Name, longestLeg/3600)
		r.incomplete(leg)
	}
	if r.stalled {
		r.warn("leg %s is slower than an aircraft of this mass and wing can fly; its rate of climb means nothing", leg.Name)
	}
	if r.landed {
		r.warn("leg %s comes down to the field after %s, before its end", leg.Name, clock(sol.T-r.now))
		r.incomplete(leg)
	}
	if r.lost {
		r.warn("the flight breaks off in leg %s at %s: far beyond the limits, where coolant boils away and the model ends", leg.Name, clock(sol.T))
		r.incomplete(leg)
	}
}

// incomplete notes the first leg that did not reach its end.
func (r *runner) incomplete(leg *flight.Leg) {
	if r.result.Incomplete == "" {
		r.result.Incomplete = leg.Name
	}
}

// clock writes a time as min:s.
func clock(t float64) string {
	s := int(math.Round(t))
	return fmt.Sprintf("%d:%02d", s/60, s%60)
}

// touchDown puts the aircraft on the field for a leg on the ground.
func (r *runner) touchDown() {
	above := r.y[altitude] - r.Weather.Elevation
	if !r.leg.Kind.OnGround() || above <= fieldSlack {
		return
	}
	r.warn("leg %s is on the field, though the leg before it ends %.0f m (%.0f ft) above", r.leg.Name, above, above/0.3048)
	r.y[altitude] = r.Weather.Elevation
}

// alreadyThere reports whether the altitude that ends the leg is passed before
// it begins, or the temperatures that it waits for have settled.
func (r *runner) alreadyThere() (bool, error) {
	leg := r.leg
	if leg.Settled {
		var dydt [states]float64
		if err := r.derivative(r.now, r.y, dydt[:]); err != nil {
			return false, err
		}
		if flight.Stabilised(restlessness(dydt[:])) {
			return true, nil
		}
	}
	switch {
	case !leg.HasAltitude:
		return false, nil
	case leg.Kind == flight.Descend:
		return r.y[altitude] <= leg.ToAltitude, nil
	}
	return r.y[altitude] >= leg.ToAltitude, nil
}

func (r *runner) warn(format string, args ...any) {
	r.result.Warnings = append(r.result.Warnings, fmt.Sprintf(format, args...))
}
