package calibrate

import (
	"context"
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"hotclimb/scenarios"
)

// Calibration is the fit of numbers of an aircraft to the records of its flights:
// the most probable set of numbers after all readings, transients included, with
// the doubts of the scenario, and its correlations, as what was known before.
//
// A reading counts with the noise of its gauge. How warm both circuits were when
// a record began is found with the numbers, as far as the test does not give it.
type Calibration struct {
	Scenario *scenarios.Scenario // with the doubts before the records
	Records  []*Record           // of flights of this aircraft
	// Paths are the numbers to sharpen; nil means every doubtful one that moves a
	// reading by more than a twentieth of its noise when it goes by its doubt.
	// Numbers whose doubts go together with theirs join them.
	Paths    []string
	Supposed map[string]float64 // doubts [SI] of numbers that carry none

	Loss    Loss
	Workers int    // flights at a time; 0 means 1; answers do not depend on it
	Flown   func() // after each flight, from several goroutines: progress
}

const (
	moves = 0.05 // share of its noise by which a reading is moved by a number worth fitting
	// Flights are integrated 30 times as finely as usual, in 1.8 times the time. At
	// sim.DefaultRelTol readings err by up to 0.1 of their noise, otherwise with
	// every step of a number: on the three records of the rotary, doubts came out
	// up to 28 % and numbers up to 0.3 doubts off, by where the search began and by
	// its step. This way it is 1 % and 0.05. A tenth of a doubt is step enough then,
	// and short enough for the bends of the model. Where a step promises less than
	// fitGain over the number of readings, numbers are about a tenth of their doubt
	// from their end: see Settings.Gain.
	fitTol   = 3e-5
	fitStep  = 0.1
	fitGain  = 0.01
	mostFits = 100 // steps tried
)

// ErrNothingToFit says that no number with a doubt moves a reading.
var ErrNothingToFit = errors.New("no number with a doubt moves a reading of these records: give numbers their doubt, as in exits.belly.discharge: 0.60 ± 0.05")

// Find finds the numbers.
func (c *Calibration) Find(ctx context.Context) (*Calibrated, error) {
	if len(c.Records) == 0 {
		return nil, errors.New("there is no flight record")
	}
	f, err := c.prepare()
	if err != nil {
		return nil, err
	}
	if c.Paths == nil {
		if err := f.keepMoving(ctx); err != nil {
			return nil, err
		}
	}
	if len(f.numbers) == 0 {
		return nil, ErrNothingToFit
	}
	s, err := f.search(ctx)
	if err != nil {
		return nil, err
	}
	return f.calibrated(ctx, s)
}

// fitting is a calibration in the making. Parameters are the numbers, then the
// temperatures at the starts of records.
type fitting struct {
	*Calibration
	base     *scenarios.Scenario // without cases and studies
	numbers  []unknown
	others   []unknown // doubtful numbers that are not sharpened
	starts   []start
	readings int
	flights  []trips // of each record
	tried    int     // flights to see which numbers move readings
	slots    chan struct{}
}

// start is the temperature of a circuit at the start of a record.
type start struct {
	record, circuit int
	prior           Prior
	scale           float64 // a fair change [K]
}

// prepare chooses the numbers and the starts.
func (c *Calibration) prepare() (*fitting, error) {
	base, err := c.Scenario.AsFlown(&scenarios.Test{}, nil)
	if err != nil {
		return nil, err
	}
	f := &fitting{Calibration: c, base: base, slots: make(chan struct{}, max(1, c.Workers)), flights: make([]trips, len(c.Records))}
	if err := f.choose(); err != nil {
		return nil, err
	}
	for i, r := range c.Records {
		f.readings += len(r.Readings)
		f.starts = append(f.starts, startsOf(i, r)...)
	}
	return f, nil
}

// startsOf are the starts of a record that are to be found. One that the test
// gives without a doubt is known. One that was read says nothing before the
// readings, which hold it already: taken twice, it would count twice.
func startsOf(i int, r *Record) []start {
	var list []start
	given := [2]scenarios.Number{r.Test.StartCoolant.Number, r.Test.StartOil.Number}
	for k, n := range given {
		s := start{record: i, circuit: k, prior: Prior{r.Start[k].Value, r.Start[k].Doubt}, scale: r.Start[k].Doubt}
		if !n.Known {
			s.prior.Sigma = unread
			s.scale = math.Min(s.scale, 2*r.Gauge(k).Noise.Value)
		}
		if s.prior.Sigma > 0 {
			list = append(list, s)
		}
	}
	return list
}

// Temperatures at which a circuit may start [°C]: the ranges of
// flight.start_coolant and flight.start_oil.
var coldestStart, hottestStart = -40.0, [2]float64{150, 180}

// problem is that of least squares.
func (f *fitting) problem() Problem {
	p := Problem{
		Residuals: f.readings, Evaluate: f.evaluate, Correlation: f.correlation(),
		Step: fitStep, Workers: f.Workers, Loss: f.Loss,
	}
	for _, u := range f.numbers {
		p.Prior = append(p.Prior, Prior{u.mean, u.doubt})
		p.Lo, p.Hi = append(p.Lo, u.param.Lo), append(p.Hi, u.param.Hi)
		p.Scale = append(p.Scale, u.doubt)
	}
	for _, s := range f.starts {
		p.Prior = append(p.Prior, s.prior)
		p.Lo, p.Hi = append(p.Lo, coldestStart), append(p.Hi, hottestStart[s.circuit])
		p.Scale = append(p.Scale, s.scale)
	}
	return p
}

// correlation is that of all parameters before the records; nil without any.
func (f *fitting) correlation() *mat.SymDense {
	place := map[string]int{}
	for k, u := range f.numbers {
		place[u.param.Path] = k
	}
	n := len(f.numbers) + len(f.starts)
	var r *mat.SymDense
	for _, c := range f.base.Correlations {
		j, a := place[c.Of]
		k, b := place[c.With]
		if !a || !b || c.Value.Value == 0 {
			continue
		}
		if r == nil {
			r = mat.NewSymDense(n, nil)
			for i := range n {
				r.SetSym(i, i, 1)
			}
		}
		r.SetSym(j, k, c.Value.Value)
	}
	return r
}

// before is where all parameters stand before the records.
func (f *fitting) before() []float64 {
	x := make([]float64, 0, len(f.numbers)+len(f.starts))
	for _, u := range f.numbers {
		x = append(x, u.mean)
	}
	for _, s := range f.starts {
		x = append(x, s.prior.Mean)
	}
	return x
}

// search finds the parameters. A loss of Cauchy's may have more than one least,
// so it starts from the answer of Huber's, which has one.
func (f *fitting) search(ctx context.Context) (*Solution, error) {
	p, x := f.problem(), f.before()
	set := Settings{Gain: fitGain / float64(f.readings), Iterations: mostFits}
	if f.Loss.Kind == Cauchy {
		q := p
		q.Loss = Loss{Kind: Huber}
		s, err := Fit(ctx, q, x, set)
		if err != nil {
			return nil, f.explain(ctx, err)
		}
		x = s.X
	}
	s, err := Fit(ctx, p, x, set)
	return s, f.explain(ctx, err)
}

// explain replaces the error of a start that cannot be flown by that of the
// flight.
func (f *fitting) explain(ctx context.Context, err error) error {
	if err == nil || ctx.Err() != nil {
		return err
	}
	if flown := f.evaluate(ctx, f.before(), make([]float64, f.readings)); flown != nil {
		return fmt.Errorf("with the numbers as filed: %w", flown)
	}
	return err
}
