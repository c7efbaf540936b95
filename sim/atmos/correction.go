package atmos

// barrelShare is the part of the difference in ambient that cylinder barrels
// follow. Source: 14 CFR 23.1043(d) (from memory; 25.1043 has the same wording).
const barrelShare = 0.7

// HotDayCorrection returns the temperature [°C] of a fluid or component recorded
// on the day of a test, corrected to the hot day:
//
//	t_corr = t_recorded + (t_hot(h) − t_ambient)
//
// recorded is the highest temperature, ambient [°C] and altitude [m] those when it
// was first reached; t_hot is [HotDay]. Air warmer than the hot day gives a
// negative correction. Source: 14 CFR 23.1043(c), Amdt 23-51. The rule moves the
// reading degree for degree, which over-corrects far from a hot day: see it
// beside a simulation of that day. Cylinder barrels have
// [HotDayBarrelCorrection].
func HotDayCorrection(recorded, ambient, altitude float64) float64 {
	return recorded + HotDay().Temperature(altitude) - ambient
}

// HotDayBarrelCorrection is [HotDayCorrection] for cylinder barrels, which take
// 0.7 of the difference:
//
//	t_corr = t_recorded + 0.7·(t_hot(h) − t_ambient)
//
// Source: 14 CFR 23.1043(d), Amdt 23-51.
func HotDayBarrelCorrection(recorded, ambient, altitude float64) float64 {
	return recorded + barrelShare*(HotDay().Temperature(altitude)-ambient)
}
