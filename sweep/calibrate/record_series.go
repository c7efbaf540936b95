package calibrate

import "sort"

// series is a quantity over time: straight between its readings, held beyond
// them. The zero value has no reading.
type series struct {
	t, v []float64 // times rise [s]
	area []float64 // under the line from the first time on
}

// add appends a reading; its time must be behind the last.
func (s *series) add(t, v float64) {
	area := 0.0
	if n := len(s.t); n > 0 {
		area = s.area[n-1] + (t-s.t[n-1])*(v+s.v[n-1])/2
	}
	s.t, s.v, s.area = append(s.t, t), append(s.v, v), append(s.area, area)
}

func (s *series) known() bool { return len(s.t) > 0 }

// at is the value at a time.
func (s *series) at(t float64) float64 {
	n := len(s.t)
	i := sort.SearchFloat64s(s.t, t)
	switch i {
	case 0:
		return s.v[0]
	case n:
		return s.v[n-1]
	}
	return s.v[i-1] + (s.v[i]-s.v[i-1])*(t-s.t[i-1])/(s.t[i]-s.t[i-1])
}

// mean is the mean between two times, a before b.
func (s *series) mean(a, b float64) float64 {
	return (s.areaTo(b) - s.areaTo(a)) / (b - a)
}

// areaTo is the area under the line up to a time, negative before the first.
func (s *series) areaTo(t float64) float64 {
	n := len(s.t)
	i := sort.SearchFloat64s(s.t, t)
	switch i {
	case 0:
		return (t - s.t[0]) * s.v[0]
	case n:
		return s.area[n-1] + (t-s.t[n-1])*s.v[n-1]
	}
	return s.area[i-1] + (t-s.t[i-1])*(s.v[i-1]+s.at(t))/2
}
