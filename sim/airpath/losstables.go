package airpath

import (
	"math"
	"sort"
)

// The nodes of the expansion table: area ratios, full angles [°], and the loss
// with friction excluded.
//
// Source: I. E. Idelchik, Handbook of Hydraulic Resistance, 1966, conical
// diffusers.
var (
	expansionRatios = [...]float64{0, 0.05, 0.075, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6}
	expansionAngles = [...]float64{3, 6, 8, 10, 12, 14, 16, 20, 24, 30, 40, 60, 90, 180}
	expansionLosses = [...][len(expansionAngles)]float64{
		{0.03, 0.08, 0.11, 0.15, 0.19, 0.23, 0.27, 0.36, 0.47, 0.65, 0.92, 1.15, 1.1, 1.02},
		{0.03, 0.07, 0.1, 0.14, 0.16, 0.2, 0.24, 0.32, 0.42, 0.58, 0.83, 1.04, 0.99, 0.92},
		{0.03, 0.07, 0.09, 0.13, 0.16, 0.19, 0.23, 0.3, 0.4, 0.55, 0.79, 0.99, 0.95, 0.88},
		{0.03, 0.07, 0.09, 0.12, 0.15, 0.18, 0.22, 0.29, 0.38, 0.52, 0.75, 0.93, 0.89, 0.83},
		{0.02, 0.06, 0.08, 0.11, 0.14, 0.17, 0.2, 0.26, 0.34, 0.46, 0.67, 0.84, 0.79, 0.74},
		{0.02, 0.05, 0.07, 0.1, 0.12, 0.15, 0.17, 0.23, 0.3, 0.41, 0.59, 0.74, 0.7, 0.65},
		{0.02, 0.05, 0.06, 0.08, 0.1, 0.13, 0.15, 0.2, 0.26, 0.35, 0.47, 0.65, 0.62, 0.58},
		{0.02, 0.04, 0.05, 0.07, 0.09, 0.11, 0.13, 0.18, 0.23, 0.31, 0.4, 0.57, 0.54, 0.5},
		{0.01, 0.03, 0.04, 0.06, 0.07, 0.08, 0.1, 0.13, 0.17, 0.23, 0.33, 0.41, 0.39, 0.37},
		{0.01, 0.02, 0.03, 0.04, 0.05, 0.06, 0.07, 0.09, 0.12, 0.16, 0.23, 0.29, 0.28, 0.26},
		{0.01, 0.01, 0.02, 0.03, 0.03, 0.04, 0.05, 0.06, 0.08, 0.1, 0.15, 0.18, 0.17, 0.16},
	}
)

// ConicalDiffuser returns the loss K [-] of a conical diffuser, friction
// excluded, on the dynamic pressure upstream, where a is the area upstream over
// that downstream and angle the full included angle [rad].
//
// Source: I. E. Idelchik, Handbook of Hydraulic Resistance, 1966; bilinear
// between its nodes. Valid for 3° … 180° and a ≤ 0.6. Below 3° K falls
// linearly to 0 at no angle; above 0.6 it falls as (1 − a)² to 0 at a = 1.
func ConicalDiffuser(a, angle float64) float64 {
	a, deg := min(max(a, 0), 1), min(max(angle*180/math.Pi, 0), 180)
	last := expansionRatios[len(expansionRatios)-1]
	fade := 1.0
	if a > last {
		fade = SuddenExpansion(a) / SuddenExpansion(last)
		a = last
	}
	fade *= min(1, deg/expansionAngles[0])
	i, x := bracket(expansionRatios[:], a)
	j, y := bracket(expansionAngles[:], deg)
	low, high := &expansionLosses[i], &expansionLosses[i+1]
	return fade * blend(blend(low[j], low[j+1], y), blend(high[j], high[j+1], y), x)
}

// bracket returns the interval of nodes that holds v, and its place 0 … 1 in
// it, clamped to the ends.
func bracket(nodes []float64, v float64) (i int, x float64) {
	i = sort.SearchFloat64s(nodes, v) - 1
	i = min(max(i, 0), len(nodes)-2)
	return i, min(max((v-nodes[i])/(nodes[i+1]-nodes[i]), 0), 1)
}

// blend returns p at x = 0 and q at x = 1.
func blend(p, q, x float64) float64 { return p*(1-x) + q*x }

// along interpolates values linearly over nodes, held beyond the ends.
func along(nodes, values []float64, v float64) float64 {
	i, x := bracket(nodes, v)
	return blend(values[i], values[i+1], x)
}

// Loss of rounded entries over lip radius / duct diameter.
var (
	freeRadii  = [...]float64{0, 0.02, 0.05, 0.10, 0.16, 0.20}
	freeLosses = [...]float64{1.0, 0.74, 0.40, 0.15, 0.06, 0.03}
	wallRadii  = [...]float64{0, 0.01, 0.02, 0.03, 0.04, 0.05, 0.06, 0.08, 0.12, 0.16, 0.20}
	wallLosses = [...]float64{0.50, 0.44, 0.37, 0.31, 0.26, 0.22, 0.20, 0.15, 0.09, 0.06, 0.03}
)

// Bellmouth returns the loss K [-] of a rounded entry that stands free, on the
// dynamic pressure of the duct, from lip radius over duct diameter.
//
// Source: ASHRAE duct fitting 1-2; Idelchik diagram 3-4. Linear between the
// nodes, 1.0 for a sharp lip and 0.03 from r/D = 0.2.
func Bellmouth(radiusRatio float64) float64 {
	return along(freeRadii[:], freeLosses[:], radiusRatio)
}

// WallBellmouth returns the loss K [-] of a rounded entry set in a wall.
//
// Source: I. E. Idelchik, Handbook of Hydraulic Resistance, 1966. Linear
// between the nodes, 0.5 for a sharp edge and 0.03 from r/D = 0.2.
func WallBellmouth(radiusRatio float64) float64 {
	return along(wallRadii[:], wallLosses[:], radiusRatio)
}
