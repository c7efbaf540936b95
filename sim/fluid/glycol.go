package fluid

import (
	"fmt"
	"math"
)

// Kinds of glycol, as [MassFractionOfVolume] takes them.
const (
	KindEthyleneGlycol  = "ethylene_glycol"
	KindPropyleneGlycol = "propylene_glycol"
)

const (
	glycolShareHighest = 0.60  // mass fraction the polynomials reach
	glycolHigh         = 100.0 // °C, end of the polynomials' data
	glycolHottest      = 150.0 // °C
)

// glycolData is what is known of one glycol and its mixtures with water. The
// polynomials are property = Σ C_ij·(x − x_b)^i·(t − t_b)^j with x in % by mass
// and t in °C; viscosity is ln of mPa s; freezing uses the rows with j = 0.
type glycolData struct {
	name      string
	share     float64 // x_b, % by mass
	centre    float64 // t_b, °C
	terms     []glycolTerm
	molarMass float64 // g/mol
	vapour    clausiusClapeyron
	density20 float64 // of the pure glycol at 20 °C, kg/m³
}

// ethylene returns the data of ethylene glycol. Vapour pressure: through 2133 Pa
// at 100 °C (coolant data sheet) and the normal boiling point 470.4 K
// (Thermopedia).
func ethylene() glycolData {
	return glycolData{
		name: "ethylene glycol", share: 30.8462, centre: 31.728,
		terms:     ethyleneTerms[:],
		molarMass: 62.07,
		vapour:    clausiusClapeyron{p0: 2133, b: 6968, t0: 373.15},
		density20: 1113,
	}
}

// propylene returns the data of propylene glycol. Vapour pressure: through 17.3
// Pa at 20 °C and the normal boiling point 461.35 K (from memory), as is the
// density.
func propylene() glycolData {
	return glycolData{
		name: "propylene glycol", share: 30.7031, centre: 32.7083,
		terms:     propyleneTerms[:],
		molarMass: 76.09,
		vapour:    clausiusClapeyron{p0: 101325, b: 6975.6, t0: 461.35},
		density20: 1036,
	}
}

// EthyleneGlycol returns a mixture of ethylene glycol and water with the given
// mass fraction of glycol, 0…0.60.
//
// Source: Å. Melinder, Properties of Secondary Working Fluids for Indirect
// Systems, IIR, Paris 2010: data from the freezing point to 100 °C, which is
// [Liquid.Range]. Above 100 °C density, heat capacity and conductivity go on by
// their polynomials and viscosity by Andrade's line ln µ ~ 1/T with the slope at
// 100 °C (engineering judgement; the polynomial itself would fall below water by
// 150 °C). Evaluation span: freezing point to 150 °C. Inhibited commercial
// coolants can be 1–1.5 % denser (supplier data).
func EthyleneGlycol(massFraction float64) (*Liquid, error) {
	return ethylene().mixture(massFraction)
}

// PropyleneGlycol returns a mixture of propylene glycol and water with the given
// mass fraction of glycol, 0…0.60. Source, range and extrapolation as
// [EthyleneGlycol].
func PropyleneGlycol(massFraction float64) (*Liquid, error) {
	return propylene().mixture(massFraction)
}

// mixture folds the mass fraction into the polynomials.
func (g glycolData) mixture(massFraction float64) (*Liquid, error) {
	if !(massFraction >= 0 && massFraction <= glycolShareHighest) {
		return nil, fmt.Errorf("%s: mass fraction %g is outside 0 to %.2f",
			g.name, massFraction, glycolShareHighest)
	}
	l := &Liquid{
		name:    fmt.Sprintf("%s %.4g %% by mass", g.name, 100*massFraction),
		high:    glycolHigh,
		hottest: glycolHottest,
		freezes: true,
		boils:   true,
		vapour:  g.vapour,
		centre:  g.centre,
	}
	for _, c := range g.terms {
		f := math.Pow(100*massFraction-g.share, float64(c.i))
		l.density[c.j] += f * c.density
		l.capacity[c.j] += f * c.capacity
		l.conductivity[c.j] += f * c.conductivity
		l.viscosity.ln[c.j] += f * c.lnViscosity
		if c.j == 0 {
			l.freezing += f * c.freezing
		}
	}
	l.low, l.coldest = l.freezing, l.freezing
	l.viscosity.scale = 1e-3
	l.viscosity = l.viscosity.extended(glycolHigh, g.centre)
	l.glycolShare = g.moleFraction(massFraction)
	return l, nil
}

// moleFraction returns the mole fraction of glycol in a mixture with water of
// the given mass fraction.
func (g glycolData) moleFraction(massFraction float64) float64 {
	glycol := massFraction / g.molarMass
	return glycol / (glycol + (1-massFraction)/waterMolarMass)
}

// MassFractionOfVolume returns the mass fraction [-] of a mixture made of the
// given volume fraction of glycol, 0…1, the volumes measured apart at 20 °C:
//
//	x = v·ρ_g/(v·ρ_g + (1 − v)·ρ_w)
//
// with ρ_w 998.2 kg/m³, ρ_g 1113 for [KindEthyleneGlycol] and 1036 for
// [KindPropyleneGlycol] (from memory). Half and half by volume is 52.7 % by mass
// of ethylene glycol. Any other kind is an error.
func MassFractionOfVolume(kind string, volumeFraction float64) (float64, error) {
	var g glycolData
	switch kind {
	case KindEthyleneGlycol:
		g = ethylene()
	case KindPropyleneGlycol:
		g = propylene()
	default:
		return 0, fmt.Errorf("kind of glycol %q is not one of %s, %s",
			kind, KindEthyleneGlycol, KindPropyleneGlycol)
	}
	if !(volumeFraction >= 0 && volumeFraction <= 1) {
		return 0, fmt.Errorf("%s: volume fraction %g is outside 0 to 1", g.name, volumeFraction)
	}
	const waterDensity20 = 998.2
	glycol := volumeFraction * g.density20
	return glycol / (glycol + (1-volumeFraction)*waterDensity20), nil
}
