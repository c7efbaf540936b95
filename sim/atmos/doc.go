// Package atmos gives the air an aircraft flies through: pressure, temperature,
// density, speed of sound and viscosity against altitude on a standard, offset
// or regulation hot day; airspeed conversions; and the correction of recorded
// temperatures to the hot day.
//
// Altitudes are pressure altitudes, that is geopotential altitudes [m] of the
// standard atmosphere: every [Day] keeps the standard pressure and only changes
// the temperature. Written for the troposphere, to 11 000 m; continued at
// constant temperature to 20 000 m and downward to −500 m.
//
// Left out: humidity (it makes saturated air at 38 °C about 2.5 % lighter, and
// everyday air less than 1 %), wind, pressure systems, inversions, the
// difference of geopotential and geometric altitude (0.05 % at 3000 m), the
// position error of an airspeed system.
package atmos
