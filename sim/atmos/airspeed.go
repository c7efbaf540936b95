package atmos

import "math"

// ImpactPressure returns q_c = p_total − p [Pa] that an airspeed indicator shows
// as the calibrated airspeed V_c [m/s]:
//
//	q_c = 101325·[(1 + 0.2·(V_c/340.294)²)^3.5 − 1]
//
// Isentropic flow of air, below the speed of sound. A negative speed counts as 0.
func ImpactPressure(cas float64) float64 {
	m := max(cas, 0) / SeaLevelSpeedOfSound
	return SeaLevelPressure * math.Expm1(3.5*math.Log1p(0.2*m*m))
}

// CalibratedToTrue returns the true airspeed V [m/s] at the calibrated airspeed
// [m/s] in the air s:
//
//	V = a·√(5·[(q_c/p + 1)^(2/7) − 1])
//
// with q_c of [ImpactPressure]. Below the speed of sound. A negative speed counts
// as 0; so does any in a State without pressure.
func CalibratedToTrue(cas float64, s State) float64 {
	if !(s.Pressure > 0) {
		return 0
	}
	x := math.Log1p(ImpactPressure(cas) / s.Pressure)
	return s.SpeedOfSound * math.Sqrt(5*math.Expm1(x/3.5))
}

// TrueToCalibrated returns the calibrated airspeed [m/s] at the true airspeed V
// [m/s] in the air s, the inverse of [CalibratedToTrue].
func TrueToCalibrated(tas float64, s State) float64 {
	if !(s.SpeedOfSound > 0) {
		return 0
	}
	m := max(tas, 0) / s.SpeedOfSound
	qc := s.Pressure * math.Expm1(3.5*math.Log1p(0.2*m*m))
	return SeaLevelSpeedOfSound * math.Sqrt(5*math.Expm1(math.Log1p(qc/SeaLevelPressure)/3.5))
}

// EquivalentToTrue returns the true airspeed V [m/s] at the equivalent airspeed
// V_e [m/s] in the air s:
//
//	V = V_e/√(ρ/1.225)
//
// A definition. 0 in a State without density.
func EquivalentToTrue(eas float64, s State) float64 {
	if !(s.Density > 0) {
		return 0
	}
	return eas * math.Sqrt(SeaLevelDensity/s.Density)
}
