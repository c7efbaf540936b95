package flight

import "math"

// Propeller turns engine power into thrust.
type Propeller struct {
	Diameter         float64 // [m]
	EfficiencyClimb  float64 // η in take-off and climb [-]
	EfficiencyCruise float64 // η in level flight and descent [-]
	EfficiencyStatic float64 // ideal over actual power standing still [-]
}

// DiscArea returns A = πD²/4 [m²].
func (p *Propeller) DiscArea() float64 { return math.Pi / 4 * p.Diameter * p.Diameter }

// Thrust returns T [N] at engine power P [W], true airspeed V [m/s] and air
// density ρ [kg/m³], with propeller efficiency η: η·P/V in flight, near
// standstill no more than the static thrust of the disc, and between the two no
// more than the ideal disc makes of the whole power,
//
//	T = min(η·P/V, (η_static·P)^(2/3)·(2ρA)^(1/3)), T·(V + w) ≤ P
//
// Source: Rankine–Froude theory (from memory, high): P_ideal = T·(V + w), at
// standstill T^1.5/√(2ρA). Error: as η in flight; at a walking pace as η_static;
// between them it is an upper bound, a tenth too high (engineering judgement).
// Air from behind counts as standing still.
func (p *Propeller) Thrust(power, tas, rho, efficiency float64) float64 {
	if power <= 0 {
		return 0
	}
	disc := 2 * rho * p.DiscArea()
	thrust := math.Cbrt(disc * sq(p.EfficiencyStatic*power))
	if tas <= 0 {
		return thrust
	}
	thrust = min(thrust, efficiency*power/tas)
	through := tas/2 + math.Sqrt(tas*tas/4+thrust/disc)
	if thrust*through > power {
		return power / idealSpeed(power/disc, tas)
	}
	return thrust
}

// idealSpeed returns the speed u = V + w [m/s] of the air through an ideal disc
// that takes up a power, given as c = P/(2ρA) [m³/s³], at airspeed V [m/s]: the
// root above V of
//
//	u²·(u − V) = c
//
// The left side is convex there, so Newton steps from above fall to the root.
func idealSpeed(c, tas float64) float64 {
	u := tas + math.Cbrt(c)
	for range 50 {
		step := (u*u*(u-tas) - c) / (u * (3*u - 2*tas))
		u -= step
		if step <= 1e-13*u {
			break
		}
	}
	return u
}

// Disc is the slipstream of an actuator disc.
type Disc struct {
	Induced  float64 // w, velocity gained at the disc [m/s]
	Wake     float64 // Vs = V + 2w [m/s]
	Pressure float64 // total-pressure rise T/A behind the disc [Pa]
}

// DiscOf returns the slipstream of thrust T [N] on the area A [m²] at true
// airspeed V [m/s] and density ρ [kg/m³]:
//
//	w = −V/2 + √(V²/4 + T/(2ρA)),  Δp_t = T/A = ½ρ(Vs² − V²)
//
// Source: Rankine–Froude theory (from memory, high). Valid for air from ahead or
// at rest. A thrust below 0 counts as 0; area and density must be above 0.
func DiscOf(thrust, area, tas, rho float64) Disc {
	thrust = max(0, thrust)
	w := -tas/2 + math.Sqrt(tas*tas/4+thrust/(2*rho*area))
	return Disc{Induced: w, Wake: tas + 2*w, Pressure: thrust / area}
}

func sq(x float64) float64 { return x * x }
