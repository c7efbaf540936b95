package exchanger

import (
	"fmt"

	"hotclimb/sim/fluid"
)

// Rating is one catalogue or bench point of a core, and how its two sides
// scale from there.
type Rating struct {
	Heat                  float64     // Q [W]
	TemperatureDifference float64     // liquid inlet − air inlet [K]
	AirFlow               float64     // [kg/s]
	LiquidFlow            float64     // [kg/s]
	AirHeatCapacity       float64     // cp; 0: dry air. A plate exchanger has liquid here [J/(kg K)]
	LiquidHeatCapacity    float64     // cp [J/(kg K)]
	AirShare              float64     // air side's share of the resistance 1/UA, between 0 and 1
	AirExponent           float64     // n_a of hA ∝ ṁ^n on the air side
	LiquidExponent        float64     // n_l on the liquid side
	Arrangement           Arrangement // how the streams pass
}

// Limits of actual/rated air flow within which a scaled rating is to be trusted
// (engineering judgement).
const (
	LeastRatedFlow = 0.4
	MostRatedFlow  = 2.5
)

// Sides splits the rating into its two sides:
//
//	ε = Q/(Cmin·ITD) → NTU by inversion → UA = NTU·Cmin
//	1/UA = 1/UA_a + 1/UA_l,  UA/UA_a = AirShare
//
// each then a [Power] of its own flow. Usual air shares: radiators 0.7–0.9, oil
// coolers 0.3–0.6 (engineering judgement).
//
// Errors: a value that is not above 0, a share outside (0, 1), a negative
// exponent, or a heat that the arrangement cannot pass at any size.
func (r Rating) Sides() (air, liquid Power, err error) {
	ua, err := r.UA()
	if err != nil {
		return Power{}, Power{}, err
	}
	air = Power{UA: ua / r.AirShare, Flow: r.AirFlow, Exponent: r.AirExponent}
	liquid = Power{UA: ua / (1 - r.AirShare), Flow: r.LiquidFlow, Exponent: r.LiquidExponent}
	return air, liquid, nil
}

// UA returns the overall conductance [W/K] at the rated point.
func (r Rating) UA() (float64, error) {
	if err := r.check(); err != nil {
		return 0, err
	}
	cp := r.AirHeatCapacity
	if cp == 0 {
		cp = fluid.AirHeatCapacity
	}
	cmin, cr, actual := r.Arrangement.Between(r.AirFlow*cp, r.LiquidFlow*r.LiquidHeatCapacity)
	ntu, err := actual.NTU(r.Heat/(cmin*r.TemperatureDifference), cr)
	if err != nil {
		return 0, fmt.Errorf("rating: %.4g W at %.4g K with %.4g kg/s of air: %w", r.Heat, r.TemperatureDifference, r.AirFlow, err)
	}
	return ntu * cmin, nil
}

// check refuses values that have no meaning.
func (r Rating) check() error {
	switch {
	case !(r.Heat > 0 && r.TemperatureDifference > 0):
		return fmt.Errorf("rating: heat %g W and temperature difference %g K must be above 0", r.Heat, r.TemperatureDifference)
	case !(r.AirFlow > 0 && r.LiquidFlow > 0 && r.LiquidHeatCapacity > 0):
		return fmt.Errorf("rating: air flow %g, liquid flow %g and heat capacity %g must be above 0", r.AirFlow, r.LiquidFlow, r.LiquidHeatCapacity)
	case !(r.AirShare > 0 && r.AirShare < 1):
		return fmt.Errorf("rating: air share %g of the resistance must be between 0 and 1", r.AirShare)
	case !(r.AirExponent >= 0 && r.LiquidExponent >= 0):
		return fmt.Errorf("rating: exponents %g and %g must not be negative", r.AirExponent, r.LiquidExponent)
	}
	return nil
}
