package scenarios

import (
	"math"
	"strings"
)

// Exact definitions. "SP 811" is A. Thompson and B. N. Taylor, Guide for the
// Use of the International System of Units, NIST Special Publication 811, 2008
// edition, appendix B, quoted from memory; its bold factors are exact.
const (
	inch       = 0.0254                     // m, exact, SP 811
	foot       = 12 * inch                  // m, exact
	mile       = 5280 * foot                // m, exact, the international mile
	seaMile    = 1852.0                     // m, exact, SP 811
	gallon     = 231 * inch * inch * inch   // m^3, exact, US liquid gallon, SP 811
	imperial   = 4.54609e-3                 // m^3, exact, imperial gallon, SP 811
	pound      = 0.45359237                 // kg, exact, avoirdupois, SP 811
	gravity    = 9.80665                    // m/s^2, exact, standard gravity, SP 811
	poundForce = pound * gravity            // N, exact
	slug       = poundForce / foot          // kg: 1 lbf gives it 1 ft/s^2
	psi        = poundForce / (inch * inch) // Pa
	atmosphere = 101325.0                   // Pa, exact, SP 811
	inchHg     = 3386.389                   // Pa, conventional, mercury at 0 °C, SP 811
	inchWater  = 249.08891                  // Pa, conventional, water of 1000 kg/m^3, SP 811
	horsepower = 550 * foot * poundForce    // W, exact: 550 ft lbf/s
	metricHP   = 75 * gravity               // W, exact: 75 kgf m/s
	btu        = 1055.05585262              // J, exact, International Table, SP 811
	minute     = 60.0                       // s
	hour       = 3600.0                     // s
	turn       = 2 * math.Pi                // rad
	fahrenheit = 5.0 / 9.0                  // K per degree Fahrenheit, exact
)

// unit is a unit or a compound of units.
type unit struct {
	factor float64 // SI units in one of it
	powers powers
	zero   float64 // what a thermometer in this unit reads at 0 °C

	thermometer bool // may be the reading of a thermometer
	difference  bool // may be a temperature difference, or no temperature at all
}

// units is the table of units by what they measure: names that mean the same
// are separated by spaces, the usual one first. There are no prefixes beyond
// those listed.
var units = indexUnits([]unitGroup{
	{ofRatio, []unitRow{{"%", 0.01}}},
	{ofLength, []unitRow{
		{"m", 1}, {"mm", 1e-3}, {"cm", 1e-2}, {"km", 1e3}, {"µm μm um", 1e-6},
		{"in inch", inch}, {"ft", foot}, {"yd", 3 * foot}, {"mi", mile},
		{"thou mil", inch / 1000}, {"nmi NM", seaMile},
	}},
	{ofVolume, []unitRow{
		{"L l", 1e-3}, {"mL ml cc", 1e-6}, {"gal", gallon}, {"qt", gallon / 4},
		{"pt", gallon / 8}, {"floz", gallon / 128}, {"impgal", imperial},
	}},
	{ofMass, []unitRow{
		{"kg", 1}, {"g", 1e-3}, {"lb lbs lbm", pound}, {"oz", pound / 16}, {"slug", slug},
	}},
	{ofTime, []unitRow{{"s", 1}, {"min", minute}, {"h hr", hour}}},
	{ofAngle, []unitRow{{"rad", 1}, {"deg °", turn / 360}, {"rev", turn}}},
	{ofRotation, []unitRow{{"rpm", turn / minute}}},
	{ofSpeed, []unitRow{
		{"mph", mile / hour}, {"kt kn kts knot knots", seaMile / hour},
		{"fpm", foot / minute}, {"kph", 1000 / hour},
	}},
	{ofVolumeFlow, []unitRow{
		{"gpm", gallon / minute}, {"gph", gallon / hour}, {"cfm", foot * foot * foot / minute},
	}},
	{ofForce, []unitRow{{"N", 1}, {"kN", 1e3}, {"lbf", poundForce}}},
	{ofPressure, []unitRow{
		{"Pa", 1}, {"hPa mbar", 100}, {"kPa", 1e3}, {"MPa", 1e6}, {"mPa", 1e-3}, {"bar", 1e5},
		{"psi", psi}, {"psf", poundForce / (foot * foot)}, {"atm", atmosphere},
		{"inHg", inchHg}, {"mmHg", 133.3224}, {"inH2O", inchWater}, {"mmH2O", 9.80665},
	}},
	{ofEnergy, []unitRow{
		{"J", 1}, {"kJ", 1e3}, {"MJ", 1e6}, {"BTU Btu", btu}, {"Wh", hour}, {"kWh", 1e3 * hour},
	}},
	{ofPower, []unitRow{
		{"W", 1}, {"kW", 1e3}, {"MW", 1e6}, {"hp", horsepower}, {"PS", metricHP},
	}},
	{ofViscosity, []unitRow{{"cP", 1e-3}, {"P", 0.1}}},
	{ofTemperature, []unitRow{{"ddegF Δ°F", fahrenheit}, {"ddegC Δ°C", 1}}},
}, map[string]unit{
	"K":    {1, ofTemperature, 273.15, true, true},
	"degC": {1, ofTemperature, 0, true, false},
	"°C":   {1, ofTemperature, 0, true, false},
	"degF": {fahrenheit, ofTemperature, 32, true, false},
	"°F":   {fahrenheit, ofTemperature, 32, true, false},
	"degR": {fahrenheit, ofTemperature, 491.67, true, false},
})

type unitGroup struct {
	powers powers
	rows   []unitRow
}

type unitRow struct {
	names  string
	factor float64
}

// indexUnits adds the units of the groups to index, which holds those that
// are read from thermometers.
func indexUnits(groups []unitGroup, index map[string]unit) map[string]unit {
	for _, group := range groups {
		for _, row := range group.rows {
			for _, name := range strings.Fields(row.names) {
				index[name] = unit{factor: row.factor, powers: group.powers, difference: true}
			}
		}
	}
	return index
}
