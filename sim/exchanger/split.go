package exchanger

import (
	"fmt"
	"math"
)

// Split works out how parallel cores share one liquid flow. Core i costs
// Δp = resistance[i]·ṁ_i^exponent; equal drops give
//
//	share_i = R_i^{−1/n}/Σ_j R_j^{−1/n}
//
// written to share, which must be as long as resistance. A resistance of +Inf
// is a closed branch. It allocates nothing.
//
// Errors: lengths that differ, no open branch, a resistance or an exponent that
// is not above 0.
func Split(resistance []float64, exponent float64, share []float64) error {
	if len(resistance) != len(share) {
		return fmt.Errorf("split: %d resistances but %d shares", len(resistance), len(share))
	}
	if !(exponent > 0) {
		return fmt.Errorf("split: exponent %g must be above 0", exponent)
	}
	sum := 0.0
	for i, r := range resistance {
		if !(r > 0) {
			return fmt.Errorf("split: resistance %g of branch %d must be above 0", r, i+1)
		}
		share[i] = math.Pow(r, -1/exponent)
		sum += share[i]
	}
	if !(sum > 0) {
		return fmt.Errorf("split: none of %d branches is open", len(resistance))
	}
	for i := range share {
		share[i] /= sum
	}
	return nil
}
