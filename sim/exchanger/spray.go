package exchanger

import "math"

// Spray is a water spray onto the air face of a core, by a closed model: some
// of the water evaporates on its way through the air, some lands on the hot
// core and evaporates there, the rest runs off. Start from [NewSpray] and
// change what is known better.
type Spray struct {
	Water          float64 // water flow ṁ_w [kg/s]
	Temperature    float64 // of the water T_w [°C]
	Landed         float64 // φ, share of the water reaching the core that lands and may evaporate [-]
	InFlight       float64 // η_A, share of the water that evaporates before the core [-]
	Wetted         float64 // f_wet, share of the surface that is wet [-]
	OutletHumidity float64 // highest relative humidity at the outlet [-]
}

// NewSpray returns a spray of water [kg/s] at t [°C] with φ 0.6 (0.3–0.9) and
// η_A 0.05, a fully wetted surface and a saturated outlet at most (engineering
// judgement, no direct source; vary φ).
//
// The in-flight share is small in a cowl: by the d²-law a drop of 50 μm loses
// 2 % of its mass in 0.03 s of flight at 35 °C and 30 % humidity.
func NewSpray(water, t float64) Spray {
	return Spray{Water: water, Temperature: t, Landed: 0.6, InFlight: 0.05, Wetted: 1, OutletHumidity: 1}
}

// MoistAir is the air at the face of a sprayed core.
type MoistAir struct {
	Flow        float64 // dry-air mass flow ṁ_a [kg/s]
	Temperature float64 // T1 [°C]
	Humidity    float64 // relative humidity RH1 [-]
	Pressure    float64 // p [Pa]
}

// SprayLimit says what stopped more water from evaporating.
type SprayLimit int

const (
	NoSpray             SprayLimit = iota // there is no water
	WaterLimit                            // all water that landed has evaporated
	AdiabaticLimit                        // the air is saturated before the core and no water lands
	SurfaceLimit                          // mass transfer from the wet surface
	OutletHumidityLimit                   // the outlet air is saturated
)

// limitNames holds the text of each SprayLimit, in order.
var limitNames = [...]string{"none", "water", "adiabatic saturation", "surface", "outlet humidity"}

// String returns the name in words.
func (l SprayLimit) String() string {
	if l < 0 || int(l) >= len(limitNames) {
		return "unknown limit"
	}
	return limitNames[l]
}

// Evaporation is what a spray does on a surface of given temperature.
type Evaporation struct {
	InFlight          float64    // evaporated before the core m_A [kg/s]
	CoreTemperature   float64    // air reaching the core T2 [°C]
	DryHeat           float64    // sensible heat without spray Q_s,dry [W]
	Sensible          float64    // sensible heat Q_s [W]
	Latent            float64    // heat of the water evaporated on the core Q_lat [W]
	Evaporated        float64    // m_A + m_ev [kg/s]
	RunOff            float64    // water that leaves as liquid [kg/s]
	OutletTemperature float64    // [°C]
	OutletHumidity    float64    // relative humidity [-]
	Limit             SprayLimit // what stopped the evaporation
}

// Extra returns the heat gained by spraying, Q_s + Q_lat − Q_s,dry [W].
func (e Evaporation) Extra() float64 { return e.Sensible + e.Latent - e.DryHeat }

// Constants of the spray model.
const (
	vapourCapacity = 1860          // cp of water vapour [J/(kg K)]
	waterCapacity  = 4186          // cp of liquid water c_w [J/(kg K)]
	nearSaturation = 0.95          // share of adiabatic saturation that a spray can reach [-]
	coldestAir     = -60           // lower end of the saturation search [°C]
	lewisPower     = 0.91133804689 // Le^{2/3} at the Lewis number 0.87 of water vapour in air [-]
)

// Evaporate works out the closed model for a core surface at the uniform
// temperature surface T_s [°C] and air-side ntu N = η_o·hA/(ṁ_a·cp) [-]:
//
//  1. in flight: m_A = min(η_A·ṁ_w, 0.95·ṁ_a(W_as − W1)), with W_as at adiabatic
//     saturation h(T_as, W_as) = h1 + (W_as − W1)·c_w·T_w; W2 = W1 + m_A/ṁ_a and
//     T2 from the enthalpy h1 + (m_A/ṁ_a)·c_w·T_w;
//  2. landed: m_B = φ(ṁ_w − m_A);
//  3. sensible: Q_s = ṁ_a(cp + W2·cp_v)·ε_s(T_s − T2), ε_s = 1 − e^{−N};
//  4. evaporated: m_ev, the least of m_B, of
//     ṁ_a(1 − e^{−f_wet·N/Le^{2/3}})(W_s(T_s) − W2) and of what brings the outlet
//     to its highest humidity (conservative: fog can form past it);
//  5. latent: Q_lat = m_ev[h_g(T_s) − c_w·T_w].
//
// The enthalpy of the air closes: ṁ_a(h4 − h1) = Q_s + Q_lat + (m_A + m_ev)·c_w·T_w.
//
// Moist air: ASHRAE Handbook – Fundamentals 2017, chapter 1. Heat and mass
// transfer by the Chilton–Colburn analogy (Le 0.87). h_g − c_w·T exceeds the
// IAPWS-IF97 heat of evaporation by 0.3 % at 80 °C and 0.5 % at 100 °C. The
// model predicts laboratory trends; there are no published tests in aircraft.
//
// Landed, InFlight, Wetted and OutletHumidity are limited to 0…1, a negative
// water flow or ntu counts as 0. No air flow gives an Evaporation with all water running off.
func (s Spray) Evaporate(air MoistAir, surface, ntu float64) Evaporation {
	if !(air.Flow > 0) {
		return Evaporation{
			CoreTemperature: air.Temperature, OutletTemperature: air.Temperature,
			OutletHumidity: air.Humidity, RunOff: math.Max(0, s.Water),
		}
	}
	m := s.inFlight(air, ntu)
	return m.onCore(surface)
}
