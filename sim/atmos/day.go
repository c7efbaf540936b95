package atmos

// Day is the temperature of the air against altitude:
//
//	t(h) = max(SeaLevelTemperature − LapseRate·h, Floor)
//
// A Day is made by [Standard], [Offset], [AtField], [HotDay] or [HotDayCS22], or
// written out for anything else of this form.
type Day struct {
	SeaLevelTemperature float64 // t at h = 0 [°C]
	LapseRate           float64 // fall of t with height [K/m]
	Floor               float64 // lowest t [°C]
}

const coldest = -150.0 // °C, the least a day may have

// Temperature returns t [°C] of the day at the pressure altitude h [m]. h is
// limited to −500…20 000 m and t to −150 °C and above.
func (d Day) Temperature(altitude float64) float64 {
	return d.temperature(bounded(altitude))
}

// temperature is [Day.Temperature] for h within its limits.
func (d Day) temperature(h float64) float64 {
	return max(d.SeaLevelTemperature-d.LapseRate*h, d.Floor, coldest)
}

// Standard returns the standard day: 15 °C at sea level, less 6.5 K per 1000 m to
// 11 000 m, then −56.5 °C. Source: U.S. Standard Atmosphere 1976.
func Standard() Day { return Offset(0) }

// Offset returns a day dT [K] warmer than standard at every altitude.
func Offset(dT float64) Day {
	return Day{
		SeaLevelTemperature: standardKelvin - zeroCelsius + dT,
		LapseRate:           standardLapse,
		Floor:               stratoKelvin - zeroCelsius + dT,
	}
}

// AtField returns the standard day shifted so that the air has the given
// temperature [°C] at the given elevation [m], taken as pressure altitude and
// limited to −500…20 000 m.
func AtField(elevation, temperature float64) Day {
	return Offset(temperature - Standard().Temperature(elevation))
}

// HotDay returns the hot day of Part 23: 100 °F at sea level less 3.6 °F per 1000
// ft down to −69.7 °F (−56.5 °C, at 14 368 m), then constant; continued upward in
// temperature below sea level. Source: 14 CFR 23.1043(b), Amdt 23-51.
func HotDay() Day {
	return Day{
		SeaLevelTemperature: (100 - 32) / 1.8,
		LapseRate:           3.6 / 1.8 / 304.8,
		Floor:               (-69.7 - 32) / 1.8,
	}
}

// HotDayCS22 returns the hot day of sailplanes and powered sailplanes: 38 °C at
// sea level less 6.5 K per 1000 m (source: CS 22.1043); constant above 11 000 m,
// of which the rule says nothing.
func HotDayCS22() Day {
	return Day{
		SeaLevelTemperature: 38,
		LapseRate:           standardLapse,
		Floor:               38 - standardLapse*tropopause,
	}
}
