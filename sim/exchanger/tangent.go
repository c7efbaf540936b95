package exchanger

import "math"

// Tangent is K = ε·Cmin [W/K] of a core around one pair of streams, to first
// order in their flows and heat capacities. Where each of the four is off by at
// most a share s, K is off by less than 6·s² of itself up to an NTU of 5 (see the
// tests), unless a side is at its floor on one end only. Counterflow of still
// more NTU bends more at equal streams, and [LeastMixed] by itself has a kink
// there.
type Tangent struct {
	k           float64 // K [W/K]
	air, liquid touch
}

// touch is where a tangent touches in one stream, and its slopes with it.
type touch struct {
	flow, capacity     float64 // ṁ [kg/s], cp [J/(kg K)]
	byFlow, byCapacity float64 // dK/dṁ [J/(kg K)], dK/dcp [kg/s]
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
	t := Tangent{air: touch{flow: air.Flow, capacity: air.HeatCapacity}, liquid: touch{flow: liquid.Flow, capacity: liquid.HeatCapacity}}
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
	t.k = e.eps * cmin
	byAir, byLiquid := e.eps-u/cmin*e.byNTU+cr*e.byCr, -cr*cr*e.byCr
	if cl < ca {
		byAir, byLiquid = byLiquid, byAir
	}
	t.air.lean(byAir, e.byNTU*sq(u/ha)*a.slope(air.Flow, ha))
	t.liquid.lean(byLiquid, e.byNTU*sq(u/hl)*l.slope(liquid.Flow, hl))
	return t
}

// lean sets the slopes from dK/dC of the stream and dK/dṁ of its conductance.
func (o *touch) lean(byRate, byConductance float64) {
	o.byFlow, o.byCapacity = byRate*o.capacity+byConductance, byRate*o.flow
}

// At returns K [W/K] at streams near those of the tangent.
func (t *Tangent) At(air, liquid Stream) float64 {
	return t.k + t.air.change(air) + t.liquid.change(liquid)
}

// change returns that of K [W/K] with one stream.
func (o *touch) change(s Stream) float64 {
	return o.byFlow*(s.Flow-o.flow) + o.byCapacity*(s.HeatCapacity-o.capacity)
}

// Near reports whether no flow nor heat capacity is off that of the tangent by
// more than a share [-].
func (t *Tangent) Near(air, liquid Stream, share float64) bool {
	return t.air.near(air, share) && t.liquid.near(liquid, share)
}

func (o *touch) near(s Stream, share float64) bool {
	return math.Abs(s.Flow-o.flow) <= share*o.flow && math.Abs(s.HeatCapacity-o.capacity) <= share*o.capacity
}

func sq(x float64) float64 { return x * x }
