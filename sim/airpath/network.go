// Package airpath is the pressure field of the cowl: air from the inlets
// through cores and compartments to the exits.
//
// Places (inlet plenums, compartments, gaps between stacked cores) share one
// pressure each; branches carry a signed flow between two places or to the
// outside. Every branch obeys
//
//	p_from − p_to + drive(ṁ) = drop(ṁ)
//
// with drop rising monotonically in ṁ, and every place keeps its mass:
// Σ ṁ_in = Σ ṁ_out. Pressures are gauge to the static pressure of the outside
// air. Backflow is a result like any other.
//
// Left out: the exchange of momentum between branches inside a compartment,
// pressure gradients within one, and compressibility beyond the change of
// density with temperature (Mach numbers stay far below 0.3).
package airpath

import "fmt"

// Outside is the place number of the surrounding air.
const Outside = -1

// Element is a core as the pressure field sees it: the static pressure drop
// [Pa] and its derivative [Pa s/kg] at a flow ≥ 0 [kg/s], from the densities
// upstream and downstream [kg/m³] and the viscosity [Pa s] of the air.
type Element interface {
	PressureDrop(flow, rho1, rho2, mu float64) (dp, slope float64)
}

// Inlet takes outside air into a plenum.
type Inlet struct {
	Area        float64 // throat [m²]
	Recovery    float64 // η, total pressure at the throat over that of the stream [-]
	LowFlowLoss float64 // recovery lost at no flow [-]
	FullRatio   float64 // velocity ratio from which the recovery is full [-]
	LipLoss     float64 // entry loss on the dynamic pressure of the speed difference [-]
	DuctLoss    float64 // diffuser loss K_d on the throat dynamic pressure, at least 0.002 [-]
	Slipstream  float64 // share k_p of the propeller disc pressure rise [-]
	DrawsBack   float64 // share of its air that is exit air drawn back in [-]
	Spillage    float64 // share k_s of the pre-entry drag that is not recovered [-]
	FairingDrag float64 // drag area of the scoop fairing [m²]
}

// Exit lets air out of a compartment.
type Exit struct {
	Area       float64 // free area [m²]
	Discharge  float64 // Cd [-]
	Pressure   float64 // Cp_e, outside pressure over dynamic pressure [-]
	JetCosine  float64 // cos θ of the jet to the flight path [-]
	JetLoss    float64 // share of p − p_e lost to the jet [-]
	Slipstream float64 // share of the disc pressure rise in the stream outside [-]
	Suction    float64 // of a propeller behind the exit, over the disc pressure rise [-]
	Rise       float64 // height above the inlets [m]
	DragArea   float64 // outside drag area of flap, lip or louvers [m²]
}

// Core is a heat exchanger, or any element, between two places.
type Core struct {
	Element  Element
	FaceArea float64 // its leaving dynamic pressure on this area is lost [m²]; 0: none
	Factor   float64 // on the drop, as for a wet core; 0 counts as 1 [-]
}

// Gap is a sharp-edged leak.
type Gap struct {
	Area      float64 // [m²]
	Discharge float64 // [-]
}

// Branch joins two places. Exactly one of its laws is set.
type Branch struct {
	Name     string
	From, To int // place numbers, or Outside; flow is positive from From to To
	Inlet    *Inlet
	Core     *Core
	Exit     *Exit
	Gap      *Gap
}

// Place is a node of the field. Heat reaches its air from a source and from a
// wall, and leaves through its skin.
type Place struct {
	Name     string
	WallUA   float64 // conductance to a hot wall [W/K]
	SkinUA   float64 // conductance to the outside air [W/K]
	Source   float64 // heat put straight into its air [W]
	WallTemp float64 // temperature of the hot wall [°C]
}

// Network is the layout of the field. Source, WallTemp and Core.Factor may
// change between solves; the rest is fixed.
type Network struct {
	Places   []Place
	Branches []Branch
}

// Check returns the first fault of the layout.
func (n *Network) Check() error {
	for _, b := range n.Branches {
		laws := 0
		for _, set := range []bool{b.Inlet != nil, b.Core != nil, b.Exit != nil, b.Gap != nil} {
			if set {
				laws++
			}
		}
		if laws != 1 {
			return fmt.Errorf("airpath: branch %q has %d laws, wants one", b.Name, laws)
		}
		for _, place := range []int{b.From, b.To} {
			if place < Outside || place >= len(n.Places) {
				return fmt.Errorf("airpath: branch %q ends at unknown place %d", b.Name, place)
			}
		}
		if b.From == b.To {
			return fmt.Errorf("airpath: branch %q returns to where it starts", b.Name)
		}
		if b.Inlet != nil && b.From != Outside || b.Exit != nil && b.To != Outside {
			return fmt.Errorf("airpath: branch %q does not reach the outside air", b.Name)
		}
	}
	return nil
}
