package sweep

import (
	"math/bits"
	"math/rand/v2"
)

// Latin is a Latin hypercube: n points in the unit cube such that in every
// dimension each of n equal strata holds one of them, at a random place within
// (M. D. McKay, R. J. Beckman and W. J. Conover, "A comparison of three methods
// for selecting values of input variables in the analysis of output from a
// computer code", Technometrics 21, 239-245 (1979)).
//
// The permutation of the strata is a keyed function, not a shuffled list as of
// gonum's samplemv.LatinHypercube: a list grows with the points, and all of it
// is needed for any one of them.
type Latin struct {
	n          uint64
	dimensions []latinDimension
}

// latinDimension makes one coordinate.
type latinDimension struct {
	strata permutation
	within uint64 // key of the places within the strata
}

// mostPoints is the greatest number of points of a study.
const mostPoints = 1_000_000_000

// NewLatin returns n points in some dimensions, drawn from a seed. n is taken
// within 1 … 1e9.
func NewLatin(n, dimensions int, seed uint64) Latin {
	l := Latin{uint64(min(max(n, 1), mostPoints)), make([]latinDimension, dimensions)}
	for d := range l.dimensions {
		r := rand.New(rand.NewPCG(seed, uint64(d)))
		l.dimensions[d] = latinDimension{newPermutation(l.n, r), r.Uint64()}
	}
	return l
}

// placeBits is the number of binary digits of the place within a stratum. With
// 2^30 strata they leave the sum exact, so that no point is rounded up into the
// next stratum.
const placeBits = 20

// Coordinate is one coordinate of point i: (stratum + place) / n.
func (l Latin) Coordinate(i, dimension int) float64 {
	d := &l.dimensions[dimension]
	place := mix(d.within+uint64(i)) >> (64 - placeBits)
	return (float64(d.strata.of(uint64(i))) + float64(place)/(1<<placeBits)) / float64(l.n)
}

// permutation is a keyed permutation of 0 … n-1 that takes no memory. A Feistel
// network permutes the numbers of an even count of binary digits; one that it
// sends beyond n is sent on until it comes back (J. Black and P. Rogaway,
// "Ciphers with arbitrary finite domains", CT-RSA 2002). There are less than 4n
// such numbers, so that fewer than four turns are taken on average.
type permutation struct {
	n    uint64
	half int // binary digits of each half
	keys [feistelRounds]uint64
}

// feistelRounds is the number of rounds. Four look random where there are many
// numbers (M. Luby and C. Rackoff, "How to construct pseudorandom permutations
// from pseudorandom functions", SIAM Journal on Computing 17, 373-386 (1988));
// with four to sixteen numbers, some pairs of places come too often up to eight.
const feistelRounds = 10

func newPermutation(n uint64, r *rand.Rand) permutation {
	p := permutation{n: n, half: (bits.Len64(n-1) + 1) / 2}
	for i := range p.keys {
		p.keys[i] = r.Uint64()
	}
	return p
}

// of is what takes the place of i.
func (p *permutation) of(i uint64) uint64 {
	for {
		if i = p.network(i); i < p.n {
			return i
		}
	}
}

// network permutes the numbers of 2·half binary digits.
func (p *permutation) network(i uint64) uint64 {
	mask := uint64(1)<<p.half - 1
	left, right := i>>p.half, i&mask
	for _, key := range p.keys {
		left, right = right, left^mix(key+right)&mask
	}
	return left<<p.half | right
}

// mix spreads a number over 64 binary digits: the output of SplitMix64 in its
// state z (G. L. Steele, D. Lea and C. H. Flood, "Fast splittable pseudorandom
// number generators", OOPSLA 2014).
func mix(z uint64) uint64 {
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}
