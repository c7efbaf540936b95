package calibrate

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// CircuitDifference is by how much a temperature of one configuration is above that
// of the baseline, at the reference.
type CircuitDifference struct {
	Value     float64 // [K]; positive is hotter
	Low, High float64 // interval [K]
	Real      bool    // the interval does not hold 0

	Flights float64 // standard deviation by noise and scatter of the flights [K]
	Model   float64 // by the step of the model between the airs that were flown [K]
	Freedom float64 // degrees of freedom of both together
	Sources []Source

	// What would tell a true difference of this size from noise with a probability of
	// eight in ten, where it is not told. More is how many further flights of each of
	// the two configurations in such air as before; Never where the part of the model
	// alone is too large for any number. Alike is how many flights of each would do it
	// in one air, where the model has no part. MostFlights+1 stands for more.
	More, Alike int
}

// Source is a number whose doubt is in a difference.
type Source struct {
	Path  string
	Share float64 // of the variance of the model's part
}

// Bounds of CircuitDifference.More.
const (
	MostFlights = 20
	Never       = -1
)

// scatter is what flights of one circuit scatter by.
type scatter struct {
	Repeats
	factor  float64 // on the variances that were supposed
	freedom float64 // degrees of freedom of it
}

// newScatter joins what was supposed of the scatter with what repeats show. The
// variances are known up to a factor, of which is known beforehand that it is 1
// with ν₀ degrees of freedom; the repeats of n flights in k configurations add
// n − k of them,
//
//	factor = (ν₀ + Σ (v − v̄)²/u²) / (ν₀ + n − k)
//
// with v̄ the weighted mean of each configuration and u² the variance supposed of
// each flight: the posterior of a normal variance under its conjugate prior
// (A. Gelman et al., "Bayesian data analysis", 3rd ed. 2013, section 2.6, from
// memory). Repeats in different air scatter by the step of the model too, which is
// left in: it makes intervals wider, never narrower.
func newScatter(groups [][]*ComparedReading) scatter {
	sum := 0.0
	s := scatter{Repeats: Repeats{Seen: math.NaN()}}
	for _, g := range groups {
		mean, _ := weigh(g)
		for _, m := range g {
			sum += (m.Value - mean) * (m.Value - mean) / m.variance
		}
		s.Repeats.Freedom += max(len(g)-1, 0)
	}
	s.freedom = priorFreedom + float64(s.Repeats.Freedom)
	s.factor = (priorFreedom + sum) / s.freedom
	if s.Repeats.Freedom > 0 {
		s.Seen = math.Sqrt(sum / float64(s.Repeats.Freedom))
	}
	s.Used = math.Sqrt(s.factor)
	return s
}

// weigh is the mean of the flights of a configuration, each with the inverse of
// its variance for weight, and the sum of the weights.
func weigh(list []*ComparedReading) (mean, weight float64) {
	for _, m := range list {
		weight += 1 / m.variance
		mean += m.Value / m.variance
	}
	return mean / weight, weight
}

// difference is that of flights a less flights b, with an interval that misses with
// the probability alpha.
func (s *scatter) difference(a, b []*ComparedReading, n *numbers, alpha float64) *CircuitDifference {
	list := slices.Concat(a, b)
	d, flights, slopes := &CircuitDifference{}, 0.0, make([]float64, len(n.paths))
	for i, w := range n.weights(a, b) {
		d.Value += w * list[i].Value
		flights += s.factor * w * w * list[i].variance
		for k, g := range list[i].slopes {
			slopes[k] += w * g
		}
	}
	model := max(n.covariance(slopes, slopes), 0)
	d.Flights, d.Model, d.Sources = math.Sqrt(flights), math.Sqrt(model), n.sources(slopes)
	both := together(flights, model, s.freedom)
	d.Freedom = both.freedom
	half := both.half(alpha)
	d.Low, d.High = d.Value-half, d.Value+half
	d.Real = d.Low > 0 || d.High < 0
	return d
}

// student is how a difference is distributed about what was found: as Student's t
// with these degrees of freedom, times a scale.
type student struct{ scale, freedom float64 }

// together is the spread of the sum of both parts: of the flights, a variance A²
// found with ν > 4 degrees of freedom, and of the model, a variance M² that is
// known. It is the t that has their variance and their fourth moment,
//
//	σ² = A² ν/(ν−2) + M²
//	f  = 4 + (ν−4) (σ² (ν−2)/(A² ν))²,  scale² = σ² (f−2)/f
//
// which is exact without the model (V. H. Patil, "Approximation to the
// Behrens-Fisher distributions", Biometrika 52, 1965; G. E. P. Box and G. C. Tiao,
// "Bayesian inference in statistical analysis", 1973, section 2.5; from memory).
// The formula of Welch and Satterthwaite is 1 % short of the level here, because it
// leaves out that the variance of few flights is greater on average than found.
func together(flights, model, nu float64) student {
	own := flights * nu / (nu - 2)
	all := own + model
	f := 4 + (nu-4)*(all/own)*(all/own)
	return student{math.Sqrt(all * (f - 2) / f), f}
}

// half is half of an interval that misses with the probability alpha.
func (s student) half(alpha float64) float64 { return s.scale * studentQuantile(1-alpha/2, s.freedom) }

// studentQuantile is what Student's t with ν degrees of freedom stays below with a
// probability. From a million on it is the normal's to 7 digits.
func studentQuantile(p, nu float64) float64 {
	if nu > 1e6 {
		return distuv.UnitNormal.Quantile(p)
	}
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: nu}.Quantile(p)
}

// typical is the variance of a further flight: the mean of those flown.
func typical(list []*ComparedReading) float64 {
	sum := 0.0
	for _, m := range list {
		sum += m.variance / float64(len(list))
	}
	return sum
}

// chance is the probability with which a difference is to be told.
const chance = 0.8

// ahead finds how many flights N would tell a difference that is not told: those
// with which
//
//	|d| ≥ (t(1−α/2) + t(chance)) · scale(N)
//
// with as many degrees of freedom as there are then (G. W. Snedecor and
// W. G. Cochran, "Statistical methods", on the size of samples, from memory).
func (s *scatter) ahead(d *CircuitDifference, a, b []*ComparedReading, alpha float64) {
	if d.Real {
		return
	}
	each := [2]float64{typical(a), typical(b)}
	tells := func(flights, model, nu float64) bool {
		both := together(flights, model, nu)
		return math.Abs(d.Value) >= both.half(alpha)+both.half(2*(1-chance))
	}
	d.Alike = least(func(n float64) bool {
		return tells(s.factor*(each[0]+each[1])/n, 0, s.freedom+2*(n-1))
	})
	model := d.Model * d.Model
	_, wa := weigh(a)
	_, wb := weigh(b)
	now := 1/wa + 1/wb
	d.More = least(func(n float64) bool {
		then := 1/(wa+n/each[0]) + 1/(wb+n/each[1])
		return tells(d.Flights*d.Flights*then/now, model, s.freedom+2*n)
	})
	const endless = 1e9 // flights
	if d.More > MostFlights && d.Alike <= MostFlights && !tells(s.factor*(each[0]+each[1])/endless, model, endless) {
		d.More = Never
	}
}

// least is the least number of flights that is enough, MostFlights+1 when more
// are needed.
func least(enough func(n float64) bool) int {
	for n := 1; n <= MostFlights; n++ {
		if enough(float64(n)) {
			return n
		}
	}
	return MostFlights + 1
}
