package sweep

import (
	"fmt"
	"math/bits"
	"math/rand/v2"
)

// SobolDimensions is the greatest number of dimensions of a Sobol sequence.
const SobolDimensions = len(joeKuo) + 1

// sobolBits is the number of binary digits of a coordinate; the sequence has
// 2^sobolBits points.
const sobolBits = 32

// Sobol is a Sobol sequence: points in the unit cube, of which any 2^k at the
// start are spread more evenly than chance would. Coordinates are multiples of
// 2^-32 from 0 on and less than 1.
//
// Points come in the order of the Gray code, after I. A. Antonov and
// V. M. Saleev, "An economic method of computing LPτ-sequences", USSR
// Computational Mathematics and Mathematical Physics 19(1), 252-256 (1979), as
// published tables have them. The point is computed from its number directly,
// so that any may be asked for in any order. Point 0, the corner (0, …, 0), is
// one of them: without it the first 2^k points are no balanced net any more
// (A. B. Owen, "On dropping the first Sobol' point", 2020). A shift moves it
// away from the corner.
type Sobol struct {
	dimensions []sobolDimension
}

// sobolDimension makes one coordinate.
type sobolDimension struct {
	direction [sobolBits]uint32 // v_k·2^32
	shift     uint32            // the coordinate of point 0, ·2^32
}

// NewSobol returns the sequence in 1 to SobolDimensions dimensions.
func NewSobol(dimensions int) (Sobol, error) {
	if dimensions < 1 || dimensions > SobolDimensions {
		return Sobol{}, fmt.Errorf("%d dimensions: a Sobol sequence here has 1 to %d", dimensions, SobolDimensions)
	}
	s := Sobol{make([]sobolDimension, dimensions)}
	for d := range s.dimensions {
		s.dimensions[d].direction = directions(d)
	}
	return s, nil
}

// directions are the direction numbers v_k·2^32 = m_k·2^(32-k) of dimension d,
// from 0. The first dimension has m_k = 1. The others continue their table by
//
//	m_k = 2 a_1 m_{k-1} ⊕ … ⊕ 2^{s-1} a_{s-1} m_{k-s+1} ⊕ 2^s m_{k-s} ⊕ m_{k-s}
//
// (Joe and Kuo 2008, eq. 2).
func directions(d int) (v [sobolBits]uint32) {
	if d == 0 {
		for k := range v {
			v[k] = 1 << (sobolBits - 1 - k)
		}
		return v
	}
	a, m := joeKuo[d-1][0], joeKuo[d-1][1:]
	s := len(m)
	for k := range v {
		if k < s {
			v[k] = uint32(m[k]) << (sobolBits - 1 - k)
			continue
		}
		v[k] = v[k-s] ^ v[k-s]>>s
		for j := 1; j < s; j++ {
			if a>>(s-1-j)&1 == 1 {
				v[k] ^= v[k-j]
			}
		}
	}
	return v
}

// Shifted returns the sequence with a digital shift drawn from a seed: each
// coordinate ⊕ a random one of its dimension. The points stay a net of the same
// quality, and each of them alone is spread evenly over the cube, so that means
// over several seeds are without bias and tell their own error.
func (s Sobol) Shifted(seed uint64) Sobol {
	shifted := Sobol{make([]sobolDimension, len(s.dimensions))}
	for d, from := range s.dimensions {
		shift := rand.New(rand.NewPCG(seed, uint64(d))).Uint32()
		shifted.dimensions[d] = sobolDimension{from.direction, from.shift ^ shift}
	}
	return shifted
}

// Coordinate is one coordinate of point i, which is less than 2^32.
func (s Sobol) Coordinate(i, dimension int) float64 {
	d := &s.dimensions[dimension]
	x := d.shift
	for gray := uint32(i ^ i>>1); gray != 0; gray &= gray - 1 {
		x ^= d.direction[bits.TrailingZeros32(gray)]
	}
	return float64(x) / (1 << sobolBits)
}
