package optimum

import (
	"context"
	"math"
	"slices"
)

// SlowClimb is the slowest climb speed that is safe for the cooling on the day
// of the file, without spray: that speed and every faster one looked at keep
// the limits.
type SlowClimb struct {
	Elevation   float64 // of the field [m]
	Temperature float64 // at the field: the air of the day as filed [°C]
	Speed       float64 // [m/s]; an end of what was looked at when Bound is not SlowestFound, NaN for none
	Fastest     float64 // of the speeds looked at at which the aircraft climbs to the top [m/s]; NaN when there is none
	Bound       SpeedBound
	By          string // what limits slower climbs: coolant, oil, boiling or climb; "" when nothing does
}

// SpeedBound says whether a slowest speed was found.
type SpeedBound string

// What a search for a slowest speed comes to.
const (
	SlowestFound SpeedBound = "found"
	SlowestAny   SpeedBound = "any"  // all speeds looked at are safe
	SlowestNone  SpeedBound = "none" // even Fastest is not, or there is none
)

// speedTolerance is how near a slowest speed is found [m/s].
const speedTolerance = 0.02

// slowest scans the speeds from the fastest at which the aircraft climbs to the
// top down to the first that is not safe, for margins need not rise with speed,
// and narrows the edge.
func (p *limitPlan) slowest(ctx context.Context, t *LimitTable, s *SlowClimb) error {
	s.Temperature = p.fieldTemperature(s.Elevation)
	why := map[float64]string{}
	margin := func(speed float64) (float64, error) {
		v, err := p.flySlow(ctx, t, condition{speed: speed, elevation: s.Elevation, asFiled: true})
		why[speed] = v.reason()
		return v.score(), err
	}
	var e edge
	s.Fastest = math.NaN()
	for _, speed := range slices.Backward(between(p.speeds)) {
		m, err := margin(speed)
		switch {
		case err != nil:
			return err
		case math.IsNaN(m) && !e.hasGood:
			continue
		case math.IsNaN(s.Fastest):
			s.Fastest = speed
		}
		if e.take(probe{speed, m}); e.hasBad {
			break
		}
	}
	switch {
	case math.IsNaN(s.Fastest):
		s.Speed, s.Bound, s.By = math.NaN(), SlowestNone, ByClimb
		return nil
	case !e.hasGood:
		s.Speed, s.Bound, s.By = s.Fastest, SlowestNone, why[s.Fastest]
		return nil
	case !e.hasBad:
		s.Speed, s.Bound = e.good.x, SlowestAny
		return nil
	}
	e, err := refine(e, speedTolerance, margin)
	s.Speed, s.Bound, s.By = e.good.x, SlowestFound, why[e.bad.x]
	return err
}

// between adds the middle of each pair of neighbours.
func between(speeds []float64) []float64 {
	var list []float64
	for i, s := range speeds {
		if i > 0 {
			list = append(list, 0.5*(speeds[i-1]+s))
		}
		list = append(list, s)
	}
	return list
}
