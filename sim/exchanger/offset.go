package exchanger

import (
	"fmt"
	"math"

	"hotclimb/sim/fluid"
)

// StripGeometry describes one side of a core with offset strip fins. Lengths
// in m.
type StripGeometry struct {
	Spacing         float64 // s, free width between fins
	Height          float64 // h, free height between plates
	Thickness       float64 // t, of the fin
	Strip           float64 // l, length of one strip along the flow
	Depth           float64 // flow length of the core
	FreeArea        float64 // minimum free flow area [m²]
	FaceArea        float64 // frontal area of the stream [m²]
	FinConductivity float64 // conductivity of the fin metal [W/(m K)]
}

// OffsetStrip is one side of an offset-strip-fin core made ready for use. It
// is both a [Conductance] and a [Drop]. Make one with [NewOffsetStrip].
//
// Source: Manglik & Bergles, Heat transfer and pressure drop correlations for
// the rectangular offset strip fin compact heat exchanger, Experimental Thermal
// and Fluid Science 10 (1995) 171–180, with α = s/h, δ = t/l, γ = t/s and
// Dh = 4shl/[2(sl + hl + th) + ts]:
//
//	j = 0.6522 Re^−0.5403 α^−0.1541 δ^0.1499 γ^−0.0678
//	    [1 + 5.269e-5 Re^1.340 α^0.504 δ^0.456 γ^−1.055]^0.1
//	f = 9.6243 Re^−0.7422 α^−0.1856 δ^0.3053 γ^−0.2659
//	    [1 + 7.669e-8 Re^4.429 α^0.920 δ^3.767 γ^0.236]^0.1
//
// Re on Dh, f Fanning. Valid for 120 < Re < 10⁴ and 0.5 < Pr < 15 within ±20 %
// (from memory); outside the same expressions are carried on. Oil (Pr 100–500)
// is outside: count on ±40 % of hA, or use a [Rating]. The wall-viscosity factor
// (μ/μ_w)^0.14 is left out. Reprints of the paper disagree on the exponent of γ
// in f; −0.2659 is that of the majority.
type OffsetStrip struct {
	liquid          *fluid.Liquid // nil for air
	free, area      float64       // minimum free and total area [m²]
	dh, ratio, ends float64
	j, jBracket     float64
	finShare, fin   float64 // fin area/total area; hm of finEfficiency
	friction        stripFriction
}

// NewOffsetStrip checks the geometry and works out its factors. A nil liquid
// means air.
func NewOffsetStrip(g StripGeometry, liquid *fluid.Liquid) (*OffsetStrip, error) {
	if err := g.check(); err != nil {
		return nil, err
	}
	s, h, t, l := g.Spacing, g.Height, g.Thickness, g.Strip
	alpha, delta, gamma := s/h, t/l, t/s
	wetted := 2*(s*l+h*l+t*h) + t*s // per strip of one passage
	dh := 4 * s * h * l / wetted
	sigma := g.FreeArea / g.FaceArea
	return &OffsetStrip{
		liquid: liquid, free: g.FreeArea, dh: dh, ratio: 4 * g.Depth / dh,
		area: 4 * g.Depth / dh * g.FreeArea, ends: EntryLoss(sigma) + ExitLoss(sigma),
		j:        0.6522 * math.Pow(alpha, -0.1541) * math.Pow(delta, 0.1499) * math.Pow(gamma, -0.0678),
		jBracket: 5.269e-5 * math.Pow(alpha, 0.504) * math.Pow(delta, 0.456) * math.Pow(gamma, -1.055),
		finShare: 1 - 2*s*l/wetted,
		fin:      2 / (g.FinConductivity * t) * (1 + t/l) * h * h / 4,
		friction: stripFriction{
			f:       9.6243 * math.Pow(alpha, -0.1856) * math.Pow(delta, 0.3053) * math.Pow(gamma, -0.2659),
			bracket: 7.669e-8 * math.Pow(alpha, 0.920) * math.Pow(delta, 3.767) * math.Pow(gamma, 0.236),
		},
	}, nil
}

// check refuses a geometry that has no meaning.
func (g StripGeometry) check() error {
	for _, x := range [...]float64{
		g.Spacing, g.Height, g.Thickness, g.Strip, g.Depth, g.FreeArea, g.FaceArea, g.FinConductivity,
	} {
		if !(x > 0) || math.IsInf(x, 1) {
			return fmt.Errorf("offset strip fin: every size must be above 0: %+v", g)
		}
	}
	if g.FreeArea >= g.FaceArea {
		return fmt.Errorf("offset strip fin: free area %g m² is not below face area %g m²", g.FreeArea, g.FaceArea)
	}
	return nil
}

// HydraulicDiameter returns Dh [m].
func (o *OffsetStrip) HydraulicDiameter() float64 { return o.dh }

// FreeArea returns the minimum free flow area [m²].
func (o *OffsetStrip) FreeArea() float64 { return o.free }

// Colburn returns j [-] at re > 0 [-].
func (o *OffsetStrip) Colburn(re float64) float64 {
	return o.j * math.Pow(re, -0.5403) * math.Pow(1+o.jBracket*math.Pow(re, 1.340), 0.1)
}

// Fanning returns f [-] at re > 0 [-].
func (o *OffsetStrip) Fanning(re float64) float64 {
	f, _ := o.friction.at(re)
	return f
}

// At returns hA [W/K], fin efficiency included (fins of half the plate
// distance), at flow [kg/s] and mean temperature t [°C]; 0 at no flow.
func (o *OffsetStrip) At(flow, t float64) float64 {
	if !(flow > 0) {
		return 0
	}
	mu, cp, pr := fluid.AirViscosity(t), fluid.AirHeatCapacity, fluid.AirPrandtl(t)
	if o.liquid != nil {
		mu, cp = o.liquid.Viscosity(t), o.liquid.HeatCapacity(t)
		pr = mu * cp / o.liquid.Conductivity(t)
	}
	g := flow / o.free
	h := o.Colburn(g*o.dh/mu) * g * cp / math.Cbrt(pr*pr)
	return (1 - o.finShare*(1-finEfficiency(h, o.fin))) * h * o.area
}

// Friction implements [Drop]: G²/(2ρ)·[f·4L/Dh + Kc + Ke].
func (o *OffsetStrip) Friction(flow, rho, mu float64) (dp, slope float64) {
	return coreFriction(coreFlow{
		mass: flow, rho: rho, free: o.free, ratio: o.ratio, ends: o.ends,
		re: o.dh / (o.free * mu),
	}, &o.friction)
}

// stripFriction is f = f0·Re^−0.7422·(1 + bracket·Re^4.429)^0.1.
type stripFriction struct{ f, bracket float64 }

func (s *stripFriction) at(re float64) (f, exponent float64) {
	b := s.bracket * math.Pow(re, 4.429)
	return s.f * math.Pow(re, -0.7422) * math.Pow(1+b, 0.1), -0.7422 + 0.4429*b/(1+b)
}
