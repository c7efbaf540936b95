package exchanger

import "math"

// Tangent is K = ε·Cmin [W/K] of a core around one pair of streams, to first
// order in the flow of the air and in flow and heat capacity of the liquid.
// Where each of them is off by at most a share s, K is off by less than 4·s²
// of itself up to an NTU of 5 (see the tests), unless a side is at its floor on
// one end only. Counterflow of still more NTU bends more at equal streams, and
// [LeastMixed] by itself has a kink there.
type Tangent struct {
	air, liquid, capacity          float64 // flows [kg/s], cp of the liquid [J/(kg K)]
	k, byAir, byLiquid, byCapacity float64 // K [W/K] and its slopes with them
}

// Tangent returns the tangent at the streams of a core whose sides are both a
// [Power] (see [Core.Constant]). With the overall conductance U = UA, by the
// chain rule of K = Cmin·ε(U/Cmin, Cmin/Cmax):
//
//	∂K/∂U = ε_N,  ∂K/∂Cmin = ε − N·ε_N + Cr·ε_Cr,  ∂K/∂Cmax = −Cr²·ε_Cr
//	dU/dṁ = (U/hA)²·d(hA)/dṁ of either side
//
// It is zero, slopes too, with a stream at rest.
func (c *Core) Tangent(air, liquid Stream) Tangent {
	t := Tangent{air: air.Flow, liquid: liquid.Flow, capacity: liquid.HeatCapacity}
	ca, cl := air.Flow*air.HeatCapacity, liquid.Flow*liquid.HeatCapacity
	cmin, cr, actual := c.Arrangement.Between(ca, cl)
	a, _ := c.Air.(Power)
	l, _ := c.Liquid.(Power)
	ha, hl := a.At(air.Flow, 0), l.At(liquid.Flow, 0)
	if !(cmin > 0 && ha > 0 && hl > 0) {
		return t
	}
	u := 1 / (1/ha + 1/hl)
	e := actual.effect(u/cmin, cr)
	byAir, byLiquid := e.eps-u/cmin*e.byNTU+cr*e.byCr, -cr*cr*e.byCr
	if cl < ca {
		byAir, byLiquid = byLiquid, byAir
	}
	t.k = e.eps * cmin
	t.byAir = byAir*air.HeatCapacity + e.byNTU*sq(u/ha)*a.slope(air.Flow, ha)
	t.byLiquid = byLiquid*liquid.HeatCapacity + e.byNTU*sq(u/hl)*l.slope(liquid.Flow, hl)
	t.byCapacity = byLiquid * liquid.Flow
	return t
}

// At returns K [W/K] at streams near those of the tangent.
func (t *Tangent) At(air, liquid Stream) float64 {
	return t.k + t.byAir*(air.Flow-t.air) +
		t.byLiquid*(liquid.Flow-t.liquid) + t.byCapacity*(liquid.HeatCapacity-t.capacity)
}

// Near reports whether no flow nor heat capacity is off that of the tangent by
// more than a share [-].
func (t *Tangent) Near(air, liquid Stream, share float64) bool {
	return math.Abs(air.Flow-t.air) <= share*t.air &&
		math.Abs(liquid.Flow-t.liquid) <= share*t.liquid &&
		math.Abs(liquid.HeatCapacity-t.capacity) <= share*t.capacity
}

func sq(x float64) float64 { return x * x }
