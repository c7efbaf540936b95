package airpath

import "math"

// Drag is the drag of the cooling air [N], one owner per term.
type Drag struct {
	Internal float64 // momentum lost on the way through
	Spillage float64 // pre-entry drag that the inlet lips do not recover
	External float64 // scoop fairings, flaps, lips and louvers in the stream
}

// Total returns the sum of the terms [N].
func (d Drag) Total() float64 { return d.Internal + d.Spillage + d.External }

// JetSpeed returns the speed [m/s] of a jet expanded to the static pressure of
// the outside air, from its gauge total pressure [Pa] and density [kg/m³]:
//
//	V_e∞ = √(2·p_t,e/ρ_e), 0 when p_t,e ≤ 0
func JetSpeed(total, rho float64) float64 {
	return math.Sqrt(2 * math.Max(0, total) / rho)
}

// InternalDrag returns ṁ·(V_0 − V_e∞·cos θ) [N] of a duct, or of one end of it:
// without a jet what the air gives up on entering, without a speed what its jet
// gives back.
func InternalDrag(flow, speed, jet, cosine float64) float64 {
	return flow * (speed - jet*cosine)
}

// SpillageDrag returns k_s·q0·A_i·(1 − r)² [N], the pre-entry drag of an inlet
// at velocity ratio r < 1 that its lip does not recover; nothing above.
func SpillageDrag(share, q, area, ratio float64) float64 {
	short := math.Max(0, 1-ratio)
	return share * q * area * short * short
}

// Drag returns the drag of the field last solved. Air that enters is slowed
// from the local stream ½ρV_s² = q0 + k_p·T/A, because the propeller already
// counts the gain above flight speed as thrust; air that leaves by an exit
// pushes with the speed of its jet expanded to ambient; air that leaves by an
// inlet or a gap pushes nothing.
func (s *Solver) Drag(st *Stream) Drag {
	var d Drag
	for i := range s.net.Branches {
		b, m := &s.net.Branches[i], s.Field.Flow[i]
		switch {
		case b.Inlet != nil:
			vs, q := st.local(b.Inlet.Slipstream), st.total(b.Inlet.Slipstream)
			d.Internal += InternalDrag(math.Max(0, m), vs, 0, 1)
			d.External += b.Inlet.FairingDrag * q
			if b.Inlet.Area > 0 && vs > 0 {
				r := math.Max(0, m) / (st.Density * b.Inlet.Area * vs)
				d.Spillage += SpillageDrag(b.Inlet.Spillage, q, b.Inlet.Area, r)
			}
		case b.Exit != nil:
			d.External += b.Exit.DragArea * st.total(b.Exit.Slipstream)
			if m > 0 {
				d.Internal += InternalDrag(m, 0, s.jet(i, st), b.Exit.JetCosine)
			} else {
				d.Internal += InternalDrag(-m, math.Max(0, st.Speed), 0, 1)
			}
		case b.From == Outside && m > 0, b.To == Outside && m < 0:
			d.Internal += InternalDrag(math.Abs(m), math.Max(0, st.Speed), 0, 1)
		}
	}
	return d
}

// jet returns the expanded jet speed [m/s] of exit branch i.
func (s *Solver) jet(i int, st *Stream) float64 {
	b := &s.net.Branches[i]
	p := s.Field.Pressure[b.From]
	lost := b.Exit.JetLoss * math.Max(0, p-b.Exit.outsidePressure(st))
	return JetSpeed(p-lost, st.density(s.Field.Temperature[b.From]))
}
