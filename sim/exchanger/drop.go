package exchanger

import (
	"errors"
	"fmt"
	"math"
)

// Drop is the isothermal air resistance of a core: friction and end losses
// dp [Pa], and slope = d(dp)/d(flow) [Pa s/kg], at a mass flow ≥ 0 [kg/s], a
// density rho [kg/m³] and a viscosity mu [Pa s]. A flow below 0 counts as 0.
// The slope is never negative.
type Drop interface {
	Friction(flow, rho, mu float64) (dp, slope float64)
}

var _, _, _, _ Drop = Bench{}, PowerLaw{}, (*LouveredFin)(nil), (*OffsetStrip)(nil)

// Bench is the two-term law of a core measured on a flow bench,
//
//	Δp = A·μ·V + B·ρ·V²,  V = ṁ/(ρ·Area)
//
// with V the face speed: a viscous term that scales with μ and an inertial one
// that scales with ρ.
type Bench struct {
	A    float64 // viscous coefficient [1/m]
	B    float64 // inertial coefficient [-]
	Area float64 // face area [m²]
}

// Friction implements [Drop]. At rest the slope is A·μ/(ρ·Area).
func (b Bench) Friction(flow, rho, mu float64) (dp, slope float64) {
	dv := 1 / (rho * b.Area) // dV/dṁ
	v := math.Max(0, flow) * dv
	return (b.A*mu + b.B*rho*v) * v, (b.A*mu + 2*b.B*rho*v) * dv
}

// BenchPoint is one reading on the flow bench.
type BenchPoint struct {
	Speed float64 // face speed [m/s]
	Drop  float64 // pressure drop [Pa]
}

// BenchFrom fits a [Bench] of face area area [m²] to readings taken at density
// rho [kg/m³] and viscosity mu [Pa s]. It is the least-squares fit with A, B ≥ 0:
// two points are met exactly unless they rise faster than V² or slower than V,
// where the nearer pure law is returned.
//
// Errors: fewer than two different speeds, or a value that is not above 0.
func BenchFrom(points []BenchPoint, rho, mu, area float64) (Bench, error) {
	if !(rho > 0 && mu > 0 && area > 0) {
		return Bench{}, fmt.Errorf("bench: density %g, viscosity %g and face area %g must be above 0", rho, mu, area)
	}
	var s moments
	varied := false
	for i, p := range points {
		if !(p.Speed > 0 && p.Drop > 0) {
			return Bench{}, fmt.Errorf("bench point %d: speed %g and drop %g must be above 0", i+1, p.Speed, p.Drop)
		}
		varied = varied || p.Speed != points[0].Speed
		s.add(p)
	}
	if !varied {
		return Bench{}, errors.New("bench: at least two points at different speeds are needed")
	}
	x, y := s.solve()
	return Bench{A: x / mu, B: y / rho, Area: area}, nil
}

// moments are the sums of the normal equations of Δp = x·V + y·V².
type moments struct{ v2, v3, v4, vp, v2p float64 }

func (s *moments) add(p BenchPoint) {
	v := p.Speed
	s.v2 += v * v
	s.v3 += v * v * v
	s.v4 += v * v * v * v
	s.vp += v * p.Drop
	s.v2p += v * v * p.Drop
}

// solve returns the least-squares x, y ≥ 0. With positive drops at most one of
// the two can come out negative; the best fit then has it at zero.
func (s *moments) solve() (x, y float64) {
	det := s.v2*s.v4 - s.v3*s.v3
	x = (s.vp*s.v4 - s.v2p*s.v3) / det
	y = (s.v2p*s.v2 - s.vp*s.v3) / det
	switch {
	case x < 0:
		return 0, s.v2p / s.v4
	case y < 0:
		return s.vp / s.v2, 0
	}
	return x, y
}

// PowerLaw is the network form of a core resistance,
//
//	ρ·Δp/(Density·Drop) = (ṁ/Flow)^Exponent
//
// with an exponent of 1.5–1.8 for plain or louvered cores and near 2 for
// blocked ones (from memory). At rest the slope is 0 when Exponent > 1.
type PowerLaw struct {
	Drop     float64 // pressure drop at the rated point [Pa]
	Flow     float64 // rated mass flow [kg/s]
	Exponent float64 // n ≥ 1 [-]
	Density  float64 // density at the rated point [kg/m³]
}

// Friction implements [Drop]; the viscosity is ignored.
func (p PowerLaw) Friction(flow, rho, _ float64) (dp, slope float64) {
	x := math.Max(0, flow) / p.Flow
	scale := p.Drop * p.Density / rho
	s := scale * power(x, p.Exponent-1)
	return s * x, s * p.Exponent / p.Flow
}
