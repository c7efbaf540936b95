package loop

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// car is a thermostat of a car workshop manual: opens at 82 °C, full at 95.
func car() *Thermostat {
	return &Thermostat{Opens: 82, Full: 95, Closing: 4, Leak: 0.02, Lag: 15}
}

// TestOpening: car workshop manual, 82 to 95 °C; linear between.
func TestOpening(t *testing.T) {
	for _, r := range []struct{ temperature, opening float64 }{
		{-30, 0}, {82, 0}, {85.25, 0.25}, {88.5, 0.5}, {95, 1}, {130, 1},
	} {
		near(t, fmt.Sprintf("u(%g)", r.temperature), car().Settled(r.temperature), r.opening, 0)
	}
}

func TestShare(t *testing.T) {
	th := car()
	near(t, "closed", th.Share(0), 0.02, 0)
	near(t, "half open", th.Share(0.5), 0.51, 1e-15)
	near(t, "open", th.Share(1), 1, 0)
	near(t, "beyond open", th.Share(1.2), 1, 0)
	near(t, "beyond closed", th.Share(-0.2), 0.02, 0)
	near(t, "without a thermostat", (*Thermostat)(nil).Share(0.3), 1, 0)
}

// ramp moves the temperature steadily by explicit Euler steps of 1 s and tells
// temperature and opening after each.
func ramp(th *Thermostat, u, from, to, rate float64, tell func(t, u float64)) float64 {
	if to < from {
		rate = -rate
	}
	n := int(math.Round((to - from) / rate))
	for i := range n {
		u += th.Rate(u, from+rate*float64(i))
		tell(from+rate*float64(i+1), u)
	}
	return u
}

// TestHysteresis warms slowly, turns half-way, cools: the opening follows one
// curve up, rests for 4 K, and follows the other down. On a curve a first-order
// lag trails by τ·dT/dt over the range, 15 s·0.002 K/s/13 K, once settled.
func TestHysteresis(t *testing.T) {
	th := car()
	const rate = 0.002
	const trail = 15 * rate / 13
	up := func(at float64) float64 { return (at - 82) / 13 }
	down := func(at float64) float64 { return (at + 4 - 82) / 13 }

	points := 0
	u := ramp(th, 0, 80, 90, rate, func(at, u float64) {
		if at > 83 {
			points++
			near(t, fmt.Sprintf("warming at %.3f", at), u, up(at)-trail, 1e-9)
		}
	})
	turned := u
	u = ramp(th, u, 90, 86.01, rate, func(at, u float64) {
		if at < 89.9 {
			points++
			// Catches up with its trail at the turn by half of it at most, and rests.
			if u < turned || u > turned+trail {
				t.Errorf("opening %g in the play at %.3f, %g at the turn", u, at, turned)
			}
		}
	})
	ramp(th, u, 86.01, 78.5, rate, func(at, u float64) {
		if at < 85 {
			points++
			near(t, fmt.Sprintf("cooling at %.3f", at), u, down(at)+trail, 1e-9)
		}
	})
	if points < 8000 {
		t.Fatalf("only %d points", points)
	}
}

// TestLoopCloses: a full slow cycle ends closed, and is fully open in between.
func TestLoopCloses(t *testing.T) {
	th := car()
	quiet := func(_, _ float64) {}
	u := ramp(th, 0, 75, 97, 0.01, quiet)
	near(t, "warm", u, 1, 1e-4)
	u = ramp(th, u, 97, 91.01, 0.01, quiet)
	near(t, "cooled to the closing curve", u, 1, 1e-6)
	u = ramp(th, u, 91.01, 74, 0.01, quiet)
	near(t, "cold", u, 0, 1e-4)
}

// TestPlay: between the curves nothing moves; outside it heads for the nearer.
func TestPlay(t *testing.T) {
	th := car()
	for _, at := range []float64{84.5, 85, 86.5, 88.5} {
		near(t, fmt.Sprintf("rate at %g", at), th.Rate(0.5, at), 0, 0)
	}
	near(t, "warmer", th.Rate(0.5, 91.75), 0.25/15, 1e-15)
	near(t, "colder", th.Rate(0.5, 81.25), -0.25/15, 1e-15)
	th.Closing = 0
	near(t, "without play", th.Rate(0.5, 85.25), -0.25/15, 1e-15)
}

// TestLag: after a jump of the temperature 1 − u falls as e^(−t/τ); Euler steps
// of 1 ms keep it within dt/(2τ·e) = 1.2e-5.
func TestLag(t *testing.T) {
	const dt = 1e-3
	th := car()
	u, open := 0.0, 1.0
	for i := range 45000 {
		u += dt * th.Rate(u, 110)
		open += dt * th.Rate(open, 20)
		if (i+1)%15000 == 0 {
			at := float64(i+1) * dt
			near(t, fmt.Sprintf("opening after %g s", at), u, 1-math.Exp(-at/15), 1.3e-5)
			near(t, fmt.Sprintf("closing after %g s", at), open, math.Exp(-at/15), 1.3e-5)
		}
	}
}

// TestThermostatBounds: no NaN; from inside 0…1 it never heads outside, and
// both opening and rate grow with temperature.
func TestThermostatBounds(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		opens := rapid.Float64Range(40, 100).Draw(rt, "opens")
		th := &Thermostat{
			Opens: opens, Full: opens + rapid.Float64Range(0.1, 30).Draw(rt, "range"),
			Closing: rapid.Float64Range(0, 20).Draw(rt, "closing"),
			Lag:     rapid.Float64Range(1, 120).Draw(rt, "lag"),
		}
		u := rapid.Float64Range(0, 1).Draw(rt, "u")
		at := rapid.Float64Range(-60, 200).Draw(rt, "t")
		warmer := at + rapid.Float64Range(0, 20).Draw(rt, "warmer")
		rate := th.Rate(u, at)
		if next := u + th.Lag*rate; !(next >= -1e-12 && next <= 1+1e-12) {
			rt.Fatalf("heads for %g", next)
		}
		if !(th.Settled(warmer) >= th.Settled(at)) || !(th.Rate(u, warmer) >= rate) {
			rt.Fatalf("closes with warmth")
		}
	})
}
