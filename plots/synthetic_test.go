package plots_test

import (
	"math"
	"slices"

	"hotclimb/sim"
)

// flown is a made-up run by closed formulas: lags towards levels, no physics.
type flown struct {
	every  float64 // interval of the samples [s]
	legs   []sim.LegSpan
	events []sim.Event

	coolant, oil     func(t float64) float64 // at the sensors [°C]
	coolantDrop      float64                 // coolant in below coolant out [K]
	oilDrop          float64
	caution, limit   [2]float64 // coolant, oil [°C]
	altitude, flow   func(t float64) float64
	boilAtSea        float64 // [°C]
	exchangers       []sim.ExchangerState
	sensor           [2]string
	sensorOfOtherLeg [2]string
}

// lag is a first-order rise from one level to another from time t0 on.
func lag(t, t0, from, to, tau float64) float64 {
	if t < t0 {
		return from
	}
	return to + (from-to)*math.Exp(-(t-t0)/tau)
}

func (f flown) end() float64 { return f.legs[len(f.legs)-1].End }

// result samples the run and reads its peaks off the formulas.
func (f flown) result() *sim.Result {
	res := &sim.Result{Status: sim.WithinLimits, Legs: slices.Clone(f.legs), Events: slices.Clone(f.events), Exchangers: slices.Clone(f.exchangers)}
	for i, of := range []func(float64) float64{f.coolant, f.oil} {
		res.Peaks = append(res.Peaks, f.peak(i, of))
	}
	var times []float64
	for t := 0.0; t <= f.end()+1e-9; t += f.every {
		times = append(times, t)
	}
	add := func(name, unit string, of func(float64) float64) {
		c := sim.Channel{Name: name, Unit: unit}
		for _, t := range times {
			c.Values = append(c.Values, of(t))
		}
		res.Trajectory.Channels = append(res.Trajectory.Channels, c)
	}
	res.Trajectory = &sim.Trajectory{}
	add("time_s", "s", func(t float64) float64 { return t })
	add("altitude_m", "m", f.altitude)
	add("outside_degC", "°C", func(t float64) float64 { return 35 - 0.0065*f.altitude(t) })
	add(f.sensor[0]+"_degC", "°C", f.coolant)
	add(f.sensorOfOtherLeg[0]+"_degC", "°C", func(t float64) float64 { return f.coolant(t) - f.coolantDrop*f.flow(t) })
	add(f.sensor[1]+"_degC", "°C", f.oil)
	add(f.sensorOfOtherLeg[1]+"_degC", "°C", func(t float64) float64 { return f.oil(t) - f.oilDrop*f.flow(t) })
	add("boil_degC", "°C", func(t float64) float64 { return f.boilAtSea - 0.0025*f.altitude(t) })
	for i, e := range res.Exchangers {
		add(e.Name+"_air_kg_s", "kg/s", func(t float64) float64 { return e.AirFlow * (f.flow(t) - 0.02*float64(i)) })
	}
	return res
}

// peak finds the highest value on a grid of a second.
func (f flown) peak(i int, of func(float64) float64) sim.Peak {
	p := sim.Peak{Channel: f.sensor[i], Value: math.Inf(-1), Caution: f.caution[i], Limit: f.limit[i]}
	for t := 0.0; t <= f.end(); t++ {
		v := of(t)
		if v > p.Value {
			p.Value, p.Time, p.Altitude = v, t, f.altitude(t)
		}
		if v > p.Limit && !p.Exceeded {
			p.Exceeded, p.TimeToLimit = true, t
		}
	}
	p.Margin = p.Limit - p.Value
	return p
}

var (
	twoCores = []sim.ExchangerState{
		{Name: "radiator", Serves: "coolant", AirFlow: 1.9},
		{Name: "oil_cooler", Serves: "oil", AirFlow: 0.6},
	}
	usual = flown{
		every: 8, coolantDrop: 8, oilDrop: 22, exchangers: twoCores, boilAtSea: 129,
		caution: [2]float64{104, 104}, limit: [2]float64{113, 116},
		sensor:           [2]string{"coolant_out", "oil_sump"},
		sensorOfOtherLeg: [2]string{"coolant_in", "oil_in"},
	}
)

// situations are the runs whose charts are looked at and kept as goldens.
func situations() map[string]flown {
	return map[string]flown{
		"ground": ground(), "climb": climb(), "over_limit": overLimit(), "one_level": oneLevel(),
		"near_equal": nearEqual(), "soak": soak(), "many_cores": manyCores(),
	}
}

// ground is a short run-up on the ground.
func ground() flown {
	f := usual
	f.every = 2
	f.legs = []sim.LegSpan{{Name: "idle", Start: 0, End: 60}, {Name: "run-up", Start: 60, End: 180}}
	f.altitude = func(float64) float64 { return 150 }
	f.flow = func(t float64) float64 { return lag(t, 60, 0.15, 0.45, 5) }
	f.coolant = func(t float64) float64 { return lag(t, 60, lag(t, 0, 60, 70, 60), lag(60, 0, 60, 70, 60)+25, 50) }
	f.oil = func(t float64) float64 { return 55 + 30*(1-math.Exp(-t/120)) }
	f.sensor[1], f.sensorOfOtherLeg[1] = "oil_in", "oil_sump"
	f.oilDrop = -18
	return f
}

// climb is a long climb of many legs, some of them short.
func climb() flown {
	f := usual
	f.legs = []sim.LegSpan{
		{Name: "start and idle", Start: 0, End: 120}, {Name: "taxi", Start: 120, End: 330},
		{Name: "run-up", Start: 330, End: 390}, {Name: "take-off", Start: 390, End: 425},
		{Name: "initial climb", Start: 425, End: 500}, {Name: "climb to 5000 ft", Start: 500, End: 900},
		{Name: "level", Start: 900, End: 1020}, {Name: "climb to 9000 ft", Start: 1020, End: 1400},
		{Name: "cruise", Start: 1400, End: 1500},
	}
	f.altitude = func(t float64) float64 {
		climbing := math.Max(0, math.Min(t, 900)-425) + math.Max(0, math.Min(t, 1400)-1020)
		return 150 + 3*climbing
	}
	f.flow = func(t float64) float64 { return lag(t, 390, 0.2, 1, 15) - 0.05*f.altitude(t)/3000 }
	f.coolant = func(t float64) float64 {
		v := lag(t, 0, 25, 88, 150)
		v += lag(t, 400, 0, 18, 120) - lag(t, 900, 0, 9, 70) + lag(t, 1020, 0, 9, 90) - lag(t, 1400, 0, 16, 60)
		return v
	}
	f.oil = func(t float64) float64 {
		return lag(t, 0, 25, 72, 260) + lag(t, 400, 0, 36, 210) - lag(t, 1400, 0, 15, 160)
	}
	f.events = []sim.Event{
		{Time: 250, What: "coolant thermostat starts to open"}, {Time: 420, What: "coolant thermostat is fully open"},
		{Time: 470, What: "oil thermostat starts to open"}, {Time: 640, What: "oil thermostat is fully open"},
		{Time: 700, What: "spray starts"}, {Time: 880, What: "spray tank is dry"}, {Time: 900, What: "altitude reached"},
	}
	return f
}

// overLimit passes both limits, one close behind the other.
func overLimit() flown {
	f := usual
	f.legs = []sim.LegSpan{{Name: "settled", Start: 0, End: 90}, {Name: "climb", Start: 90, End: 840}}
	f.altitude = func(t float64) float64 { return 300 + 3.2*math.Max(0, t-90) }
	f.flow = func(t float64) float64 { return 1 - 0.1*f.altitude(t)/3000 }
	f.coolant = func(t float64) float64 { return lag(t, 90, 86, 122, 150) }
	f.oil = func(t float64) float64 { return lag(t, 90, 82, 128, 240) }
	f.events = []sim.Event{{Time: 300, What: "coolant reaches its limit"}}
	return f
}

// oneLevel has the cautions at the limits, and both limits the same.
func oneLevel() flown {
	f := overLimit()
	f.caution, f.limit = [2]float64{115, 115}, [2]float64{115, 115}
	f.coolant = func(t float64) float64 { return lag(t, 90, 86, 111, 150) }
	f.oil = func(t float64) float64 { return lag(t, 90, 78, 121, 240) }
	return f
}

// nearEqual has coolant and oil within 2 K of each other.
func nearEqual() flown {
	f := overLimit()
	f.coolant = func(t float64) float64 { return lag(t, 90, 90, 108, 150) }
	f.oil = func(t float64) float64 { return f.coolant(t) + 1.5*math.Sin(t/100) }
	f.coolantDrop, f.oilDrop = 6, 7
	return f
}

// soak is a landing, taxi and shut-down with heat soaking out of the metal.
func soak() flown {
	f := usual
	f.legs = []sim.LegSpan{
		{Name: "descent", Start: 0, End: 300}, {Name: "taxi in", Start: 300, End: 420},
		{Name: "shut down", Start: 420, End: 2700},
	}
	f.altitude = func(t float64) float64 { return 200 + 4*math.Max(0, 300-t) }
	f.flow = func(t float64) float64 {
		if t >= 420 {
			return -0.03 * math.Exp(-(t-420)/400)
		}
		return lag(t, 300, 0.9, 0.2, 10)
	}
	f.coolant = func(t float64) float64 {
		v := lag(t, 300, lag(t, 0, 95, 80, 100), 92, 200)
		if t >= 420 {
			u := t - 420
			v = 35 + (lag(420, 300, lag(420, 0, 95, 80, 100), 92, 200)-35)*math.Exp(-u/1800) + 28*(1-math.Exp(-u/90))*math.Exp(-u/700)
		}
		return v
	}
	f.oil = func(t float64) float64 { return 35 + 60*math.Exp(-t/2400) }
	return f
}

// manyCores has eight exchangers, one with a long name, one of them reversed.
func manyCores() flown {
	f := climb()
	f.exchangers = []sim.ExchangerState{
		{Name: "radiator_left", Serves: "coolant", AirFlow: 1.1}, {Name: "radiator_right", Serves: "coolant", AirFlow: 1.05},
		{Name: "lower_radiator", Serves: "coolant", AirFlow: 0.7}, {Name: "heater", Serves: "coolant", AirFlow: 0.1},
		{Name: "oil_cooler_front", Serves: "oil", AirFlow: 0.5}, {Name: "oil_cooler_behind_gearbox", Serves: "oil", AirFlow: 0.45},
		{Name: "oil_three", Serves: "oil", AirFlow: 0.3}, {Name: "fan_cooler", Serves: "oil", AirFlow: -0.1},
	}
	return f
}
