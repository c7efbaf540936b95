// Package flight is the aircraft in the air and on the ground: its legs, its
// speeds, its propeller, its rate of climb and what drag costs it.
//
// Left out: take-off and turning dynamics; an aircraft is always in steady
// flight at the speed of its leg.
package flight

import "math"

const gravity = 9.80665 // standard acceleration of gravity [m/s²]

// Aircraft is the airframe.
type Aircraft struct {
	Mass           float64 // [kg]
	WingArea       float64 // S [m²]
	AspectRatio    float64 // AR [-]
	SpanEfficiency float64 // e [-]
	ParasiteDrag   float64 // CD0 [-]
	CoolingDrag    float64 // drag area of cooling that CD0 already holds [m²]
}

// Drag returns D [N] of steady flight at the dynamic pressure q [Pa], without
// cooling drag, whose drag area A_c is taken out of CD0:
//
//	D = q·S·(CD0 + CL²/(π·AR·e)) − q·A_c, CL = W/(q·S)
//
// The climb angle is taken as small (cos γ ≈ 1): at 9° the induced part is 2 %
// too high. Below the stall it means nothing; at no speed it is 0.
func (a *Aircraft) Drag(q float64) float64 {
	if q <= 0 {
		return 0
	}
	induced := a.Weight() / (q * a.WingArea)
	cd := a.ParasiteDrag + induced*induced/(math.Pi*a.AspectRatio*a.SpanEfficiency)
	return q * (a.WingArea*cd - a.CoolingDrag)
}

// Weight returns W [N].
func (a *Aircraft) Weight() float64 { return a.Mass * gravity }

// RateOfClimb returns the climb [m/s] from thrust power [W] and drag [N] at a
// true airspeed [m/s]: (η_p·P − D·V)/W, below 0 in a descent.
func (a *Aircraft) RateOfClimb(thrustPower, drag, tas float64) float64 {
	return (thrustPower - drag*tas) / a.Weight()
}

// Cost is what an extra drag takes away.
type Cost struct {
	Power       float64 // engine power to carry it [W]
	Speed       float64 // level speed lost at the same thrust power [m/s]
	RateOfClimb float64 // climb lost at the same power and speed [m/s]
}

// Cost returns the price of a drag ΔD [N] at a true airspeed V [m/s] and
// dynamic pressure q [Pa] with propeller efficiency η above 0:
//
//	ΔP = ΔD·V/η,  Δ(ROC) = ΔD·V/W,
//	ΔV = ΔD·V/(D + V·dD/dV), to first order at constant thrust power
//
// with V·dD/dV = 2·(D_parasite − D_induced), D being the drag without ΔD. ΔV
// grows without bound towards the speed of least power and is then no first
// order any more; below it level speed has no stable meaning and ΔV is 0.
func (a *Aircraft) Cost(drag, tas, q, efficiency float64) Cost {
	c := Cost{Power: drag * tas / efficiency, RateOfClimb: drag * tas / a.Weight()}
	if q <= 0 {
		return c
	}
	cl := a.Weight() / (q * a.WingArea)
	induced := q * a.WingArea * cl * cl / (math.Pi * a.AspectRatio * a.SpanEfficiency)
	whole := a.Drag(q)
	if slope := whole + 2*(whole-2*induced); slope > 0 {
		c.Speed = drag * tas / slope
	}
	return c
}
