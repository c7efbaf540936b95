// Package uncertainty carries the doubt of numbers through a formula: how far
// the results spread, and which of the numbers makes them spread.
//
//	Study → Propagate → Spread   mean, deviation, quantiles, chance to pass a limit
//	Study → Indices   → Sources  share of each input in the variance, the largest first
//
// The formula is any function of several numbers with several results, of which
// many may be one history in time. Nothing here knows what the numbers mean.
//
// Inputs are normal within bounds, independent or with a covariance. Points come
// from a Sobol sequence or a Latin hypercube, by their number alone, and results
// are put where their number says, so that the outcome is the same to the last
// digit however many workers there are. A run that fails is told, never dropped
// in silence.
//
// It leaves out inputs of other shapes than the normal, shares of inputs that
// are correlated, and shares of quantiles or chances: the indices divide the
// variance only.
package uncertainty
