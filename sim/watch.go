package sim

import (
	"fmt"
	"math"

	"hotclimb/sim/atmos"
	"hotclimb/sim/exchanger"
	"hotclimb/sim/flight"
	"hotclimb/sim/ode"
)

// watch follows the sensor of one circuit to its highest value.
type watch struct {
	entry    int // of the state
	peak     float64
	when     float64
	at       [states]float64 // state at the peak
	leg      *flight.Leg     // leg of the peak
	spraying bool
	crossed  bool
	limitAt  float64 // first time at the limit, when crossed [s]
}

func (w *watch) begin(y []float64, entry int, leg *flight.Leg) {
	*w = watch{entry: entry, peak: y[entry], leg: leg}
	copy(w.at[:], y)
}

func (w *watch) cross(t float64) {
	if !w.crossed {
		w.crossed, w.limitAt = true, t
	}
}

// observe follows the peaks through one accepted step.
func (r *runner) observe(s *ode.Step) {
	for i := range r.watch {
		w := &r.watch[i]
		if v, t := s.Extremum(w.entry); v > w.peak {
			w.peak, w.when, w.leg, w.spraying = v, t, r.leg, r.spraying
			s.At(t, w.at[:])
		}
	}
	if hottest, t := s.Extremum(coolantHot); t > s.T0 && t < s.T1 {
		r.boil(hottest, s.Value(altitude, t))
	}
	high := s.Value(altitude, s.T1)
	r.boil(s.Value(coolantHot, s.T1), high)
	r.coldest = min(r.coldest, r.day().Temperature(high))
	r.readGauges(s.T1, func(entry int, t float64) float64 { return s.Value(entry, t) })
	r.out.step(r, s)
}

// readGauges reads both sensors at the times of Settings.Readings up to end.
func (r *runner) readGauges(end float64, value func(entry int, t float64) float64) {
	n := len(r.result.Readings[coolant])
	for ; n < len(r.set.Readings) && r.set.Readings[n] <= end; n++ {
		for s := range r.watch {
			r.result.Readings[s] = append(r.result.Readings[s], value(r.watch[s].entry, r.set.Readings[n]))
		}
	}
}

// boil keeps the least margin of the hot coolant to boiling, looked at in the
// ends of every step and where the coolant is hottest in it.
func (r *runner) boil(t, altitude float64) {
	c := &r.Coolant
	if point, ok := c.Liquid.BoilingPoint(atmos.StandardPressure(altitude) + c.CapPressure); ok {
		r.result.BoilMargin = min(r.result.BoilMargin, point-t)
	}
}

// finish closes the books of a run.
func (r *runner) finish() (*Result, error) {
	res := &r.result
	res.Status = WithinLimits
	res.Peaks = []Peak{r.peak(coolant), r.peak(oil)}
	worst := coolant
	if res.Peaks[oil].Margin < res.Peaks[coolant].Margin {
		worst = oil
	}
	res.Evaluations, res.MassResidual = r.evaluations, r.worstMass
	if err := r.portray(&r.watch[worst]); err != nil {
		return nil, err
	}
	for _, p := range res.Peaks {
		switch {
		case p.Exceeded:
			res.Status = OverLimit
		case p.Value > p.Caution && res.Status == WithinLimits:
			res.Status = Caution
		}
	}
	res.WaterUsed = r.first[water] - r.y[water]
	res.EnergyResidual = r.energyResidual()
	if res.EnergyResidual > openBooks {
		r.warn("%.1e of the heat is unaccounted for, so the numbers of this run cannot be trusted; cowl air beyond 1500 °C is held there", res.EnergyResidual)
	}
	res.Trajectory = r.out.trajectory()
	r.caveats()
	return res, nil
}

// peak returns what is reported of a circuit.
func (r *runner) peak(s side) Peak {
	c, w := r.circuit(s), &r.watch[s]
	p := Peak{
		Channel: sensorName(s, c), Value: w.peak, Time: w.when, Altitude: w.at[altitude],
		Caution: c.Caution, Limit: c.Maximum, Margin: c.Maximum - w.peak,
	}
	if w.peak > c.Maximum {
		p.Exceeded, p.TimeToLimit = true, w.limitAt
	}
	return p
}

// sensorName returns the name of the channel that a gauge shows.
func sensorName(s side, c *Circuit) string {
	names := [2][2]string{{"coolant_out", "coolant_in"}, {"oil_sump", "oil_in"}}
	return names[s][c.Sensor]
}

// energyResidual returns |heat in − heat out − heat stored| over the heat in or
// the heat stored, whichever is more, and at least the heat that warms the
// plant by leastWarming.
func (r *runner) energyResidual() float64 {
	y, y0 := r.y, r.first
	stored, scale := 0.0, 0.0
	for i, c := range r.capacity {
		stored += c * (y[i] - y0[i])
		scale += c * leastWarming
	}
	scale = math.Max(scale, math.Max(y[heatIn], math.Abs(stored)))
	return math.Abs(y[heatIn]-y[heatOut]-stored) / scale
}

const (
	leastWarming = 1e-3 // K
	openBooks    = 1e-6 // energy residual above which a run is not to be trusted [-]
)

// Bounds outside which a reader is warned (engineering judgement).
const (
	leastBoilMargin = 8.0  // K
	mostDragShare   = 0.10 // of thrust power; sensible designs take 2 to 10 %, Raymer, second-hand
)

// caveats adds what a reader must know of the moment of the least margin.
func (r *runner) caveats() {
	res := &r.result
	switch m := res.BoilMargin; {
	case m <= 0:
		r.warn("the coolant boils: it passes its boiling point by %.1f K (%.0f °F), and from there the model flatters", -m, -m*1.8)
	case m < leastBoilMargin:
		r.warn("the coolant comes within %.1f K (%.0f °F) of boiling", m, m*1.8)
	}
	if t, ok := r.Coolant.Liquid.FreezingPoint(); ok && r.coldest <= t {
		r.warn("the outside air, %.0f °C (%.0f °F), is below the freezing point of the coolant", r.coldest, r.coldest*1.8+32)
	}
	for i, e := range res.Exchangers {
		if e.Reversed && res.Worst.Power > 0 {
			r.warn("air flows backwards through %s at the peak: the cowl pressure is above that of its inlet", e.Name)
			continue
		}
		rated := r.Exchangers[i].AirFlow
		if rated <= 0 || res.Worst.Power <= 0 {
			continue
		}
		if reach := e.AirFlow / rated; reach < exchanger.LeastRatedFlow || reach > exchanger.MostRatedFlow {
			r.warn("%s runs at %.2f times its rated air flow at the peak; its rating is stretched that far", e.Name, reach)
		}
	}
	w := &res.Worst
	if share := w.CostPower / w.Power; w.TrueAirspeed > 20 && w.Power > 0 && share > mostDragShare {
		r.warn("cooling drag takes %.1f %% of the thrust power at the peak; sensible designs take 2 to 10 %%", 100*share)
	}
}

// portray evaluates the plant at the moment of a peak, as if it had not flown
// before, so that the report does not depend on the way there.
func (r *runner) portray(w *watch) error {
	m := r.model
	m.leg, m.spraying = w.leg, w.spraying
	m.forget()
	if err := m.evaluate(w.at[:]); err != nil {
		return fmt.Errorf("at the peak: %w", err)
	}
	r.result.Worst = m.snapshot(w.when, w.at[:])
	r.result.Exchangers, r.result.Air = m.exchangers(), m.airState(w.at[:])
	return nil
}
