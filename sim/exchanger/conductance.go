package exchanger

import "math"

// Conductance is one side of a core: hA [W/K] between the stream and the
// separating wall, fin efficiency included, at a mass flow ≥ 0 [kg/s] and the
// mean stream temperature t [°C].
type Conductance interface {
	At(flow, t float64) float64
}

var _, _, _, _ Conductance = Power{}, (*LouveredFin)(nil), (*OffsetStrip)(nil), (*Tube)(nil)

// Power is a side whose conductance follows a power of its flow:
//
//	hA = UA·max(Floor, (ṁ/Flow)^Exponent)
//
// the rated-point scaling for users who own a catalogue point, see [Rating].
// Usual exponents: louvered fins 0.45–0.5, offset strips 0.46–0.6, plain tubes
// or honeycomb 0.7–0.8; liquid: turbulent 0.8, laminar oil with turbulators
// 0.3–0.5, plain laminar 0–0.33 (engineering judgement on the exponents of the
// correlations in this package). Good for about 0.4 to 2.5 times Flow. The
// temperature is ignored.
type Power struct {
	UA       float64 // conductance at the rated flow [W/K]
	Flow     float64 // rated mass flow [kg/s]
	Exponent float64 // [-]
	Floor    float64 // least share of UA kept at small flow [-], default 0
}

// At returns hA [W/K] at flow [kg/s]; at no flow (or a reversed sign) UA·Floor.
func (p Power) At(flow, _ float64) float64 {
	if !(flow > 0) {
		return p.UA * p.Floor
	}
	return p.UA * max(p.Floor, power(flow/p.Flow, p.Exponent))
}

// slope returns d(hA)/dṁ at a flow [kg/s] where the conductance is h; 0 at the
// floor.
func (p Power) slope(flow, h float64) float64 {
	if h <= p.UA*p.Floor {
		return 0
	}
	return p.Exponent * h / flow
}

// power is x^n for x, n ≥ 0, half the price of math.Pow and as good to a few
// units in the last place for ratios of flows.
func power(x, n float64) float64 {
	switch n {
	case 0: // at x = 0 too, where the logarithm fails
		return 1
	case 0.5:
		return math.Sqrt(x)
	}
	return math.Exp(n * math.Log(x))
}

// finEfficiency returns η = tanh(mL)/(mL) of a fin of conductance h [W/(m² K)],
// with m = √[2h/(kδ)·(1 + δ/w)], from hm = 2/(kδ)·(1 + δ/w)·L² so that
// (mL)² = h·hm. At h = 0 it is 1.
//
// Source: Incropera & DeWitt, straight fin with adiabatic tip.
func finEfficiency(h, hm float64) float64 {
	x := math.Sqrt(h * hm)
	if x < 1e-4 {
		return 1
	}
	return math.Tanh(x) / x
}
