package exchanger

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestEffectSlopes: the slopes of ε of every arrangement are those of its values,
// past the reach of the series to 2e-5.
func TestEffectSlopes(t *testing.T) {
	for _, a := range all {
		for _, ntu := range []float64{0.01, 0.2, 1, 3, 12, 1000} {
			for _, cr := range []float64{0.03, 0.4, 0.9, 0.99999} {
				const h = 1e-6
				e := a.effect(ntu, cr)
				byNTU := (a.Effectiveness(ntu*(1+h), cr) - a.Effectiveness(ntu*(1-h), cr)) / (2 * h * ntu)
				byCr := (a.Effectiveness(ntu, cr*(1+h)) - a.Effectiveness(ntu, cr*(1-h))) / (2 * h * cr)
				tol := 1e-8
				if ntu > seriesReach {
					tol = 2e-5
				}
				at := fmt.Sprintf("%v at N %g, Cr %g", a, ntu, cr)
				near(t, "∂ε/∂N, "+at, e.byNTU*ntu, byNTU*ntu, tol)
				near(t, "∂ε/∂Cr, "+at, e.byCr*cr, byCr*cr, tol)
			}
		}
	}
}

// smooth are the arrangements without a kink where the streams are equal.
// AirUnmixed turns into LeastMixed there.
var smooth = []Arrangement{BothUnmixed, AirUnmixed, Counterflow, ParallelFlow}

// TestTangent: a tangent touches K of the core, and where flows and heat capacity
// are off by a share s it is off by less than 6·s² of K.
func TestTangent(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		draw := func(what string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(rt, what) }
		air := Stream{math.Exp(draw("ln air", -4, 1)), 30, draw("cp air", 1000, 4200)}
		liquid := Stream{math.Exp(draw("ln liquid", -4, 1)), 90, draw("cp", 1800, 4200)}
		ua := draw("N", 0.05, 5) * min(air.Flow*air.HeatCapacity, liquid.Flow*liquid.HeatCapacity)
		share := draw("share of the air side", 0.1, 0.9)
		c := &Core{
			Air:         Power{UA: ua / share, Flow: air.Flow, Exponent: draw("n air", 0, 1)},
			Liquid:      Power{UA: ua / (1 - share), Flow: liquid.Flow, Exponent: draw("n liquid", 0, 1)},
			Arrangement: rapid.SampledFrom(smooth).Draw(rt, "arrangement"),
		}
		tangent := c.Tangent(air, liquid)
		k, _ := c.Heat(air, liquid)
		if !(math.Abs(tangent.At(air, liquid)-k) <= 1e-14*k) {
			rt.Errorf("K %g, of the tangent %g", k, tangent.At(air, liquid))
		}
		s := draw("share", 1e-5, 1e-2)
		air.Flow *= 1 + s*draw("air", -1, 1)
		air.HeatCapacity *= 1 + s*draw("capacity of the air", -1, 1)
		liquid.Flow *= 1 + s*draw("liquid", -1, 1)
		liquid.HeatCapacity *= 1 + s*draw("capacity", -1, 1)
		k, _ = c.Heat(air, liquid)
		if off := math.Abs(tangent.At(air, liquid)-k) / k; !(off <= 6*s*s+1e-13) {
			rt.Errorf("off by %g of K at a share of %g", off, s)
		}
		if !tangent.Near(air, liquid, s*(1+1e-9)) {
			rt.Errorf("%v and %v are not near", air, liquid)
		}
	})
}

// TestTangentNear: each change counts.
func TestTangentNear(t *testing.T) {
	air, liquid := AirStream(0.6, 30), Stream{1, 90, 3600}
	tangent := ratedCore(t, rated()).Tangent(air, liquid)
	for name, move := range map[string]func(air, liquid *Stream){
		"air":           func(air, _ *Stream) { air.Flow *= 1.002 },
		"its capacity":  func(air, _ *Stream) { air.HeatCapacity *= 0.998 },
		"liquid":        func(_, liquid *Stream) { liquid.Flow *= 0.998 },
		"heat capacity": func(_, liquid *Stream) { liquid.HeatCapacity *= 1.002 },
	} {
		a, l := air, liquid
		move(&a, &l)
		if tangent.Near(a, l, 1e-3) || !tangent.Near(a, l, 3e-3) {
			t.Errorf("%s off by 0.002: near 0.001 %v, near 0.003 %v", name, tangent.Near(a, l, 1e-3), tangent.Near(a, l, 3e-3))
		}
	}
}

// TestTangentAtRest: with a stream at rest, and before any rating, K is 0.
func TestTangentAtRest(t *testing.T) {
	c := ratedCore(t, rated())
	air, liquid := AirStream(0.6, 30), Stream{1, 90, 3600}
	for _, s := range [][2]Stream{{AirStream(0, 30), liquid}, {air, {0, 90, 3600}}} {
		tangent := c.Tangent(s[0], s[1])
		near(t, "K", tangent.At(s[0], s[1]), 0, 0)
	}
	if new(Tangent).Near(air, liquid, 1e-3) {
		t.Errorf("the zero tangent is near to a flow")
	}
}
