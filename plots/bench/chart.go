package bench

import (
	"math"

	"hotclimb/plots"
	"hotclimb/sim"
)

// chart is the time history of both temperatures at their sensors.
type chart struct {
	curves
	Unit     string             `json:"unit"`
	Limits   map[string]float64 `json:"limits"` // by circuit: coolant, oil
	Cautions map[string]float64 `json:"cautions"`
	Legs     []chartLeg         `json:"legs"`
	Pinned   *curves            `json:"pinned"` // of the pinned state, null for none
}

// curves are both temperatures over time.
type curves struct {
	Time    []float64 `json:"time"` // [min]
	Coolant []float64 `json:"coolant"`
	Oil     []float64 `json:"oil"`
}

// chartLeg is the time a leg took [min].
type chartLeg struct {
	Name  string  `json:"name"`
	Start float64 `json:"start"`
	End   float64 `json:"end"`
}

const secondsPerMinute = 60

// chartOf gives the history of a case, nil when it has none.
func chartOf(now, pinned *flownState, shown int) *chart {
	r := now.flown[shown].result
	own := curvesOf(r, now.units)
	if own == nil {
		return nil
	}
	t := plots.Temperature.In(now.units)
	c := &chart{curves: *own, Unit: t.Name, Limits: map[string]float64{}, Cautions: map[string]float64{}, Legs: []chartLeg{}}
	for i, name := range []string{"coolant", "oil"} {
		c.Limits[name], c.Cautions[name] = hundredths(t.Of(r.Peaks[i].Limit)), hundredths(t.Of(r.Peaks[i].Caution))
	}
	for _, leg := range r.Legs {
		c.Legs = append(c.Legs, chartLeg{leg.Name, minutes(leg.Start), minutes(leg.End)})
	}
	if pinned != nil {
		c.Pinned = curvesOf(pinned.flown[shown].result, now.units)
	}
	return c
}

// curvesOf are those of a result, nil without a history.
func curvesOf(r *sim.Result, u plots.Units) *curves {
	if r == nil || r.Trajectory == nil {
		return nil
	}
	t := plots.Temperature.In(u)
	each := func(name string, show func(float64) float64) []float64 {
		channel := r.Trajectory.Find(name)
		if channel == nil {
			return []float64{}
		}
		list := make([]float64, len(channel.Values))
		for i, x := range channel.Values {
			list[i] = show(x)
		}
		return list
	}
	warm := func(x float64) float64 { return hundredths(t.Of(x)) }
	return &curves{
		each("time_s", minutes),
		each(r.Peaks[0].Channel+"_degC", warm),
		each(r.Peaks[1].Channel+"_degC", warm),
	}
}

// hundredths rounds what is only drawn.
func hundredths(x float64) float64 { return math.Round(x*100) / 100 }

// minutes are those of a time [s], rounded to less than a tenth of a second.
func minutes(seconds float64) float64 { return math.Round(seconds/secondsPerMinute*1e4) / 1e4 }
