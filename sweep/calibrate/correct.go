package calibrate

import "hotclimb/sim/atmos"

// Rule is a regulation's way to correct temperatures to its hot day.
type Rule int

// The rules. Both add to a temperature the difference between their hot day and the
// air of the test at the altitude where the temperature was highest first.
const (
	// Part23 is 14 CFR 23.1043(b) and (c), Amdt 23-51, 1996, in force to 2017: 100 °F
	// at sea level less 3.6 °F per 1000 ft.
	Part23 Rule = iota
	// CS22 is CS 22.1043 and 22.1047: 38 °C at sea level less 6.5 °C per 1000 m.
	CS22
)

// String names the regulation.
func (r Rule) String() string {
	if r == CS22 {
		return "CS 22.1047"
	}
	return "14 CFR 23.1043"
}

// Day returns the hot day of the rule.
func (r Rule) Day() atmos.Day {
	if r == CS22 {
		return atmos.HotDayCS22()
	}
	return atmos.HotDay()
}

// CorrectByRule returns a fluid's highest temperature [°C] corrected to the hot day
// of a rule:
//
//	t_corr = t_recorded + (t_hot(h) − t_outside)
//
// outside [°C] and the pressure altitude h [m] are those when the highest was first
// reached. Air warmer than the hot day gives a negative correction. The rule moves
// the reading degree for degree, which is too much far from a hot day; see
// [atmos.HotDayCorrection].
func CorrectByRule(recorded, outside, altitude float64, rule Rule) float64 {
	if rule == Part23 {
		return atmos.HotDayCorrection(recorded, outside, altitude)
	}
	return recorded + rule.Day().Temperature(altitude) - outside
}
