package airpath

import "math"

// Stream is the air the cowl meets.
type Stream struct {
	Pressure    float64 // static [Pa]
	Temperature float64 // [°C]
	Density     float64 // [kg/m³]
	Viscosity   float64 // of the air in the cores [Pa s]
	Speed       float64 // along the aircraft, negative from behind [m/s]
	DiscRise    float64 // total-pressure rise T/A behind the propeller disc [Pa]
}

const (
	gasConstant = 287.05287 // R of dry air [J/(kg K)], US Standard Atmosphere 1976
	kelvin      = 273.15
	gravity     = 9.80665 // [m/s²]

	// HeatCapacity is cp of the cooling air [J/(kg K)].
	HeatCapacity = 1006.0
)

// Ram returns the dynamic pressure ½ρV² [Pa] of the stream and its sign.
func (s *Stream) ram() float64 { return 0.5 * s.Density * s.Speed * math.Abs(s.Speed) }

// total returns the gauge total pressure q0 + k_p·T/A [Pa] that reaches an
// opening with slipstream share kp. A wind from behind gives no ram.
func (s *Stream) total(kp float64) float64 {
	return math.Max(0, math.Max(0, s.ram())+kp*s.DiscRise)
}

// local returns the speed [m/s] of the stream at an opening with slipstream
// share kp: ½ρV_s² = q0 + k_p·T/A.
func (s *Stream) local(kp float64) float64 {
	return math.Sqrt(2 * s.total(kp) / s.Density)
}

// outsidePressure returns the gauge pressure [Pa] outside an exit:
// Cp_e·(q0 + k_p·T/A), or the full dynamic pressure of a wind from behind,
// which an aft-facing exit catches.
func (e *Exit) outsidePressure(s *Stream) float64 {
	if s.Speed < 0 {
		return -s.ram()
	}
	return e.Pressure * s.total(e.Slipstream)
}

// drive returns what pushes air through the inlet besides the pressures at
// its ends [Pa], and its derivative with respect to flow. The recovery rises
// from η − Δη at no flow to η at the full velocity ratio:
//
//	drive = [η − Δη·(1 − min(r/r_full, 1))]·(q0 + k_p·T/A), r = V_i/V_s
func (in *Inlet) drive(flow float64, s *Stream) (drive, slope float64) {
	total := s.total(in.Slipstream)
	eta := in.Recovery
	if in.LowFlowLoss > 0 && total > 0 {
		vs := math.Sqrt(2 * total / s.Density)
		r := math.Max(0, flow) / (s.Density * in.Area * vs)
		if r < in.FullRatio {
			eta -= in.LowFlowLoss * (1 - r/in.FullRatio)
			if flow > 0 {
				slope = in.LowFlowLoss / in.FullRatio * total / (s.Density * in.Area * vs)
			}
		}
	}
	return eta * total, slope
}

// drop returns the loss of the inlet [Pa] at a flow and its derivative. Going
// in it is the diffuser loss and, where the inlet sucks faster than the
// stream, the entry loss; going out the whole jet is lost:
//
//	in:  K_d·½ρV_i² + K_lip·½ρ·max(0, V_i − V_s)²
//	out: −(1 + K_d)·½ρV_i²
func (in *Inlet) drop(flow, rho float64, s *Stream) (dp, slope float64) {
	perFlow := 1 / (rho * in.Area)
	v := flow * perFlow
	if flow < 0 {
		k := (1 + in.DuctLoss) * 0.5 * rho
		return k * v * -v, -2 * k * v * perFlow
	}
	k := in.DuctLoss * 0.5 * rho
	dp, slope = k*v*v, 2*k*v*perFlow
	if excess := v - s.local(in.Slipstream); excess > 0 {
		k = in.LipLoss * 0.5 * rho
		dp += k * excess * excess
		slope += 2 * k * excess * perFlow
	}
	return dp, slope
}

// orifice returns the drop ṁ|ṁ|/(2ρ(Cd·A)²) and its derivative.
func orifice(flow, rho, effectiveArea float64) (dp, slope float64) {
	k := 1 / (2 * rho * effectiveArea * effectiveArea)
	return k * flow * math.Abs(flow), 2 * k * math.Abs(flow)
}

// drop returns the signed drop of a core with upstream density rho1 and
// downstream density rho2, and its derivative.
func (c *Core) drop(flow, rho1, rho2, mu float64) (dp, slope float64) {
	m := math.Abs(flow)
	dp, slope = c.Element.PressureDrop(m, rho1, rho2, mu)
	if c.Factor > 0 {
		dp, slope = dp*c.Factor, slope*c.Factor
	}
	if c.FaceArea > 0 {
		head, rise := orifice(m, rho2, c.FaceArea)
		dp, slope = dp+head, slope+rise
	}
	return math.Copysign(dp, flow), slope
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
