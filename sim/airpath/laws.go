package airpath

import (
	"math"

	"hotclimb/sim/fluid"
)

// Stream is the air the cowl meets.
type Stream struct {
	Temperature float64 // [°C]
	Density     float64 // [kg/m³]
	Speed       float64 // along the aircraft, negative from behind [m/s]
	DiscRise    float64 // total-pressure rise T/A behind the propeller disc [Pa]
}

const (
	kelvin  = 273.15
	gravity = 9.80665 // [m/s²]

	// HeatCapacity is cp of the cooling air [J/(kg K)].
	HeatCapacity = fluid.AirHeatCapacity

	// creepSpeed [m/s] and creepFlow [kg/s] bound the range in which a drop is
	// taken as laminar: 1e-6 Pa, far below anything that matters, but with a
	// slope at rest.
	creepSpeed = 1e-3
	creepFlow  = 1e-5

	// leastLoss is the K_d of any inlet at least: lossless inlets side by side
	// would not know how to share their flow [-].
	leastLoss = 0.002
)

// ram returns the dynamic pressure ½ρV² [Pa] of the stream with its sign.
func (s *Stream) ram() float64 { return 0.5 * s.Density * s.Speed * math.Abs(s.Speed) }

// total returns the gauge total pressure q0 + k_p·T/A [Pa] that reaches an
// opening with slipstream share kp. A wind from behind gives no ram.
func (s *Stream) total(kp float64) float64 {
	return max(0, max(0, s.ram())+kp*s.DiscRise)
}

// local returns the speed [m/s] of the stream at an opening with slipstream
// share kp: ½ρV_s² = q0 + k_p·T/A.
func (s *Stream) local(kp float64) float64 {
	return math.Sqrt(2 * s.total(kp) / s.Density)
}

// density returns the density [kg/m³] of stream air at another temperature
// [°C] and the same pressure.
func (s *Stream) density(t float64) float64 {
	return s.Density * (s.Temperature + kelvin) / (t + kelvin)
}

// warmth returns the temperature [°C] of stream air of another density [kg/m³]
// at the same pressure.
func (s *Stream) warmth(rho float64) float64 {
	return s.Density*(s.Temperature+kelvin)/rho - kelvin
}

// outsidePressure returns the gauge pressure [Pa] outside an exit:
// Cp_e·(q0 + k_p·T/A), or the full dynamic pressure of a wind from behind,
// which an aft-facing exit catches; less the suction k_s·T/A of a propeller
// that draws its air past the exit. An actuator disc standing still sucks at
// its front with T/(4A), by Rankine–Froude theory.
func (e *Exit) outsidePressure(s *Stream) float64 {
	suction := e.Suction * s.DiscRise
	if s.Speed < 0 {
		return -s.ram() - suction
	}
	return e.Pressure*s.total(e.Slipstream) - suction
}

// squared returns v|v| and its derivative. Below creepSpeed c it is the
// smooth v·(c/2 + v²/2c), whose slope at rest is not zero.
func squared(v float64) (value, slope float64) {
	if a := math.Abs(v); a >= creepSpeed {
		return v * a, 2 * a
	}
	return v * (0.5*creepSpeed + v*v/(2*creepSpeed)), 0.5*creepSpeed + 3*v*v/(2*creepSpeed)
}

// drive returns what pushes air through the inlet besides the pressures at
// its ends [Pa], and its derivative with respect to flow, where total is
// q0 + k_p·T/A and full the flow ρ·A·V_s·r_full of full recovery. The recovery
// rises from η − Δη at no flow to η at the full velocity ratio:
//
//	drive = [η − Δη·(1 − min(r/r_full, 1))]·(q0 + k_p·T/A), r = V_i/V_s
func (in *Inlet) drive(flow, total, full float64) (drive, slope float64) {
	if in.LowFlowLoss <= 0 || flow >= full {
		return in.Recovery * total, 0
	}
	if flow <= 0 {
		return (in.Recovery - in.LowFlowLoss) * total, 0
	}
	slope = in.LowFlowLoss * total / full
	return (in.Recovery-in.LowFlowLoss)*total + slope*flow, slope
}

// drop returns the loss of the inlet [Pa] at a flow and its derivative, in a
// stream of local speed vs. Going in it is the diffuser loss and, where the
// inlet sucks faster than the stream, the entry loss; going out the whole jet
// is lost:
//
//	in:  K_d·½ρV_i² + K_lip·½ρ·max(0, V_i − V_s)²
//	out: −(1 + K_d)·½ρV_i²
func (in *Inlet) drop(flow, rho, vs float64) (dp, slope float64) {
	perFlow := 1 / (rho * in.Area)
	v := flow * perFlow
	k := max(in.DuctLoss, leastLoss)
	if flow < 0 {
		k++
	}
	dp, slope = squared(v)
	dp, slope = 0.5*rho*k*dp, 0.5*rho*k*slope
	if v > vs && in.LipLoss > 0 {
		lip, rise := squared(v - vs)
		dp += 0.5 * rho * in.LipLoss * lip
		slope += 0.5 * rho * in.LipLoss * rise
	}
	return dp, slope * perFlow
}

// orifice returns the drop ṁ|ṁ|/(2ρ(Cd·A)²) and its derivative.
func orifice(flow, rho, effectiveArea float64) (dp, slope float64) {
	perFlow := 1 / (rho * effectiveArea)
	dp, slope = squared(flow * perFlow)
	return 0.5 * rho * dp, 0.5 * rho * slope * perFlow
}

// drop returns the signed drop of a core with upstream density rho1 and
// downstream density rho2, and its derivative. Below creepFlow the drop is
// proportional to the flow.
func (c *Core) drop(flow, rho1, rho2, mu float64) (dp, slope float64) {
	m := math.Abs(flow)
	if m < creepFlow {
		dp, _ = c.forward(creepFlow, rho1, rho2, mu)
		slope = dp / creepFlow
		return slope * flow, slope
	}
	dp, slope = c.forward(m, rho1, rho2, mu)
	return math.Copysign(dp, flow), slope
}

// forward returns the drop at a flow ≥ creepFlow: the static drop of the
// element, and the dynamic pressure ½ρ1V² of the face, which becomes static in
// neither place.
func (c *Core) forward(m, rho1, rho2, mu float64) (dp, slope float64) {
	dp, slope = c.Element.PressureDrop(m, rho1, rho2, mu)
	if c.Factor > 0 {
		dp, slope = dp*c.Factor, slope*c.Factor
	}
	if c.FaceArea > 0 {
		head := m / (2 * rho1 * c.FaceArea * c.FaceArea)
		dp, slope = dp+head*m, slope+2*head
	}
	return dp, slope
}

// closed reports whether nothing can pass the branch.
func (b *Branch) closed() bool {
	switch {
	case b.Inlet != nil:
		return b.Inlet.Area <= 0
	case b.Exit != nil:
		return b.Exit.Area*b.Exit.Discharge <= 0
	case b.Gap != nil:
		return b.Gap.Area*b.Gap.Discharge <= 0
	}
	return false
}
