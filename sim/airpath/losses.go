package airpath

import "math"

// The losses of this file are total-pressure losses over the dynamic pressure
// upstream, K [-], as [Inlet.DuctLoss] wants them. Handbooks disagree on
// diffusers by some 25 %.

// SuddenExpansion returns the loss K = (1 − a)² of a dump into a plenum, where
// a is the area upstream over that downstream.
//
// Source: Borda–Carnot momentum balance. Exact for uniform flow; a is taken
// within 0 … 1, and K = 1 at a = 0.
func SuddenExpansion(a float64) float64 {
	a = min(max(a, 0), 1)
	return (1 - a) * (1 - a)
}

// AngleOfLength returns the full included angle [rad] of a straight diffuser
// of a length [m] between two areas [m²], by round sections of equal area:
//
//	tan(α/2) = (√(A2/π) − √(A1/π)) / L
//
// It is π, a dump, at no length, and 0 where the duct does not widen.
func AngleOfLength(length, area1, area2 float64) float64 {
	wider := math.Sqrt(max(0, area2)/math.Pi) - math.Sqrt(max(0, area1)/math.Pi)
	if wider <= 0 {
		return 0
	}
	return 2 * math.Atan2(wider, max(0, length))
}

// RennelsDiffuser returns the loss of a conical diffuser of area ratio
// a = β² and full angle α [rad] with Darcy friction factor f:
//
//	α ≤ 20°:          8.30·tan(α/2)^1.75·(1 − β²)² + F
//	20° … 60°:        {1.366·√sin[2(α − 15°)] − 0.170 − [β < 0.5: 3.28·(0.0625 − β⁴)·√((α − 20°)/40°)]}·(1 − β²)² + F
//	above, β ≥ 0.5:   [1.205 − 0.20·√((α − 60°)/120°)]·(1 − β²)²
//	above, β < 0.5:   [1.205 − 3.28·(0.0625 − β⁴) − 12.8·β⁶·√((α − 60°)/120°)]·(1 − β²)²
//
// with the friction of the cone F = f·(1 − β⁴)/(8·sin(α/2)).
//
// Source: D. C. Rennels, H. M. Hudson, Pipe Flow, 2012. Valid for
// 0 ≤ a ≤ 1 and 0 < α ≤ π, both clamped; 0 at no angle, where a cone is an
// infinitely long pipe and its friction no longer belongs to it.
func RennelsDiffuser(a, angle, friction float64) float64 {
	a, angle = min(max(a, 0), 1), min(max(angle, 0), math.Pi)
	if angle == 0 {
		return 0
	}
	deg, dump := angle*180/math.Pi, SuddenExpansion(a)
	cone := friction * (1 - a*a) / (8 * math.Sin(angle/2))
	narrow := 3.28 * (0.0625 - a*a) // of β < 0.5
	if a >= 0.25 {
		narrow = 0
	}
	switch wide := math.Sqrt(max(0, deg-60) / 120); {
	case deg <= 20:
		return 8.30*math.Pow(math.Tan(angle/2), 1.75)*dump + cone
	case deg <= 60:
		stall := 1.366*math.Sqrt(math.Sin(2*(angle-math.Pi/12))) - 0.170
		return (stall-narrow*math.Sqrt((deg-20)/40))*dump + cone
	case a >= 0.25:
		return (1.205 - 0.20*wide) * dump
	default:
		return (1.205 - narrow - 12.8*a*a*a*wide) * dump
	}
}
