package calibrate

import (
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"hotclimb/scenarios"
)

// Calibrated is what the records taught of the numbers.
type Calibrated struct {
	Numbers []SharpNumber
	// Correlation is that of the numbers after the records, with ones on its
	// diagonal; that of the starts is left out.
	Correlation *mat.SymDense
	Records     []RecordFit // in the order of Calibration.Records
	// Others are the paths of the doubtful numbers that were kept as filed: those
	// not asked for, or those that move no reading.
	Others []string
	Blind  []BlindSpot
	Checks ResidualChecks

	Solution *Solution // parameters: the numbers, then the starts
	Flights  int
}

// SharpNumber is a number before and after the records. Doubts are standard
// deviations, values SI.
type SharpNumber struct {
	Param         scenarios.Param
	Unit          string // in which the scenario writes it
	Before, Doubt float64
	After, Left   float64 // the value found, and the doubt that is left
	Supposed      bool    // the doubt before is not of the scenario
	Joined        bool    // not asked for; it goes together with one that was
	Bound         int     // -1 where it rests at its least, 1 at its greatest
	Elsewhere     []int   // records on which the test set it
}

// Sharpened is what is left of the doubt, as a share.
func (n *SharpNumber) Sharpened() float64 { return n.Left / n.Doubt }

// Moved is how far the number went, in standard deviations before the records.
func (n *SharpNumber) Moved() float64 { return (n.After - n.Before) / n.Doubt }

// RecordFit is a record beside the model with the numbers found.
type RecordFit struct {
	Record *Record
	Start  [2]Beginning // found; without a doubt where it was known
	Model  []float64    // what the gauge would show, of each reading [°C]
	Weight []float64    // what the square of each residual counts under the loss
}

// calibrated gathers what a search found.
func (f *fitting) calibrated(ctx context.Context, s *Solution) (*Calibrated, error) {
	c := &Calibrated{Solution: s, Correlation: mat.NewSymDense(len(f.numbers), nil)}
	for k, u := range f.numbers {
		c.Numbers = append(c.Numbers, f.sharp(k, &u, s))
		for j := range k + 1 {
			c.Correlation.SetSym(j, k, s.Correlation.At(j, k))
		}
	}
	for _, u := range f.others {
		c.Others = append(c.Others, u.param.Path)
	}
	from := 0
	for i, r := range f.Records {
		t, err := f.trace(ctx, i, s.X)
		if err != nil {
			return nil, err
		}
		fit := RecordFit{Record: r, Start: r.Start, Weight: s.Weights[from : from+len(r.Readings)]}
		fit.Start[0].Doubt, fit.Start[1].Doubt = 0, 0
		for _, m := range r.Readings {
			fit.Model = append(fit.Model, t.Of(m))
		}
		from += len(r.Readings)
		c.Records = append(c.Records, fit)
	}
	for k, b := range f.starts {
		at := len(f.numbers) + k
		c.Records[b.record].Start[b.circuit] = Beginning{s.X[at], s.Sigma[at]}
	}
	c.Flights = f.flown()
	c.Blind = f.blind(s)
	c.Checks = check(c, f.Loss)
	return c, nil
}

// sharp is number k.
func (f *fitting) sharp(k int, u *unknown, s *Solution) SharpNumber {
	n := SharpNumber{
		Param: u.param, Unit: u.unit, Before: u.mean, Doubt: u.doubt, After: s.X[k], Left: s.Sigma[k],
		Supposed: u.supposed, Joined: u.joined,
	}
	switch s.X[k] {
	case u.param.Lo:
		n.Bound = -1
	case u.param.Hi:
		n.Bound = 1
	}
	for i, acts := range u.acts {
		if !acts {
			n.Elsewhere = append(n.Elsewhere, i)
		}
	}
	return n
}

// BlindSpot is a way in which numbers can go together without the readings
// telling it, though they would tell each of them alone.
type BlindSpot struct {
	Numbers []int     // largest share first
	Ways    []float64 // how far each goes [SI], one step of the direction
	Form    []float64 // how each number of the fit counts in what is left open [1/SI]
	Whole   bool      // hardly any other number has part in it
	// Left is the doubt along the direction by the readings alone, in doubts
	// before.
	Left float64
}

const (
	// A number has part in a direction from a third of the largest weight on, and
	// pairs go together from this correlation on: engineering judgement.
	partake     = 1.0 / 3
	nearlyWhole = 0.95 // of the squares of the weights
	inseparable = 0.9
)

// blind are what the readings cannot tell apart: directions along which they
// leave more doubt than there was before, made of numbers each of which alone
// they see; and pairs of numbers whose doubts are left nearly as one. Directions
// of numbers that are not seen at all are not told: their doubts tell it.
func (f *fitting) blind(s *Solution) []BlindSpot {
	read := f.ofNumbers(s)
	seen := norms(read.slopes)
	var spots []BlindSpot
	for _, d := range read.Blind(1) {
		spot := BlindSpot{Left: 1 / d.Seen, Form: make([]float64, len(d.Weights))}
		for k, w := range d.Weights {
			spot.Form[k] = w / d.Units[k]
		}
		told := 0.0
		for _, k := range d.Leaders(partake) {
			if seen[k]*d.Units[k] >= 1 {
				spot.Numbers = append(spot.Numbers, k)
				spot.Ways = append(spot.Ways, d.Weights[k]*d.Units[k])
				told += squared(d.Weights[k])
			}
		}
		spot.Whole = told > nearlyWhole
		if len(spot.Numbers) > 1 {
			spots = append(spots, spot)
		}
	}
	for k := range f.numbers {
		for j := range k {
			if rho := s.Correlation.At(j, k); math.Abs(rho) > inseparable && !slices.ContainsFunc(spots, func(b BlindSpot) bool { return b.holds(j, k) }) {
				spots = append(spots, f.pair(s, j, k, rho))
			}
		}
	}
	return spots
}

// pair is the blind spot of two numbers with correlation rho.
func (f *fitting) pair(s *Solution, j, k int, rho float64) BlindSpot {
	b := BlindSpot{
		Numbers: []int{j, k}, Ways: []float64{s.Sigma[j], math.Copysign(s.Sigma[k], rho)},
		Form: make([]float64, len(f.numbers)), Whole: true,
		Left: math.Hypot(s.Sigma[j]/f.numbers[j].doubt, s.Sigma[k]/f.numbers[k].doubt),
	}
	b.Form[j], b.Form[k] = 1/s.Sigma[j], math.Copysign(1/s.Sigma[k], rho)
	return b
}

// holds says that it is made of both numbers, and more perhaps.
func (b *BlindSpot) holds(j, k int) bool {
	return slices.Contains(b.Numbers, j) && slices.Contains(b.Numbers, k)
}

// ofNumbers is what the readings say of the numbers when the starts, with what is
// known of them, are free: the triangle that is left of the slopes when the
// columns of the starts have been taken out.
func (f *fitting) ofNumbers(s *Solution) *Solution {
	n, free := len(f.numbers), len(f.starts)
	if free == 0 {
		return &Solution{slopes: s.slopes, units: s.units}
	}
	rows, _ := s.slopes.Dims()
	a := mat.NewDense(rows+free, n+free, nil)
	a.Slice(0, rows, 0, free).(*mat.Dense).Copy(s.slopes.Slice(0, rows, n, n+free))
	a.Slice(0, rows, free, n+free).(*mat.Dense).Copy(s.slopes.Slice(0, rows, 0, n))
	for k, b := range f.starts {
		a.Set(rows+k, k, 1/b.prior.Sigma)
	}
	left := newTriangle(a, nil).r.Slice(free, n+free, free, n+free)
	return &Solution{slopes: mat.DenseCopyOf(left), units: s.units[:n]}
}
