package sim

import (
	"context"
	"fmt"
	"math"

	"hotclimb/sim/ode"
)

const (
	settledRate = 2e-5 // of the temperatures at the end of the way [K/s]
	settleTol   = 2e-2 // of the way, which does not matter
	restRate    = 1e-8 // of the temperatures of a settled start [K/s]
	polishSteps = 25
)

// settleError are the absolute errors allowed per step on the way.
var settleError = allowed(0.5)

// settle holds the altitude and waits until the temperatures of the first leg
// have come to rest, or have run away.
func (r *runner) settle(ctx context.Context) error {
	r.held, r.air.Tolerance, r.nearby = true, 0, nearby // exact: rest is rest to restRate
	defer func() {
		r.held = false
		r.loosen()
	}()
	restless := func(_ float64, _, dydt []float64) float64 { return restlessness(dydt) - settledRate }
	problem := r.problem(0, longestSettle)
	problem.Events = []ode.Event{
		{Name: "settled", Value: restless, Direction: -1, Action: finish},
		r.runaway(),
	}
	// An L-stable formula, which brings what is fast to rest in steps however long.
	set := ode.Settings{RelTol: settleTol, AbsTol: settleError[:], Method: ode.Rodas4}
	sol, err := r.solver.Solve(ctx, problem, set)
	if err != nil {
		return fmt.Errorf("settling in the conditions of leg %s: %w", r.leg.Name, err)
	}
	copy(r.y, sol.Y)
	if r.lost {
		return nil
	}
	if sol.Status == ode.Reached {
		r.warn("the temperatures of leg %s did not settle in %.0f hours; the flight starts from there", r.leg.Name, longestSettle/3600)
	}
	return r.polish()
}

// polish moves the state, which the long steps of the way have left near rest,
// to rest by Newton's method: J·Δ = −dy/dt, as long as that brings it nearer.
func (r *runner) polish() error {
	var best, dydt [states]float64
	jacobian := make([]float64, states*states)
	copy(best[:], r.y)
	least := math.Inf(1)
	for range polishSteps {
		if err := r.derivative(0, r.y, dydt[:]); err != nil {
			return err
		}
		rate := restlessness(dydt[:])
		if !(rate < least) {
			break
		}
		least = rate
		copy(best[:], r.y)
		if rate < restRate {
			break
		}
		clear(jacobian)
		if err := r.jacobian(0, r.y, jacobian); err != nil {
			return err
		}
		step, ok := newton(jacobian, dydt[:])
		if !ok {
			break
		}
		for i, d := range step {
			r.y[i] += d
		}
	}
	copy(r.y, best[:])
	return nil
}

const moving = oilOpen + 1 // entries that come to rest: temperatures and openings

// newton solves J·Δ = −f for the entries that come to rest, by elimination with
// pivots. It is not ok where J leaves Δ open.
func newton(j, f []float64) (step [moving]float64, ok bool) {
	var a [moving][moving + 1]float64
	for i := range moving {
		copy(a[i][:moving], j[i*states:])
		a[i][moving] = -f[i]
		if i >= coolantOpen && a[i][i] == 0 {
			a[i][i] = 1 // no thermostat
		}
	}
	for k := range moving {
		p := k
		for i := k + 1; i < moving; i++ {
			if math.Abs(a[i][k]) > math.Abs(a[p][k]) {
				p = i
			}
		}
		a[k], a[p] = a[p], a[k]
		if a[k][k] == 0 {
			return step, false
		}
		for i := range moving {
			if i == k {
				continue
			}
			l := a[i][k] / a[k][k]
			for c := k; c <= moving; c++ {
				a[i][c] -= l * a[k][c]
			}
		}
	}
	for k := range moving {
		step[k] = a[k][moving] / a[k][k]
	}
	return step, true
}
