package main

import "hotclimb/sweep/calibrate"

// cautions stand under every result that someone may act on.
var cautions = []string{
	"An estimate, not a cooling test. Prove every change by a careful, stepwise",
	"flight-test programme over a place where an engine stop can be survived. Gauge",
	"limits and the engine maker's data rule. Follow the local aviation authority's",
	"rules and have the work inspected by a licensed or otherwise authorized person.",
}

// sprayCautions stand there too when water is sprayed.
var sprayCautions = []string{
	"Water spray has hazards of its own: the tank runs dry, nozzles block or freeze,",
	"and water reaches ignition and wiring. Know the climb without it.",
}

// climbCautions stand where more test flights are suggested.
var climbCautions = []string{
	"Test climbs have hazards of their own: a hot engine low and slow, and tape that",
	"comes off. Change one thing at a time, and end the climb at a caution mark.",
}

// hazardCautions stand under flights of that kind.
var hazardCautions = map[calibrate.Hazard][]string{
	calibrate.Taped: {
		"A taped or closed opening takes cooling away at once and cannot be opened in the",
		"air. Close it in steps, run up on the ground first, and use tape that no propeller,",
		"duct or control can catch when it comes off.",
	},
	calibrate.Slow: {
		"A slower climb has less air and less speed above the stall. The flight manual's",
		"speeds rule.",
	},
	calibrate.FullPower: {
		"Full power in level flight may pass the engine's time limits and the airframe's",
		"speeds. Those rule, in rough air all the more.",
	},
}

// testFlights adds what stands under flights that are proposed: for all, of which
// the second line is given, and for those of each kind that there are.
func (p *page) testFlights(watched string, has func(calibrate.Hazard) bool) {
	p.line("Test flights: where an engine stop can be survived, one step at a time, both gauges")
	p.line("%s", watched)
	for _, h := range []calibrate.Hazard{calibrate.Taped, calibrate.Slow, calibrate.FullPower} {
		if !has(h) {
			continue
		}
		for _, text := range hazardCautions[h] {
			p.line("%s", text)
		}
	}
}
