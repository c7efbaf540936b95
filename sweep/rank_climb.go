package sweep

import (
	"context"
	"math"
	"slices"

	"hotclimb/scenarios"
	"hotclimb/sim"
)

// Climb is what cooling costs in the climb of a flight: means over time of its
// legs of the kinds take_off and climb, or of all legs when it has none.
//
// A change may move the moment of the least margin to another speed and
// height, where drag and climb differ for that reason alone. The means do not
// depend on that moment.
type Climb struct {
	Drag      float64 // cooling drag [N]
	DragPower float64 // cooling drag times true airspeed [W]
	Rate      float64 // rate of climb [m/s]
}

// climbSample is the interval of the samples that the means are taken from [s].
const climbSample = 5.0

// flyClimb flies an effective scenario.
func flyClimb(ctx context.Context, sc *scenarios.Scenario) (Flown, error) {
	r, err := Fly(ctx, sc, sim.Settings{Sample: climbSample})
	if err != nil {
		return Flown{}, err
	}
	return Flown{OutcomeOf(r), climbOf(r, climbLegs(sc))}, nil
}

// climbLegs names the legs that climb, or all when none does.
func climbLegs(sc *scenarios.Scenario) []string {
	var climbing, all []string
	for _, leg := range sc.Flight.Legs {
		all = append(all, leg.Name)
		if leg.Kind == "take_off" || leg.Kind == "climb" {
			climbing = append(climbing, leg.Name)
		}
	}
	if climbing != nil {
		return climbing
	}
	return all
}

// climbOf takes the means over some legs of a sampled flight.
func climbOf(r *sim.Result, legs []string) Climb {
	value := func(channel string) []float64 { return r.Trajectory.Find(channel).Values }
	t, drag, speed, rate := value("time_s"), value("cooling_drag_N"), value("true_airspeed_m_s"), value("rate_of_climb_m_s")
	var sum Climb
	total := 0.0
	for _, leg := range r.Legs {
		if !slices.Contains(legs, leg.Name) {
			continue
		}
		// Samples at the ends of a leg may belong to the next one.
		first, end := samplesInside(t, leg.Start, leg.End)
		if end == first {
			continue
		}
		span := leg.End - leg.Start
		total += span
		sum.Drag += span * timeMean(t[first:end], func(i int) float64 { return drag[first+i] })
		sum.DragPower += span * timeMean(t[first:end], func(i int) float64 { return drag[first+i] * math.Max(0, speed[first+i]) })
		sum.Rate += span * timeMean(t[first:end], func(i int) float64 { return rate[first+i] })
	}
	if total == 0 {
		return Climb{}
	}
	return Climb{sum.Drag / total, sum.DragPower / total, sum.Rate / total}
}

// samplesInside finds the samples after start and before end.
func samplesInside(t []float64, start, end float64) (first, behind int) {
	first, found := slices.BinarySearch(t, start)
	if found {
		first++
	}
	behind, _ = slices.BinarySearch(t, end)
	return first, max(first, behind)
}

// timeMean is the mean over time of samples, by the trapezoidal rule.
func timeMean(t []float64, y func(int) float64) float64 {
	last := len(t) - 1
	if last == 0 {
		return y(0)
	}
	area := 0.0
	for i := range last {
		area += (t[i+1] - t[i]) * (y(i) + y(i+1)) / 2
	}
	return area / (t[last] - t[0])
}
