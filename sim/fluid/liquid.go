package fluid

import (
	"fmt"
	"math"
)

// series is a polynomial of degree five: Σ c[i]·s^i.
type series [6]float64

// at evaluates the polynomial in pairs, which keeps the chain of dependent
// multiplications short.
func (c *series) at(s float64) float64 {
	s2 := s * s
	return (c[0] + c[1]*s) + s2*((c[2]+c[3]*s)+s2*(c[4]+c[5]*s))
}

// slope returns the derivative of the polynomial at s.
func (c *series) slope(s float64) float64 {
	return c[1] + s*(2*c[2]+s*(3*c[3]+s*(4*c[4]+s*5*c[5])))
}

// Liquid is a coolant or oil of fixed composition. Its methods take t [°C], do
// not allocate and may be called from several goroutines at once; none of them
// changes it.
//
// Outside its evaluation span (named by each constructor, wider than
// [Liquid.Range]) a property keeps its value at the nearer end.
//
// A Liquid comes from a constructor of this package; the zero value has all
// properties zero.
type Liquid struct {
	name string

	low, high         float64 // °C, span of the data
	coldest, hottest  float64 // °C, evaluation span
	freezing          float64 // °C
	freezes           bool
	boils             bool
	glycolShare       float64 // mole fraction of glycol
	vapour            clausiusClapeyron
	centre            float64 // °C, the temperature the series count from
	density, capacity series  // kg/m³, J/(kg K)
	conductivity      series  // W/(m K)
	viscosity         viscosity
}

// Name says what the liquid is, for messages and charts.
func (l *Liquid) Name() string { return l.name }

// Range returns the temperatures lo and hi [°C] between which the data behind
// the properties lie. Beyond them the properties are extrapolated.
func (l *Liquid) Range() (lo, hi float64) { return l.low, l.high }

// FreezingPoint returns the temperature t [°C] at which the first ice crystals
// form. ok is false for a liquid without one: oils, constant properties.
func (l *Liquid) FreezingPoint() (t float64, ok bool) { return l.freezing, l.freezes }

// bounded moves t [°C] into the evaluation span.
func (l *Liquid) bounded(t float64) float64 { return min(max(t, l.coldest), l.hottest) }

// Density returns ρ [kg/m³] at t [°C].
func (l *Liquid) Density(t float64) float64 { return l.density.at(l.bounded(t) - l.centre) }

// HeatCapacity returns the specific heat cp [J/(kg K)] at t [°C].
func (l *Liquid) HeatCapacity(t float64) float64 { return l.capacity.at(l.bounded(t) - l.centre) }

// Conductivity returns the thermal conductivity k [W/(m K)] at t [°C].
func (l *Liquid) Conductivity(t float64) float64 {
	return l.conductivity.at(l.bounded(t) - l.centre)
}

// Viscosity returns the dynamic viscosity µ [Pa s] at t [°C].
func (l *Liquid) Viscosity(t float64) float64 {
	t = l.bounded(t)
	switch l.viscosity.law {
	case waltherLaw:
		return l.viscosity.walther(t) * l.density.at(t-l.centre)
	case tableLaw:
		return l.viscosity.interpolated(t)
	default:
		return l.viscosity.exponential(t, l.centre)
	}
}

// Prandtl returns the Prandtl number Pr = cp·µ/k [-] at t [°C]; 0 for the zero
// Liquid.
func (l *Liquid) Prandtl(t float64) float64 {
	k := l.Conductivity(t)
	if k == 0 {
		return 0
	}
	return l.HeatCapacity(t) * l.Viscosity(t) / k
}

// Properties are the four numbers of a liquid whose properties do not change
// with temperature.
type Properties struct {
	Density      float64 // ρ [kg/m³]
	HeatCapacity float64 // cp [J/(kg K)]
	Conductivity float64 // k [W/(m K)]
	Viscosity    float64 // µ [Pa s]
}

// Constant returns a liquid with the same properties at every temperature, for
// hand-checked cases and for liquids known at one temperature only. All four
// must be positive and finite. It has no freezing or boiling point, and its
// range is −273.15…1000 °C.
func Constant(name string, p Properties) (*Liquid, error) {
	for _, q := range []struct {
		name  string
		value float64
	}{
		{"density", p.Density}, {"heat capacity", p.HeatCapacity},
		{"conductivity", p.Conductivity}, {"viscosity", p.Viscosity},
	} {
		if !(q.value > 0) || math.IsInf(q.value, 0) {
			return nil, fmt.Errorf("liquid %q: %s is %g, want a positive number", name, q.name, q.value)
		}
	}
	return &Liquid{
		name: name,
		low:  -zeroCelsius, high: 1000,
		coldest: -zeroCelsius, hottest: 1000,
		density:      series{p.Density},
		capacity:     series{p.HeatCapacity},
		conductivity: series{p.Conductivity},
		viscosity:    viscosity{scale: p.Viscosity, join: 1000},
	}, nil
}
