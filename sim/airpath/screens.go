package airpath

// The losses of screens are on the dynamic pressure of the approach, from
// their open fraction α. All are +Inf when shut and 0 when fully open.

// GrilleLoss returns the loss of a thick grille, whose air attaches again
// within the bars: K = [0.5·(1 − α) + 1 − α²]/α².
//
// Source: R. D. Blevins, Applied Fluid Dynamics Handbook, 1984.
func GrilleLoss(open float64) float64 {
	a := min(max(open, 0), 1)
	return (0.5*(1-a) + 1 - a*a) / (a * a)
}

// Loss of a thin plate with square-edged holes over its open fraction, by
// approach, times the α² that carries most of the trend.
var (
	plateFractions = [...]float64{0.4, 0.5, 0.6, 0.7, 0.8, 1}
	plateLosses    = [...]float64{7.7 * 0.16, 3.8 * 0.25, 2.0 * 0.36, 1.1 * 0.49, 0.53 * 0.64, 0}
)

// PlateLoss returns the loss of a perforated plate or a screen of square edge.
//
// Source: R. D. Blevins, Applied Fluid Dynamics Handbook, 1984, at α 0.4, 0.5,
// 0.6, 0.7, 0.8. K·α² is linear between the nodes and to K = 0 at α = 1, and
// held below 0.4.
func PlateLoss(open float64) float64 {
	a := min(max(open, 0), 1)
	return along(plateFractions[:], plateLosses[:], a) / (a * a)
}

// Factor on the loss of round-wire screens over the Reynolds number.
var (
	wireReynolds = [...]float64{20, 30, 40, 60, 80, 100, 200, 400}
	wireFactors  = [...]float64{1.3, 1.1, 0.95, 0.83, 0.75, 0.70, 0.60, 0.52}
)

// WireLoss returns the loss of a screen of round wires at a Reynolds number of
// the wire diameter and the speed between the wires:
//
//	K = c(Re)·(1 − α²)/α²
//
// Source: R. D. Blevins, Applied Fluid Dynamics Handbook, 1984, with c from
// memory: 1.3 at Re 20, 0.70 at 100, 0.52 from 400. Linear between the nodes
// and held beyond them, where it is too low for Re < 20.
func WireLoss(open, reynolds float64) float64 {
	a := min(max(open, 0), 1)
	return along(wireReynolds[:], wireFactors[:], reynolds) * (1 - a*a) / (a * a)
}
