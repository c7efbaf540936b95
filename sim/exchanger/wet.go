package exchanger

import (
	"math"

	"hotclimb/sim/fluid"
)

// WetResult is what a sprayed core does.
type WetResult struct {
	Heat               float64    // from the liquid to air and water Q [W]
	DryHeat            float64    // the same without spray [W]
	SurfaceTemperature float64    // of the wet core T_s [°C]
	OutletTemperature  float64    // of the air [°C]
	OutletHumidity     float64    // relative humidity of the outlet air [-]
	Evaporated         float64    // water [kg/s]
	RunOff             float64    // water that leaves as liquid [kg/s]
	Limit              SprayLimit // what stopped the evaporation
}

// Wet rates the core with a spray on its air face.
//
// The spray model wants one surface temperature. It follows from the heat that
// the liquid can bring to the surface,
//
//	Q_s(T_s) + Q_lat(T_s) = (T_l,in − T_s)/(1/hA_liquid + 1/(2·C_liquid))
//
// (the liquid at its mean temperature T_l,in − Q/(2C)), whose left side rises
// and whose right side falls with T_s: one root, found in a bracket. This lumped
// surface is not the crossflow core; a dry core rated both ways differs by a few
// per cent. So the lumped model only supplies the gain, and
//
//	Q = Q_dry(ε-NTU) · Q_wet(lumped)/Q_dry(lumped)
//
// where both dry heats are proportional to T_l,in − T_air, so their ratio is
// taken of the conductances and stays finite at no temperature difference. As
// the water flow tends to 0, Q tends to that of [Core.Heat] without a step.
//
// The outlet temperature closes the enthalpy of the air with that Q:
// ṁ_a(h4 − h1) = Q + evaporated·c_w·T_w; the amounts of water are those of the
// lumped model, so the humidity may exceed its cap by the same few per cent. The
// difference between moist and dry air mass flow is left out of the dry rating.
// The extra air resistance of a wet core is not part of this.
//
// With no air flow there is no heat and all water runs off. With no liquid flow
// the water still evaporates, at the cost of the air alone.
func (c *Core) Wet(spray Spray, air MoistAir, liquid Stream) WetResult {
	dt := liquid.Temperature - air.Temperature
	if !(air.Flow > 0) {
		return WetResult{
			SurfaceTemperature: liquid.Temperature, OutletTemperature: air.Temperature,
			OutletHumidity: air.Humidity, RunOff: math.Max(0, spray.Water),
		}
	}
	r := c.rate(AirStream(air.Flow, air.Temperature), liquid)
	ntu := r.hAir / (air.Flow * fluid.AirHeatCapacity)
	m := spray.inFlight(air, ntu)
	feed := liquidFeed(r.hLiquid, liquid)
	ts := m.surface(feed, liquid.Temperature)
	e := m.onCore(ts)
	k := r.eps * r.cmin
	ratio := lumpedRatio(k, m.dry, feed)
	out := WetResult{
		Heat: ratio * feed * (liquid.Temperature - ts), DryHeat: k * dt, SurfaceTemperature: ts,
		Evaporated: e.Evaporated, RunOff: e.RunOff, Limit: e.Limit,
	}
	w4 := m.w1 + e.Evaporated/air.Flow
	h4 := fluid.MoistEnthalpy(air.Temperature, m.w1) +
		(out.Heat+e.Evaporated*waterCapacity*spray.Temperature)/air.Flow
	out.OutletTemperature = temperatureOf(h4, w4)
	out.OutletHumidity = fluid.RelativeHumidity(out.OutletTemperature, w4, air.Pressure)
	return out
}

// liquidFeed returns the conductance [W/K] from the liquid inlet temperature to
// the surface.
func liquidFeed(hA float64, liquid Stream) float64 {
	c := liquid.Flow * liquid.HeatCapacity
	if !(hA > 0 && c > 0) {
		return 0
	}
	return 1 / (1/hA + 1/(2*c))
}

// lumpedRatio returns the dry conductance k of the core over that of the lumped
// surface, 1/(1/air + 1/feed), all W/K; 1 when no heat flows at all.
func lumpedRatio(k, air, feed float64) float64 {
	if !(k > 0 && air > 0 && feed > 0) {
		return 1
	}
	return k * (1/air + 1/feed)
}

// surface returns T_s [°C], where the core loses what the liquid feeds. The
// bracket holds: at its lower end, below every temperature around, all heat
// flows to the surface and next to nothing evaporates; at its upper end all
// flows from it. A surface without conductance on either side is at tl.
func (m *mist) surface(feed, tl float64) float64 {
	if !(m.eps > 0 || feed > 0) {
		return tl
	}
	lo := math.Min(coldestAir, math.Min(tl, m.t2)-20)
	hi := math.Max(tl, m.t2)
	return root(func(ts float64) float64 {
		sensible, latent, _, _ := m.heat(ts)
		return sensible + latent - feed*(tl-ts)
	}, lo, hi)
}
