package main

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
