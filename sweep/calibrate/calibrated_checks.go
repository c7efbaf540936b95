package calibrate

import (
	"cmp"
	"math"
	"slices"
)

// ResidualChecks say whether the readings scatter around the model as their
// noise says.
type ResidualChecks struct {
	// Reduced is the sum of squares over the degrees of freedom: 1 where noise and
	// doubts are true, give or take Spread, the standard deviation √(2/freedom).
	Reduced, Spread float64
	Gauges          [2]float64 // scatter of each circuit, in noise of its gauge; NaN without readings
	Series          []SeriesCheck
	Far             []FarReading // more than three deviations off, the farthest first
}

// SeriesCheck is one gauge in one record: readings less the model.
type SeriesCheck struct {
	Record, Circuit int
	Count           int
	Noise           float64 // of the gauge [K]
	Mean            float64 // [K]
	Scatter         float64 // root mean square, in noise
	// Drift is the slope over time by least squares, and its standard deviation if
	// the readings have the noise of the gauge [K/s]; 0 both for fewer than three.
	Drift, DriftDoubt float64
	// Alike is the correlation of neighbours, Σ e_i e_(i+1) / Σ e_i²: about 0, give
	// or take 1/√n, where each reading errs on its own (M. S. Bartlett, Supplement
	// to the Journal of the Royal Statistical Society 8 (1946) 27-41, from memory).
	// The statistic of J. Durbin and G. S. Watson (Biometrika 37 (1950) 409-428) is
	// 2(1 - Alike) but for the ends.
	Alike float64
}

// FarReading is a reading far from the model.
type FarReading struct {
	Record, Reading int
	Off             float64 // reading less model [K]
	Deviations      float64 // of the gauge's noise
	Weight          float64 // what its square counts under the loss
}

// farOff is from how many deviations on a reading is told: of 1000 readings with
// normal errors 3 are.
const farOff = 3.0

// Suspicious limits, each passed by about one in twenty where nothing is wrong,
// or by one in 400 for three deviations.
const (
	alikeLimit = 2.0 // of 1/√n
	meanLimit  = 3.0 // of noise/√n
	driftLimit = 3.0 // of DriftDoubt
	leastAlike = 8   // readings for Alike to mean something: engineering judgement
)

// Alikeness says that neighbours err alike, beyond chance.
func (s *SeriesCheck) Alikeness() bool {
	return s.Count >= leastAlike && s.Alike > alikeLimit/math.Sqrt(float64(s.Count))
}

// Shifted says that the readings lie on one side of the model, beyond chance.
func (s *SeriesCheck) Shifted() bool {
	return math.Abs(s.Mean) > meanLimit*s.Noise/math.Sqrt(float64(s.Count))
}

// Drifts says that they leave the model with time, beyond chance.
func (s *SeriesCheck) Drifts() bool {
	return s.DriftDoubt > 0 && math.Abs(s.Drift) > driftLimit*s.DriftDoubt
}

// Scatters is by how many of its standard deviations Reduced is off 1: far above,
// the readings scatter more than their noise, or the model lacks something; far
// below, the noise is told too large.
func (c *ResidualChecks) Scatters() float64 { return (c.Reduced - 1) / c.Spread }

// check makes the checks. Under a robust loss a few readings far out may be wrong,
// and scatter is taken from the middle of the residuals: 1.4826 times the median
// of their sizes, which is the standard deviation of normal ones (P. J. Huber,
// Robust statistics, Wiley 1981, from memory).
func check(c *Calibrated, loss Loss) ResidualChecks {
	checks := ResidualChecks{Reduced: c.Solution.ReducedChiSquare(), Spread: math.Sqrt(2 / math.Max(1, float64(c.Solution.Freedom)))}
	scatter := rootMeanSquare
	if loss.Kind != Squares {
		scatter = middle
		// The median of sizes has 37 % of the efficiency of squares where errors are
		// normal (Huber 1981, from memory).
		checks.Spread = math.Sqrt(2 / (0.37 * math.Max(1, float64(c.Solution.Freedom))))
		all := slices.Clone(c.Solution.Residuals)
		checks.Reduced = squared(middle(all)) * float64(len(all)) / math.Max(1, float64(c.Solution.Freedom))
	}
	var ofGauge [2][]float64
	for i := range c.Records {
		for circuit := range ofGauge {
			s, off := c.series(i, circuit)
			if s.Count == 0 {
				continue
			}
			s.Scatter = scatter(off)
			ofGauge[circuit] = append(ofGauge[circuit], off...)
			checks.Series = append(checks.Series, s)
		}
		checks.Far = append(checks.Far, c.far(i)...)
	}
	for circuit, off := range ofGauge {
		checks.Gauges[circuit] = scatter(off)
	}
	slices.SortStableFunc(checks.Far, func(a, b FarReading) int {
		return cmp.Compare(math.Abs(b.Deviations), math.Abs(a.Deviations))
	})
	return checks
}

func squared(x float64) float64 { return x * x }

func rootMeanSquare(off []float64) float64 {
	sum := 0.0
	for _, z := range off {
		sum += z * z
	}
	return math.Sqrt(sum / float64(len(off)))
}

func middle(off []float64) float64 {
	if len(off) == 0 {
		return math.NaN()
	}
	sizes := make([]float64, len(off))
	for i, z := range off {
		sizes[i] = math.Abs(z)
	}
	slices.Sort(sizes)
	n := len(sizes)
	return 1.4826 * (sizes[(n-1)/2] + sizes[n/2]) / 2
}

// series checks one gauge in one record, and returns the readings less the model
// in its noise.
func (c *Calibrated) series(i, circuit int) (SeriesCheck, []float64) {
	r := &c.Records[i]
	s := SeriesCheck{Record: i, Circuit: circuit, Noise: r.Record.Gauge(circuit).Noise.Value}
	var times, off []float64
	for k, m := range r.Record.Readings {
		if m.Circuit == circuit {
			times = append(times, (m.From+m.To)/2)
			off = append(off, (m.Value-r.Model[k])/s.Noise)
		}
	}
	if s.Count = len(off); s.Count == 0 {
		return s, nil
	}
	s.Mean = s.Noise * average(off)
	s.Alike = alikeness(off)
	if drift, doubt, ok := slopeOf(times, off); ok {
		s.Drift, s.DriftDoubt = s.Noise*drift, s.Noise*doubt
	}
	return s, off
}

func average(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}

// alikeness is the correlation of neighbours.
func alikeness(off []float64) float64 {
	both, all := 0.0, 0.0
	for i, e := range off {
		all += e * e
		if i > 0 {
			both += e * off[i-1]
		}
	}
	if all == 0 {
		return 0
	}
	return both / all
}

// slopeOf is the slope of y over t, and its standard deviation when that of y is 1.
func slopeOf(t, y []float64) (slope, doubt float64, ok bool) {
	if len(t) < 3 {
		return 0, 0, false
	}
	middle, sxx, sxy := average(t), 0.0, 0.0
	for i := range t {
		sxx += squared(t[i] - middle)
		sxy += (t[i] - middle) * y[i]
	}
	if sxx == 0 {
		return 0, 0, false
	}
	return sxy / sxx, 1 / math.Sqrt(sxx), true
}

// far are the readings of a record that are far from the model.
func (c *Calibrated) far(i int) []FarReading {
	var list []FarReading
	r := &c.Records[i]
	for k, m := range r.Record.Readings {
		off := m.Value - r.Model[k]
		if z := off / r.Record.Gauge(m.Circuit).Noise.Value; math.Abs(z) > farOff {
			list = append(list, FarReading{i, k, off, z, r.Weight[k]})
		}
	}
	return list
}
