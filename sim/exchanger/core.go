package exchanger

import "hotclimb/sim/fluid"

// Core is one exchanger in the air stream: two sides, an air resistance and
// the way the streams pass. A plate exchanger is a Core in counterflow without a
// resistance, with its coolant on the air side.
type Core struct {
	Air, Liquid Conductance // the two sides
	Resist      Drop        // air resistance at one density
	Arrangement Arrangement // how the streams pass
	FreeArea    float64     // minimum free flow area of the air Ac = σ·FaceArea [m²]
	FaceArea    float64     // frontal area [m²]
}

// Stream is one fluid at the inlet of an exchanger.
type Stream struct {
	Flow         float64 // mass flow, ≥ 0 [kg/s]
	Temperature  float64 // at the inlet [°C]
	HeatCapacity float64 // cp [J/(kg K)]
}

// meanShare is the effectiveness assumed for a first estimate of the mean
// temperatures of the streams, where the properties are taken.
const meanShare = 0.6

// Heat returns K = ε·Cmin [W/K] and ε [-] of the core, so that
//
//	Q = K·(T_liquid,in − T_air,in)
//
// with 1/UA = 1/hA_air + 1/hA_liquid. Each side is taken at the mean of its
// inlet and outlet temperature, estimated with ε = 0.6 and corrected once: within
// 0.5 % of K of the fully iterated value, also where a coolant turns turbulent
// (see the tests). Two sides of [Power] need no temperatures and no correction.
// A stream at rest gives K = 0 and ε = 0.
func (c *Core) Heat(air, liquid Stream) (k, eps float64) {
	r := c.rate(air, liquid)
	return r.eps * r.cmin, r.eps
}

// rate holds what Heat and Wet have in common.
type rate struct {
	hAir, hLiquid float64 // conductances of the sides [W/K]
	cmin, eps     float64 // smaller capacity rate [W/K], effectiveness [-]
}

func (c *Core) rate(air, liquid Stream) rate {
	cmin, _, _ := c.Arrangement.Between(air.Flow*air.HeatCapacity, liquid.Flow*liquid.HeatCapacity)
	r := c.rateAt(air, liquid, meanShare*cmin*(liquid.Temperature-air.Temperature))
	if c.Constant() {
		return r
	}
	return c.rateAt(air, liquid, r.eps*cmin*(liquid.Temperature-air.Temperature))
}

// Constant reports whether both sides ignore the temperature of their streams.
func (c *Core) Constant() bool {
	_, air := c.Air.(Power)
	_, liquid := c.Liquid.(Power)
	return air && liquid
}

// rateAt rates the core at the mean temperatures that belong to the heat q [W].
func (c *Core) rateAt(air, liquid Stream, q float64) rate {
	ca, cl := air.Flow*air.HeatCapacity, liquid.Flow*liquid.HeatCapacity
	cmin, cr, actual := c.Arrangement.Between(ca, cl)
	r := rate{cmin: cmin}
	if ca > 0 {
		r.hAir = c.Air.At(air.Flow, air.Temperature+q/(2*ca))
	}
	if cl > 0 {
		r.hLiquid = c.Liquid.At(liquid.Flow, liquid.Temperature-q/(2*cl))
	}
	if cmin > 0 && r.hAir > 0 && r.hLiquid > 0 {
		r.eps = actual.Effectiveness(1/((1/r.hAir+1/r.hLiquid)*cmin), cr)
	}
	return r
}

// PressureDrop returns the static pressure drop dp [Pa] from 1, upstream, to 2
// and its slope d(dp)/d(flow) [Pa s/kg] at flow ≥ 0 [kg/s], densities rho1 and
// rho2 [kg/m³] and mean viscosity mu [Pa s]:
//
//	Δp = friction and ends at ρm + ½(1 + σ²)·G²·(1/ρ2 − 1/ρ1),  1/ρm = ½(1/ρ1 + 1/ρ2)
//
// with G = ṁ/FreeArea and σ = FreeArea/FaceArea. The second term is the
// acceleration of heated air from face to face: 2–6 % of a common core for a
// rise of 40 K; it is negative when the air is cooled.
//
// Source: Kays & London, Compact Heat Exchangers, see [KaysLondon], with the
// loss coefficients Kc and Ke of both ends taken at the mean density.
func (c *Core) PressureDrop(flow, rho1, rho2, mu float64) (dp, slope float64) {
	flow = max(0, flow)
	v1, v2 := 1/rho1, 1/rho2
	dp, slope = c.Resist.Friction(flow, 2/(v1+v2), mu)
	g, sigma := flow/c.FreeArea, c.FreeArea/c.FaceArea
	gain := 0.5 * (1 + sigma*sigma) * (v2 - v1)
	return dp + g*g*gain, slope + 2*g/c.FreeArea*gain
}

// AirStream returns the stream of air of mass flow [kg/s] at t [°C], with the
// heat capacity of dry air.
func AirStream(flow, t float64) Stream {
	return Stream{Flow: flow, Temperature: t, HeatCapacity: fluid.AirHeatCapacity}
}
