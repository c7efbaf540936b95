package calibrate

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"

	"golang.org/x/sync/errgroup"
	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sweep"
)

// Configuration is an aircraft as it was built on one flight record or on
// several, which then are repeats.
type Configuration struct {
	Name    string
	Records []*Record
	// Reference is the effective scenario of the case to which the readings are
	// brought, with this configuration: its day, speed and power are those of all.
	Reference *scenarios.Scenario
}

// CompareSettings say how configurations are compared. The zero value works.
type CompareSettings struct {
	// Level is the probability that none of the intervals misses its true
	// difference; 0: 0.95.
	Level float64
	// Scatter is how far flights of one aircraft differ beyond the noise of a gauge
	// and what the model knows, one standard deviation [K]; 0: DefaultScatter.
	Scatter float64
	Workers int    // flights at a time; 0: 1
	Done    func() // after each record and each reference, from several goroutines

	// What flies; nil: the model.
	FlyRecord    func(context.Context, *Record, *scenarios.Scenario, Conditions) (*Trace, error)
	FlyReference func(context.Context, *scenarios.Scenario) ([2]float64, error) // highest of both circuits [°C]
}

// DefaultScatter is the standard deviation of a flight [K], 2 °F: how a climb was
// begun, mixture, gusts, a reading of the thermometer of the outside air.
// Engineering judgement.
const DefaultScatter = 2 / 1.8

// priorFreedom is what Scatter is worth before a flight was repeated, in degrees
// of freedom: a standard deviation judged to a quarter of itself has
//
//	ν = ½ (Δu/u)⁻² = 8
//
// (Joint Committee for Guides in Metrology, "Evaluation of measurement data -
// Guide to the expression of uncertainty in measurement", JCGM 100:2008,
// equation G.3). The quarter is engineering judgement.
const priorFreedom = 8

// Comparison is what configurations came to.
type Comparison struct {
	Level, Scatter float64 // as set or by default
	Baseline       string
	Tests          []ComparedTest
	Differences    []ComparedDifference // every configuration but the baseline, in their order
	Count          int                  // intervals in them
	Repeats        [2]Repeats           // by circuit
}

// ComparedTest is one flight record brought to the reference.
type ComparedTest struct {
	Record        *Record
	Configuration string
	Circuits      [2]*ComparedReading // nil: not read, or not compared
	Remarks       []string
}

// Repeats is what flights of the same configuration say of their scatter.
type Repeats struct {
	Freedom int     // repeats: flights less configurations
	Seen    float64 // deviation of those flights over the one supposed; NaN without repeats
	Used    float64 // that which intervals are made of, over the one supposed
}

// ComparedDifference is a configuration less the baseline.
type ComparedDifference struct {
	Name     string
	Circuits [2]*CircuitDifference // nil: one of both was never read
}

// Compare brings what the gauges read on each flight to one reference, and says by
// how much the configurations differ from the first one there.
//
// The value of a flight, for each circuit, is
//
//	v = y + m(reference; c) − m(flight; c)
//
// with the reading y where the model has its highest in the climb, what the model
// m has for the same readings of the same flight, and its highest temperature of
// the reference, both with the configuration c of that flight. So the model answers
// for the step from one air to another only, and what it thinks of the change
// falls out where it is the same in both airs. The other way, y − m(flight; baseline) for
// all, never needs a model of the change, but gives its effect in whatever air it
// was flown in: with a change that does more in hot air, tests have it off by just
// that.
//
// The reading is taken where the model is highest and not where the gauge was,
// because the highest of many noisy readings is too high, and more so the more
// there are.
//
// Two variances stand in a difference. That of the flights is their noise and
// scatter; it shrinks with repeats, and repeats correct what was supposed of it. That
// of the model is the covariance of the steps by all doubtful numbers,
//
//	gᵀ C g,  g = ∂(difference)/∂x
//
// (JCGM 100:2008, equation 13): one number is wrong by the same on all flights, so
// it counts as far as the flights differ. Bias of a gauge cancels; so does that of a
// thermometer or an airspeed, as long as it stays. Lags of gauges are taken as
// known.
//
// What the model thinks of the change is one more such number, TheChange. In the
// difference stands what the model has for the change at the reference and not on
// the flight,
//
//	[m(reference; c) − m(reference; baseline)] − [m(flight; c) − m(flight; baseline)]
//
// and that may all be wrong: it counts as one standard deviation (engineering
// judgement). It is little unless a thermostat that is not fully open hides the
// change on the flight; then a difference that nobody measured cannot be real.
//
// Intervals hold all at once with the probability Level (Bonferroni: each misses
// with an equal share of 1 − Level; R. G. Miller, "Simultaneous statistical
// inference", 2nd ed. 1981, chapter 2, from memory).
func Compare(ctx context.Context, list []Configuration, set CompareSettings) (*Comparison, error) {
	if len(list) < 2 {
		return nil, errors.New("one configuration has nothing to be compared with")
	}
	set.defaults()
	c := &comparing{CompareSettings: set, list: list}
	if err := c.fly(ctx); err != nil {
		return nil, err
	}
	return c.conclude()
}

func (s *CompareSettings) defaults() {
	s.Level, s.Scatter, s.Workers = cmp.Or(s.Level, 0.95), cmp.Or(s.Scatter, DefaultScatter), cmp.Or(s.Workers, 1)
	if s.Done == nil {
		s.Done = func() {}
	}
	if s.FlyRecord == nil {
		s.FlyRecord = func(ctx context.Context, r *Record, sc *scenarios.Scenario, c Conditions) (*Trace, error) {
			return r.Fly(ctx, sc, c)
		}
	}
	if s.FlyReference == nil {
		s.FlyReference = flyReference
	}
}

// flyReference is the highest of both circuits in a flight.
func flyReference(ctx context.Context, sc *scenarios.Scenario) (peaks [2]float64, err error) {
	result, err := sweep.Fly(ctx, sc, sim.Settings{})
	if err != nil {
		return peaks, err
	}
	if result.Incomplete != "" {
		return peaks, fmt.Errorf("leg %s does not reach its end", result.Incomplete)
	}
	for i := range peaks {
		peaks[i] = result.Peaks[i].Value
	}
	return peaks, nil
}

// comparing is a comparison in the making.
type comparing struct {
	CompareSettings
	list       []Configuration
	references []response // by configuration
	tests      []*flownTest
}

// flownTest is a record with its configuration.
type flownTest struct {
	*Record
	configuration int
	readings      [2]*ComparedReading
	model         response   // of the readings, where they are
	asBaseline    [2]float64 // of the readings, had the baseline been flown [°C]
}

// Parts is how often Done is called.
func (c Configuration) Parts() int { return 1 + len(c.Records) }

// fly flies every record and every reference.
func (c *comparing) fly(ctx context.Context) error {
	c.references = make([]response, len(c.list))
	g, ctx := errgroup.WithContext(ctx)
	g.SetLimit(c.Workers)
	do := func(what func(context.Context) error) {
		g.Go(func() error {
			if err := ctx.Err(); err != nil {
				return err
			}
			defer c.Done()
			return what(ctx)
		})
	}
	for i := range c.list {
		k := &c.list[i]
		do(func(ctx context.Context) (err error) {
			c.references[i], err = respond(ctx, k.Reference, c.FlyReference)
			if err != nil {
				err = fmt.Errorf("the reference with %s: %w", k.Name, err)
			}
			return err
		})
		for _, r := range k.Records {
			t := &flownTest{Record: r, configuration: i}
			c.tests = append(c.tests, t)
			do(func(ctx context.Context) error { return c.record(ctx, t) })
		}
	}
	return g.Wait()
}

// conclude makes the comparison of what was flown.
func (c *comparing) conclude() (*Comparison, error) {
	out := &Comparison{Level: c.Level, Scatter: c.Scatter, Baseline: c.list[0].Name}
	numbers := newNumbers(c)
	for _, t := range c.tests {
		for i, m := range t.readings {
			if m != nil {
				c.bring(t, i, m, numbers)
			}
		}
		out.Tests = append(out.Tests, ComparedTest{t.Record, c.list[t.configuration].Name, t.readings, t.remarks()})
	}
	var groups [2][][]*ComparedReading
	for i := range groups {
		groups[i] = c.groups(i)
		for k := 1; k < len(c.list); k++ {
			if len(groups[i][0]) > 0 && len(groups[i][k]) > 0 {
				out.Count++
			}
		}
	}
	if out.Count == 0 {
		return nil, fmt.Errorf("no configuration reads a temperature that %s reads too", out.Baseline)
	}
	out.Differences = make([]ComparedDifference, len(c.list)-1)
	for i := range groups {
		s := newScatter(groups[i])
		out.Repeats[i] = s.Repeats
		for k := range out.Differences {
			out.Differences[k].Name = c.list[k+1].Name
			if a, b := groups[i][k+1], groups[i][0]; len(a) > 0 && len(b) > 0 {
				alpha := (1 - c.Level) / float64(out.Count)
				d := s.difference(a, b, numbers, alpha)
				s.ahead(d, a, b, alpha)
				out.Differences[k].Circuits[i] = d
			}
		}
	}
	return out, nil
}

// groups are the readings of a circuit by configuration.
func (c *comparing) groups(circuit int) [][]*ComparedReading {
	groups := make([][]*ComparedReading, len(c.list))
	for _, t := range c.tests {
		if m := t.readings[circuit]; m != nil {
			groups[t.configuration] = append(groups[t.configuration], m)
		}
	}
	return groups
}

// bring brings a reading to the reference.
func (c *comparing) bring(t *flownTest, circuit int, m *ComparedReading, n *numbers) {
	reference := &c.references[t.configuration]
	m.Reference = reference.at[circuit]
	m.Value = m.Read + m.Reference - m.Model
	m.slopes = make([]float64, len(n.paths))
	for i, path := range n.paths {
		m.slopes[i] = reference.by[path][circuit] - t.model.by[path][circuit]
	}
	if k := t.configuration; k > 0 {
		m.slopes[n.change(k)] = m.Reference - c.references[0].at[circuit] - (m.Model - t.asBaseline[circuit])
	}
	m.Doubt = math.Sqrt(max(n.covariance(m.slopes, m.slopes), 0))
}
