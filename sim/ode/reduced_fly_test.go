package ode_test

import (
	"context"
	"math"
	"testing"

	"hotclimb/sim/ode"
)

// reducedFlight is a flight of one or more legs from the same start.
type reducedFlight struct {
	name string
	legs []reducedLeg
}

func (c constants) flights() [2]reducedFlight {
	up := reducedLeg{c["LONG_CLIMB_TIME"], c["CLIMB_THROTTLE"], c["CLIMB_SPEED"], c["CLIMB_EFFICIENCY"], 0}
	ground := reducedLeg{time: c["GROUND_TIME"], throttle: c["GROUND_THROTTLE"]}
	climb := reducedLeg{c["CLIMB_TIME"], c["CLIMB_THROTTLE"], c["CLIMB_SPEED"], c["CLIMB_EFFICIENCY"], 0}
	descent := reducedLeg{
		c["DESCENT_TIME"], c["DESCENT_THROTTLE"], c["DESCENT_SPEED"], c["DESCENT_EFFICIENCY"], c["DESCENT_RATE"],
	}
	return [2]reducedFlight{{"climb", []reducedLeg{up}}, {"flight", []reducedLeg{ground, climb, descent}}}
}

// allowed returns the error of each state at a relative tolerance of 1.
func (c constants) allowed() [reducedStates]float64 {
	k, u, h := c["ALLOWED_TEMPERATURE"], c["ALLOWED_OPENING"], c["ALLOWED_ALTITUDE"]
	return [reducedStates]float64{k, k, k, k, k, u, u, h}
}

// starts returns the states at which flights begin, each further than the one
// before: warmer and higher.
func (c constants) starts() (starts [][reducedStates]float64) {
	y := [reducedStates]float64{
		c["START_METAL"], c["START_COOLANT_HOT"], c["START_COOLANT_COLD"], c["START_OIL_HOT"], c["START_OIL_COLD"],
		c["START_COOLANT_OPEN"], c["START_OIL_OPEN"], c["START_ALTITUDE"],
	}
	for range int(c["START_COUNT"]) {
		starts = append(starts, y)
		for i := metal; i <= oilCold; i++ {
			y[i] += c["START_WARMER"]
		}
		y[altitude] += c["START_HIGHER"]
	}
	return starts
}

// gauges are the states that the error is taken of.
var gauges = [2]int{coolantHot, oilHot}

// answer is what a flight is asked for.
type answer struct {
	at   [21][2]float64 // gauges at whole minutes [°C]
	peak [2]float64     // [°C]
}

// difference returns the largest difference of peaks and of temperatures at whole
// minutes [K].
func (a *answer) difference(b *answer) float64 {
	worst := 0.0
	for g := range gauges {
		worst = math.Max(worst, math.Abs(a.peak[g]-b.peak[g]))
		for k := range a.at {
			worst = math.Max(worst, math.Abs(a.at[k][g]-b.at[k][g]))
		}
	}
	return worst
}

// pilot flies the reduced climb again and again with one solver.
type pilot struct {
	model   *reduced
	flight  reducedFlight
	solver  *ode.Solver
	problem ode.Problem
	set     ode.Settings
	starts  [][reducedStates]float64
	begin   float64 // of the leg [s]
	answer  answer
}

// newPilot returns one for a flight and a tolerance, with the model's Jacobian or
// without.
func newPilot(c constants, f reducedFlight, m ode.Method, tol float64, given bool) *pilot {
	p := &pilot{model: newReduced(c), flight: f, solver: ode.NewSolver(reducedStates)}
	p.problem = ode.Problem{Deriv: p.model.derivative, Autonomous: true}
	if given {
		p.problem.Jacobian = p.model.jacobian
	}
	p.set = ode.Settings{Method: m, RelTol: tol, OnStep: p.observe}
	for _, e := range c.allowed() {
		p.set.AbsTol = append(p.set.AbsTol, e*tol)
	}
	p.starts = c.starts()
	return p
}

// fly flies all legs from start k, each leg begun anew.
func (p *pilot) fly(k int) (total ode.Stats, err error) {
	y := p.starts[k][:]
	p.begin = 0
	for g, i := range gauges {
		p.answer.at[0][g], p.answer.peak[g] = y[i], y[i]
	}
	for _, leg := range p.flight.legs {
		p.model.leg = leg
		p.problem.T1, p.problem.Y0 = leg.time, y
		sol, err := p.solver.Solve(context.Background(), p.problem, p.set)
		if err != nil {
			return total, err
		}
		y = sol.Y
		p.begin += leg.time
		total.Steps += sol.Stats.Steps
		total.Rejected += sol.Stats.Rejected
		total.Evaluations += sol.Stats.Evaluations
		total.Jacobians += sol.Stats.Jacobians
		total.Factorizations += sol.Stats.Factorizations
	}
	return total, nil
}

// observe reads the minutes in a step, and peaks.
func (p *pilot) observe(s *ode.Step) {
	const minute = 60.0
	for k := int((p.begin+s.T0)/minute) + 1; float64(k)*minute <= p.begin+s.T1; k++ {
		for g, i := range gauges {
			p.answer.at[k][g] = s.Value(i, float64(k)*minute-p.begin)
		}
	}
	for g, i := range gauges {
		top, _ := s.Extremum(i)
		p.answer.peak[g] = math.Max(p.answer.peak[g], top)
	}
}

func (p *pilot) mustFly(t testing.TB, k int) ode.Stats {
	t.Helper()
	stats, err := p.fly(k)
	if err != nil {
		t.Fatal(err)
	}
	return stats
}

// methods of the package, by the name in the table.
var methods = []struct {
	name   string
	method ode.Method
}{{"default", ode.Settings{}.Method}, {"Rodas4", ode.Rodas4}, {"Dormand-Prince", ode.DormandPrince}}

// TestReducedJacobian holds the given Jacobian against central differences over
// 1e-4 of what is allowed: off by rounding over the shift, and by its square.
func TestReducedJacobian(t *testing.T) {
	c := readConstants(t)
	m, allowed := newReduced(c), c.allowed()
	for _, state := range readStates(t) {
		m.leg = c.flights()[1].legs[state.leg]
		var dfdy [reducedStates * reducedStates]float64
		if err := m.jacobian(0, state.y[:], dfdy[:]); err != nil {
			t.Fatal(err)
		}
		for j := range reducedStates {
			δ := 1e-4 * allowed[j]
			var up, down [reducedStates]float64
			y := state.y
			y[j] += δ
			m.derivative(0, y[:], up[:])
			y[j] -= 2 * δ
			m.derivative(0, y[:], down[:])
			for i := range reducedStates {
				difference, given := (up[i]-down[i])/(2*δ), dfdy[i*reducedStates+j]
				if math.Abs(difference-given) > 1e-8*math.Max(1, math.Abs(given)) {
					t.Errorf("leg %d, ∂y'_%d/∂y_%d: %.10g given, %.10g by differences", state.leg, i, j, given, difference)
				}
			}
		}
	}
}

// TestReducedClimbRepeats: the same flight costs exactly the same, whether its
// solver is new or has flown.
func TestReducedClimbRepeats(t *testing.T) {
	c := readConstants(t)
	for _, f := range c.flights() {
		for _, m := range methods {
			first, second := newPilot(c, f, m.method, 1e-3, true), newPilot(c, f, m.method, 1e-3, true)
			once, again, fresh := first.mustFly(t, 0), first.mustFly(t, 0), second.mustFly(t, 0)
			if once != again || once != fresh || first.answer != second.answer {
				t.Errorf("%s, %s: %+v, again %+v, with a new solver %+v", f.name, m.name, once, again, fresh)
			}
		}
	}
}

// BenchmarkReducedClimb flies at a tolerance close to that of sim.
func BenchmarkReducedClimb(b *testing.B) {
	c := readConstants(b)
	for _, f := range c.flights() {
		for _, m := range methods {
			b.Run(f.name+"/"+m.name, func(b *testing.B) {
				p := newPilot(c, f, m.method, 1e-3, true)
				b.ReportAllocs()
				var stats ode.Stats
				for b.Loop() {
					stats = p.mustFly(b, 0)
				}
				b.ReportMetric(float64(stats.Steps), "steps")
				b.ReportMetric(float64(stats.Evaluations), "evaluations")
			})
		}
	}
}
