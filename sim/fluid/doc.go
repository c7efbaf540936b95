// Package fluid gives the properties of what flows through a cooled aircraft:
// dry and moist air, liquid water, glycol coolants and engine oil.
//
// Temperatures are °C, pressures Pa absolute, everything else SI. A [Liquid] is
// built once, with its composition folded into short polynomials of temperature
// alone, and is then read millions of times at a few nanoseconds a property.
//
// Temperatures outside the span in which a correlation makes sense are moved to
// the nearer end of that span (each function says which), so no finite input
// gives an infinite or undefined property. [Liquid.Range] says where the data
// behind a liquid end; reading outside it is possible, and each function says how.
//
// Left out: compressibility of liquids, air dissolved in them, corrosion
// inhibitors and additives, freezing slush, ageing and shear of oils, the
// real-gas factor of moist air (0.5 % of the humidity ratio), ice.
package fluid
