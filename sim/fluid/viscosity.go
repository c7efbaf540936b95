package fluid

import "math"

type viscosityLaw int

const (
	exponentialLaw viscosityLaw = iota
	waltherLaw
	tableLaw
)

// viscosity holds one of three laws of viscosity against temperature. Glycols
// and water take a series in ln µ, graded oils the straight line of ASTM D341,
// the tabulated oil its table.
type viscosity struct {
	law viscosityLaw

	scale float64 // Pa s, unit of the series
	ln    series  // ln(µ/scale)
	join  float64 // °C, above it ln µ goes on as a line in 1/T
	lnEnd float64 // ln(µ/scale) at join
	slope float64 // K, B of ln µ = ln µ_join + B(1/T − 1/T_join)

	a, b float64 // of ASTM D341

	t, lnMu []float64 // °C, ln Pa s: rising temperatures
}

// exponential returns µ [Pa s] from the series in ln µ. Above join it follows
// Andrade's line with the slope of the series there: a polynomial turns down
// beyond its data, and this one would soon run below water.
func (v *viscosity) exponential(t, centre float64) float64 {
	if t <= v.join {
		return v.scale * math.Exp(v.ln.at(t-centre))
	}
	x := 1/(t+zeroCelsius) - 1/(v.join+zeroCelsius)
	return v.scale * math.Exp(v.lnEnd+v.slope*x)
}

// extended returns v with the line above join [°C] prepared.
func (v viscosity) extended(join, centre float64) viscosity {
	T := join + zeroCelsius
	v.join = join
	v.lnEnd = v.ln.at(join - centre)
	v.slope = -v.ln.slope(join-centre) * T * T
	return v
}

// walther returns the kinematic viscosity ν [m²/s] at t [°C]:
//
//	log10 log10(ν + 0.7) = A − B·log10 T,  ν in mm²/s, T in K
//
// Source: ASTM D341 (from memory).
func (v *viscosity) walther(t float64) float64 {
	inner := math.Exp(math.Ln10*v.a - v.b*math.Log(t+zeroCelsius))
	return (math.Exp(math.Ln10*inner) - 0.7) * 1e-6
}

// waltherLine returns A and B of ASTM D341 through ν40 and ν100 [mm²/s], the
// kinematic viscosities at 40 and 100 °C.
func waltherLine(nu40, nu100 float64) viscosity {
	y40 := math.Log10(math.Log10(nu40 + 0.7))
	y100 := math.Log10(math.Log10(nu100 + 0.7))
	x40, x100 := math.Log10(40+zeroCelsius), math.Log10(100+zeroCelsius)
	b := (y40 - y100) / (x100 - x40)
	return viscosity{law: waltherLaw, a: y40 + b*x40, b: b}
}

// interpolated returns µ [Pa s] linear in ln µ between the rows of the table, t
// within it.
func (v *viscosity) interpolated(t float64) float64 {
	i := 1
	for i < len(v.t)-1 && t > v.t[i] {
		i++
	}
	f := (t - v.t[i-1]) / (v.t[i] - v.t[i-1])
	return math.Exp(v.lnMu[i-1] + f*(v.lnMu[i]-v.lnMu[i-1]))
}
