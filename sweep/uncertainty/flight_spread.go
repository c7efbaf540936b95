package uncertainty

import (
	"context"
	"math"
	"slices"
	"sort"

	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sweep"
)

// FlightSpread is how far one flight spreads because some of its numbers are not
// known exactly.
type FlightSpread struct {
	Doubts *sweep.Doubts // what was drawn
	Stated *sim.Result   // the flight with every number as the scenario has it

	Draws      int
	Turned     int       // of these, turned to the other side of the means, as they could not be flown as drawn
	Incomplete int       // of these, flown, but a leg did not reach its end: their margins are those of what was flown
	Failures   []Failure // of these, not flown; all else here is that of the others
	Failed     Estimate  // share that failed

	Margins []MarginSpread // to the limits, in the order coolant, oil, boiling; the last where it can boil
	Least   MarginSpread   // to the nearest of them: Passed is the chance to exceed any
	Peaks   []PeakSpread   // of the coolant and the oil at their sensors
	Bands   []Band         // of the coolant and the oil at their sensors; nil without Times, and when the flight as it stands does not begin
}

// MarginSpread is how far a margin spreads [K]. Passed is the probability to
// exceed the limit.
type MarginSpread struct {
	Limit  string  // CoolantLimit, OilLimit or BoilLimit; "" for the nearest
	Stated float64 // of the flight with every number as the scenario has it
	Distribution
}

// PeakSpread is how far a peak spreads [°C]. A limit may have a doubt of its own,
// so that this is not the limit less the margin. Passed means nothing.
type PeakSpread struct {
	Channel string // as coolant_out
	Stated  float64
	Distribution
}

// Band is where a temperature lies over a flight: 5, 50 and 95 % of the flights
// are below Low, Median and High [°C].
//
// Flights are held against each other at the same time since their start. Some
// are shorter, as an aircraft with less drag is up sooner. The bands are those of
// the flights still under way, and end where less than nine tenths of them are,
// or with the flight as it stands. One that does not begin is never under way.
type Band struct {
	Channel           string    // as coolant_out
	Limit             float64   // of the flight as it stands [°C]
	Time              []float64 // since the start [s]
	Low, Median, High []float64
	Stated            []float64 // the flight with every number as the scenario has it
	Flights           []int     // under way
}

// underWay is the share of flights still under way with which bands end.
const underWay = 0.9

// OfFlight draws the doubtful numbers of one effective scenario, together with
// their correlations, and flies each draw. The same seed gives the same to the
// last digit, however many workers there are. A draw that cannot be flown is
// told; an error is that the scenario as it stands cannot be, or hardly any draw.
//
// It keeps two temperatures and a few numbers of every flight: 8·2·Draws·Times
// bytes.
func OfFlight(ctx context.Context, sc *scenarios.Scenario, set FlightSettings) (*FlightSpread, error) {
	f, err := newFlown(ctx, sc, &set)
	if err != nil {
		return nil, err
	}
	grid, err := f.grid(ctx)
	if err != nil {
		return nil, err
	}
	study := f.study(orDefault(set.Draws, 256))
	study.Outputs = f.ends() + 1 + 2*len(grid)
	study.Evaluate = func(ctx context.Context, x, y []float64) error {
		r, err := f.drawn(ctx, x)
		if err == nil {
			f.put(r, y)
			f.puts(r, grid, y)
		}
		return err
	}
	s, err := study.prepared()
	if err != nil {
		return nil, err
	}
	if err := s.room(1); err != nil {
		return nil, err
	}
	d, points, err := s.draws(1)
	if err != nil {
		return nil, err
	}
	r, err := s.evaluate(ctx, s.Points, func(run int, x []float64) { d.At(points, run, 0, x) })
	if err != nil {
		return nil, err
	}
	return f.spread(s, r, grid)
}

// grid are the times of the bands, even whole seconds on flights long enough. It
// flies the scenario again, now with samples.
func (f *flown) grid(ctx context.Context) ([]float64, error) {
	if f.Times <= 0 {
		return nil, nil
	}
	last := end(f.stated)
	if last <= 0 {
		return nil, nil
	}
	f.sample = last / float64(f.Times)
	if f.sample > 1 {
		f.sample = math.Ceil(f.sample)
	}
	var err error
	if f.stated, err = f.fly(ctx, f.scenario); err != nil {
		return nil, err
	}
	grid := []float64{0}
	for i := 1; i < f.Times && float64(i)*f.sample <= last; i++ {
		grid = append(grid, float64(i)*f.sample)
	}
	return grid, nil
}

// end is the time at which a flight ends [s]; before the start for one that does
// not begin, as its temperatures run away before they settle.
func end(r *sim.Result) float64 {
	if len(r.Legs) == 0 {
		return -1
	}
	return r.Legs[len(r.Legs)-1].End
}

// ends is the place of the end of a flight among the results: after the margins,
// the least of these and both peaks.
func (f *flown) ends() int { return len(f.margins) + 1 + len(f.stated.Peaks) }

// puts puts the peaks of a flight into y, then its end and its temperatures.
func (f *flown) puts(r *sim.Result, grid, y []float64) {
	for i, p := range r.Peaks {
		y[len(f.margins)+1+i] = p.Value
	}
	f.sampled(r, grid, y[f.ends():])
}

// sampled puts the end of a flight and both temperatures over a grid of times
// into y. The last of each stands for the times after the end.
func (f *flown) sampled(r *sim.Result, grid, y []float64) {
	y[0], y = end(r), y[1:]
	if len(r.Legs) == 0 || len(grid) == 0 {
		return
	}
	time := r.Trajectory.Find("time_s").Values
	for _, peak := range r.Peaks {
		values := r.Trajectory.Find(peak.Channel + "_degC").Values
		for i, t := range grid {
			y[i] = line(time, values, t)
		}
		y = y[len(grid):]
	}
}

// line is what runs straight between values at rising times, and stands still
// beyond them.
func line(time, values []float64, t float64) float64 {
	i := sort.SearchFloat64s(time, t)
	switch {
	case i == 0:
		return values[0]
	case i == len(time):
		return values[i-1]
	}
	share := (t - time[i-1]) / (time[i] - time[i-1])
	return values[i-1] + share*(values[i]-values[i-1])
}

// spread gathers what the draws came to.
func (f *flown) spread(s *Study, r *results, grid []float64) (*FlightSpread, error) {
	out := &FlightSpread{
		Doubts: f.doubts, Stated: f.stated, Draws: s.Points, Failures: r.failures(),
		Turned: int(f.turned.Load()), Incomplete: int(f.incomplete.Load()),
	}
	good := r.good()
	if len(good) < leastResults {
		return nil, tooFew(len(good), s.Points, out.Failures)
	}
	failed := len(out.Failures)
	out.Failed.Value = float64(failed) / float64(s.Points)
	out.Failed.Lo, out.Failed.Hi = wilson(failed, s.Points, s.Level)

	stated := make([]float64, s.Outputs)
	f.put(f.stated, stated)
	f.puts(f.stated, grid, stated)
	for i := range f.margins {
		out.Margins = append(out.Margins, MarginSpread{f.limit(i), stated[i], s.distribution(r.column(good, i), 0, failed)})
	}
	least := len(f.margins)
	out.Least = MarginSpread{"", stated[least], s.distribution(r.column(good, least), 0, failed)}
	for i, p := range f.stated.Peaks {
		out.Peaks = append(out.Peaks, PeakSpread{p.Channel, p.Value, s.distribution(r.column(good, least+1+i), math.Inf(-1), failed)})
	}
	if grid == nil {
		return out, nil
	}
	first := f.ends() + 1
	for _, peak := range f.stated.Peaks {
		b := Band{Channel: peak.Channel, Limit: peak.Limit}
		b.fill(r, good, grid, first)
		b.Stated = stated[first:][:len(b.Time)]
		out.Bands = append(out.Bands, b)
		first += len(grid)
	}
	return out, nil
}

// fill takes the quantiles over the flights that are under way at each time. The
// temperatures stand from result first on, the ends of the flights before those
// of both.
func (b *Band) fill(r *results, good []int, grid []float64, first int) {
	ends := r.outputs - 2*len(grid) - 1
	for i, t := range grid {
		var y []float64
		for _, run := range good {
			if of := r.of(run); of[ends] >= t {
				y = append(y, of[first+i])
			}
		}
		if float64(len(y)) < underWay*float64(len(good)) {
			return
		}
		slices.Sort(y)
		b.Time, b.Flights = append(b.Time, t), append(b.Flights, len(y))
		b.Low = append(b.Low, quantile(y, 0.05))
		b.Median = append(b.Median, quantile(y, 0.5))
		b.High = append(b.High, quantile(y, 0.95))
	}
}

// column is one result of some runs.
func (r *results) column(runs []int, i int) []float64 {
	y := make([]float64, len(runs))
	for row, run := range runs {
		y[row] = r.of(run)[i]
	}
	return y
}
