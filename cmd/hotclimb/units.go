package main

import "hotclimb/plots"

// How text is written for people; a plain name for each quantity of the command
// line.
type (
	measure = plots.Measure
	unit    = plots.Unit
)

var (
	temperature = plots.Temperature
	difference  = plots.Warmth
	height      = plots.Height
	airspeed    = plots.Airspeed
	climbRate   = plots.ClimbRate
	power       = plots.Power
	finePower   = plots.FinePower
	heat        = plots.Heat
	airFlow     = plots.AirFlow
	mass        = plots.Mass
	force       = plots.Force
	openingArea = plots.Opening
)
