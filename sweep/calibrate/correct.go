package calibrate

import (
	"fmt"
	"math"

	"hotclimb/sim/atmos"
)

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

// Peak is the highest temperature of a fluid in a record, where it was first
// reached.
type Peak struct {
	Quantity    Quantity
	Row         int
	Time        float64 // since the start of the record [s]
	Temperature float64 // °C
	Altitude    float64 // pressure altitude [m]
	Outside     float64 // °C
}

// nearby is how far in time [s] a reading of altitude or outside air may be from
// the peak it belongs to: at 5 m/s of climb, 50 m or 0.3 K (engineering judgement).
const nearby = 10

// FirstPeak finds the first occurrence of the highest reading of q, which is
// Coolant or Oil, in rows first to before end. Altitude and outside air are those
// of that row, or the nearest within 10 s. Noise makes the highest reading higher
// than the highest temperature, by 2.5 standard deviations on average when a hundred
// readings are of one temperature.
func (l *Log) FirstPeak(q Quantity, first, end int) (Peak, error) {
	if !l.Has(q) || q != Coolant && q != Oil {
		return Peak{}, fmt.Errorf("the record has no temperature of a fluid called %s", q)
	}
	if first < 0 || end > l.Len() || first >= end {
		return Peak{}, fmt.Errorf("there are no rows from %d to %d", first, end)
	}
	p := Peak{Quantity: q, Row: -1, Temperature: math.Inf(-1)}
	for i := first; i < end; i++ {
		if v, ok := l.Value(q, i); ok && v > p.Temperature {
			p.Row, p.Temperature = i, v
		}
	}
	if p.Row < 0 {
		return Peak{}, fmt.Errorf("%s has no reading there", q)
	}
	p.Time = l.Time(p.Row)
	var known, air bool
	p.Altitude, known = l.nearest(altitude, p.Row)
	p.Outside, air = l.nearest(outside, p.Row)
	if !known || !air {
		return Peak{}, fmt.Errorf("line %d: altitude and outside air are not known when %s is highest", l.Line(p.Row), q)
	}
	return p, nil
}

// nearest is the reading of a channel in row i, or the nearest in time within
// nearby, the earlier of two as near.
func (l *Log) nearest(k, i int) (float64, bool) {
	if l.values[k] == nil {
		return 0, false
	}
	for low, high := i, i; low >= 0 || high < l.Len(); {
		before, after := l.away(i, low), l.away(i, high)
		if min(before, after) > nearby {
			break
		}
		at := low
		if before <= after {
			low--
		} else {
			at = high
			high++
		}
		if v, ok := l.at(k, at); ok {
			return v, true
		}
	}
	return 0, false
}

// away is how far in time rows i and j are apart; infinite when there is no row j.
func (l *Log) away(i, j int) float64 {
	if j < 0 || j >= l.Len() {
		return math.Inf(1)
	}
	return math.Abs(l.times[i] - l.times[j])
}

// ByRule returns the peak corrected to the hot day of a rule [°C].
func (p Peak) ByRule(rule Rule) float64 {
	return CorrectByRule(p.Temperature, p.Outside, p.Altitude, rule)
}
