package calibrate

import (
	"cmp"
	"context"
	"math"
	"sort"

	"gonum.org/v1/gonum/stat"
	"hotclimb/sim/atmos"
)

// CorrectSettings say how records are corrected to a hot day. The zero value works.
type CorrectSettings struct {
	Rule     Rule
	Outside  float64 // standard deviation of the outside air [K]; 0: DefaultOutside
	Draws    int     // of everything that is doubtful; 0: DefaultDraws
	Seed     uint64  // of the draws
	Segments SegmentSettings
	Workers  int    // flights at a time; 0: 1
	Done     func() // after each part, see Parts, from several goroutines
}

// DefaultOutside is the standard deviation of a thermometer of the outside air in
// flight [K]: its own error, sun, and the warmth of stopped air. Engineering
// judgement.
const DefaultOutside = 1.0

// DefaultDraws is how often the doubtful numbers are drawn. The doubt from so many
// is known to 12 %: see deviation, with the variance of quantiles p(1 − p)/(n·φ²).
const DefaultDraws = 64

// Corrected is a record corrected to the hot day of a rule.
type Corrected struct {
	Record   *Record
	Rule     Rule
	Outside  float64 // standard deviation of the outside air [K]
	Model    *Trace  // of the flight in its own air
	Segments []CorrectedSegment
	Remarks  []string // on the record as a whole
}

// CorrectedSegment is a climb or a settled stretch of a record. Its times are
// those since the record began.
type CorrectedSegment struct {
	Segment
	Circuits [2]*CorrectedCircuit // nil: not read there
	Remarks  []string             // what a rule asks for and the flight does not have
}

// CorrectedCircuit is a temperature of a segment: the highest of a climb, where it
// was first reached, or the mean of a settled stretch.
type CorrectedCircuit struct {
	Time        float64 // of it, or the middle [s]
	Read        float64 // what the gauge showed [°C]
	Temperature float64 // without the known bias of the gauge [°C]
	Doubt       float64 // of it, by noise and by doubt of the bias [K]
	Rate        float64 // with which it changed then, or about all the stretch [K/s]
	Altitude    float64 // pressure altitude [m]
	Outside     float64 // [°C]
	HotDay      float64 // air of the hot day at that altitude [°C]
	Limit       float64 // [°C]

	ByRule, ByModel Correction
	// Over is by how much the rule corrects more than the model [K], and OverDoubt
	// the standard deviation of that.
	Over, OverDoubt float64
}

// Correction is what a temperature would be on the hot day.
type Correction struct {
	Value  float64 // [°C]
	Doubt  float64 // one standard deviation [K]
	Margin float64 // limit less value [K]
}

// CorrectRecord finds the climbs and the settled stretches of a record and corrects
// their temperatures to the hot day of a rule, by the rule and by the model.
//
// By the rule: see CorrectByRule. By the model the record is flown in its own air
// and once more in that of the hot day, at the same throttle, speeds and rates of
// climb, and the temperature moves by what the model makes of that:
//
//	T + (m_hot − m_own)
//
// with the model's highest of the climb as the gauge shows it, or its mean of the
// stretch. What is wrong with the model in both airs alike falls out.
//
// Temperatures are means over half a minute of a log, whose noise is that of the
// gauge (scenarios.Gauge): the highest of single readings is too high by their
// noise. The highest of n such means is still too high by some, 1.5 standard
// deviations with ten that are alike, and by less where the temperature has a peak.
// The noise of a mean of n of them is 1/√n of that of one.
//
// Nobody knows how warm the aircraft would have started on the hot day: as on this
// one, or by as much warmer as the air. It starts in the middle, with the deviation
// of a rectangular distribution of that width, 1/√12 of it (JCGM 100:2008, 4.3.7).
// After some minutes it does not matter.
//
// The doubt of the model is the spread of m_hot − m_own, half of its middle 68 %, over
// flights in which all doubtful numbers of the aircraft are drawn, with their
// correlations, and the outside air and the start with them. Slopes will not do: where
// a thermostat regulates in one air and not in the other, a number does much one way
// and nothing the other, and they were off by a factor of three.
func CorrectRecord(ctx context.Context, r *Record, set CorrectSettings) (*Corrected, error) {
	set.Outside, set.Draws = cmp.Or(set.Outside, DefaultOutside), cmp.Or(set.Draws, DefaultDraws)
	c := &correcting{CorrectSettings: set, record: r, day: set.Rule.Day()}
	segments := r.segments(set.Segments)
	c.choose(segments)
	if err := c.fly(ctx); err != nil {
		return nil, err
	}
	out := &Corrected{Record: r, Rule: set.Rule, Outside: set.Outside, Model: c.own}
	for i, s := range segments {
		out.Segments = append(out.Segments, CorrectedSegment{Segment: s, Circuits: c.circuits(i)})
	}
	c.remark(out)
	return out, nil
}

// correcting is a correction in the making.
type correcting struct {
	CorrectSettings
	record *Record
	day    atmos.Day
	spots  []spot
	hotter float64    // by how much the hot day is at the start [K]
	start  [2]float64 // of both circuits on the hot day
	own    *Trace
	at     []float64 // the step of each spot [K]
	draws  hotDraws
}

// spot is where a temperature of a segment is looked for.
type spot struct {
	segment int
	kind    SegmentKind
	circuit int
	blocks  []Reading // of the circuit in the segment
}

// choose finds the readings of each segment.
func (c *correcting) choose(segments []Segment) {
	for i, s := range segments {
		for circuit := range circuits {
			var blocks []Reading
			for _, m := range c.record.Readings {
				if middle := (m.From + m.To) / 2; m.Circuit == circuit && middle >= s.From && middle <= s.To {
					blocks = append(blocks, m)
				}
			}
			if len(blocks) > 0 {
				c.spots = append(c.spots, spot{i, s.Kind, circuit, blocks})
			}
		}
	}
}

// of is the temperature of a spot with what readings have for value, and where the
// highest stands.
func (s *spot) of(value func(Reading) float64) (temperature float64, at int) {
	if s.kind == Settled {
		for _, m := range s.blocks {
			temperature += value(m) / float64(len(s.blocks))
		}
		return temperature, -1
	}
	temperature = math.Inf(-1)
	for i, m := range s.blocks {
		if v := value(m); v > temperature {
			temperature, at = v, i
		}
	}
	return temperature, at
}

// circuits are the temperatures of a segment.
func (c *correcting) circuits(segment int) (list [2]*CorrectedCircuit) {
	for i := range c.spots {
		if s := &c.spots[i]; s.segment == segment {
			list[s.circuit] = c.correct(i, s)
		}
	}
	return list
}

// correct corrects the temperature of a spot.
func (c *correcting) correct(i int, s *spot) *CorrectedCircuit {
	r, gauge := c.record, c.record.Gauge(s.circuit)
	read, at := s.of(func(m Reading) float64 { return m.Value })
	blocks := s.blocks
	noise := gauge.Noise.Value / math.Sqrt(float64(len(blocks)))
	if at >= 0 {
		blocks, noise = blocks[at:at+1], gauge.Noise.Value
	}
	from, to := blocks[0].From, blocks[len(blocks)-1].To
	k := &CorrectedCircuit{
		Time: (from + to) / 2, Read: read, Temperature: read - gauge.Bias.Value,
		Doubt: math.Hypot(noise, gauge.Bias.Doubt), Rate: c.rate(s, from, to),
		Limit: c.own.Result.Peaks[s.circuit].Limit,
	}
	k.Altitude, k.Outside = meanOver(from, to, r.altitude.at), meanOver(from, to, r.outsideAt)
	k.HotDay = c.day.Temperature(k.Altitude)
	doubt, over := c.draws.doubt(i)
	k.ByRule = correction(CorrectByRule(k.Temperature, k.Outside, k.Altitude, c.Rule), math.Hypot(k.Doubt, c.Outside), k.Limit)
	k.ByModel = correction(k.Temperature+c.at[i], math.Hypot(k.Doubt, doubt), k.Limit)
	k.Over, k.OverDoubt = k.ByRule.Value-k.ByModel.Value, over
	return k
}

func correction(value, doubt, limit float64) Correction {
	return Correction{value, doubt, limit - value}
}

// meanOver is the mean of a quantity at the ends and the middle of a time, by
// Simpson's rule.
func meanOver(a, b float64, at func(float64) float64) float64 {
	return (at(a) + 4*at((a+b)/2) + at(b)) / 6
}

// outsideAt is the outside air at a time [°C].
func (r *Record) outsideAt(t float64) float64 {
	h := r.altitude.at(t)
	return atmos.Standard().Temperature(h) + r.warmth.at(t)
}

// rate is the slope of the readings of a circuit by least squares: over all of a
// settled stretch, or at the highest of a climb; of a log from half a minute before
// to half a minute after, by hand in a climb from the reading before to the one after.
func (c *correcting) rate(s *spot, from, to float64) float64 {
	r := c.record
	if r.Log != nil && s.kind == Climb {
		from, to = (from+to)/2, (from+to)/2
	}
	if r.Log != nil {
		from, to = from-block, to+block // as the windows of segments do
	}
	var t, v []float64
	r.span().each(circuits[s.circuit], func(_ int, at, value float64) {
		t, v = append(t, at), append(v, value)
	})
	first := sort.SearchFloat64s(t, from)
	end := sort.Search(len(t), func(i int) bool { return t[i] > to })
	if s.kind == Climb && r.Log == nil {
		first, end = max(first-1, 0), min(end+1, len(t))
	}
	if end-first < 2 {
		return 0
	}
	_, slope := stat.LinearRegression(t[first:end], v[first:end], nil, false)
	return slope
}

// Parts is how often Done is called for a record.
func (s *CorrectSettings) Parts() int { return 1 + cmp.Or(s.Draws, DefaultDraws) }

// fly flies the record in both airs, and again with everything drawn that is
// doubtful.
func (c *correcting) fly(ctx context.Context) (err error) {
	done := c.Done
	if done == nil {
		done = func() {}
	}
	c.hotter = c.day.Temperature(c.record.altitude.at(0)) - c.record.outsideAt(0)
	for i, s := range c.record.Start {
		c.start[i] = s.Value + c.hotter/2
	}
	if c.own, err = c.record.Fly(ctx, c.record.Scenario, Conditions{}); err != nil {
		return err
	}
	if c.at, err = c.steps(ctx, c.own, c.record, c.record.Scenario, c.start); err != nil {
		return err
	}
	done()
	return c.draw(ctx, done)
}
