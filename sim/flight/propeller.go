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
// density ρ [kg/m³], with propeller efficiency η: η·P/V in flight, and near
// standstill no more than the static thrust of the disc,
//
//	T = min(η·P/V, (η_static·P)^(2/3)·(2ρA)^(1/3))
//
// Source: Rankine–Froude theory (from memory, high): P_ideal = T^1.5/√(2ρA).
func (p *Propeller) Thrust(power, tas, rho, efficiency float64) float64 {
	if power <= 0 {
		return 0
	}
	static := math.Cbrt(2 * rho * p.DiscArea() * sq(p.EfficiencyStatic*power))
	if tas <= 0 {
		return static
	}
	return math.Min(efficiency*power/tas, static)
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
// Source: Rankine–Froude theory (from memory, high).
func DiscOf(thrust, area, tas, rho float64) Disc {
	w := -tas/2 + math.Sqrt(tas*tas/4+thrust/(2*rho*area))
	return Disc{Induced: w, Wake: tas + 2*w, Pressure: thrust / area}
}

func sq(x float64) float64 { return x * x }
