package ode

import (
	"context"
	"math"
	"testing"
)

var methods = []struct {
	name   string
	method Method
	order  float64
}{
	{"KapsRentrop", KapsRentrop, 4},
	{"Rodas4", Rodas4, 4},
	{"DormandPrince", DormandPrince, 5},
}

// solve integrates and fails the test on an error.
func solve(t testing.TB, p Problem, set Settings) Solution {
	t.Helper()
	sol, err := Solve(context.Background(), p, set)
	if err != nil {
		t.Fatal(err)
	}
	return sol
}

// filled returns n times x.
func filled(n int, x float64) []float64 {
	v := make([]float64, n)
	for i := range v {
		v[i] = x
	}
	return v
}

// tolerance returns settings with the same number as relative and, for n
// components, absolute tolerance.
func tolerance(m Method, n int, rel float64) Settings {
	return Settings{Method: m, RelTol: rel, AbsTol: filled(n, rel)}
}

// worst returns the largest |a − b|.
func worst(a, b []float64) float64 {
	d := 0.0
	for i := range a {
		d = math.Max(d, math.Abs(a[i]-b[i]))
	}
	return d
}

// stiffLoop is an invented cooling loop of nine temperatures, °C: metal, jacket
// outlet, cold leg, core, oil, thermostat wax, two air nodes (0.04 s) and a
// compartment, on a 900 s climb with corners at 60 s and 600 s. Time scales run
// from 0.04 s to some 100 s.
func stiffLoop() Problem {
	const (
		metal, hot, cold, core, oil, wax, air, oilAir, bay = 0, 1, 2, 3, 4, 5, 6, 7, 8
	)
	deriv := func(t float64, y, d []float64) error {
		power := 1.0
		switch {
		case t < 60:
			power = 0.35
		case t >= 600:
			power = 0.7
		}
		outside := 35 - 0.02*t // climbing
		u := 0.5 + 0.5*math.Tanh((y[wax]-88)/4)
		flow := 4200 * power * (0.05 + 0.95*u) // coolant through the core, W/K
		bypass := 4200*power - 0.95*flow
		airFlow := 1500 * (1 + 0.1*math.Sin(t/50))
		qCore := 3500 * (y[core] - y[air])
		qOil := 900 * (y[oil] - y[oilAir])
		qMetal := 3000 * power * (y[metal] - y[hot])
		qMetalOil := 250 * (y[metal] - y[oil])
		qBay := 30 * (y[metal] - y[bay])
		d[metal] = (70e3*power - qMetal - qMetalOil - qBay) / 30e3
		d[hot] = (qMetal - flow*(y[hot]-y[core]) - bypass*(y[hot]-y[cold])) / 12e3
		d[core] = (flow*(y[hot]-y[core]) - qCore) / 4e3
		d[cold] = (flow*(y[core]-y[cold]) + bypass*(y[hot]-y[cold]) - 0.5*flow*(y[cold]-y[core])) / 9e3
		d[oil] = (15e3*power + qMetalOil - qOil) / 14e3
		d[wax] = (y[hot] - y[wax]) / 8
		d[air] = (qCore - airFlow*(y[air]-outside)) / 200
		d[oilAir] = (qOil - 0.6*airFlow*(y[oilAir]-outside)) / 80
		d[bay] = (qBay + 40*(y[air]-y[bay]) - 60*(y[bay]-outside)) / 900
		return nil
	}
	return Problem{Deriv: deriv, T1: 900, Y0: filled(9, 35), Stops: []float64{60, 600}}
}
