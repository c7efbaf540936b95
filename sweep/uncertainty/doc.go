// Package uncertainty carries the doubt of numbers through a formula: how far
// the results spread, and which of the numbers makes them spread.
//
//	Study → Propagate → Spread   mean, deviation, quantiles, chance to pass a limit
//	Study → Indices   → Sources  share of each group of inputs in the variance, the largest first
//
//	scenario → OfFlight  → FlightSpread   the same of its margins, and bands of its temperatures
//	scenario → WhereFrom → FlightSources  the same of its margins
//
// The formula is any function of several numbers with several results, of which
// many may be one history in time; a flight is one. Numbers are drawn as
// sweep.Draws does, normal within bounds, with their correlations, from a Sobol
// sequence or a Latin hypercube. Points are known by their number alone, and
// results are put where their number says, so that the outcome is the same to the
// last digit however many workers there are. A run that fails is told, never
// dropped in silence.
//
// It leaves out inputs of other shapes than the normal, shares of single inputs
// that are correlated with others, and shares of quantiles or chances: the indices
// divide the variance only.
package uncertainty
