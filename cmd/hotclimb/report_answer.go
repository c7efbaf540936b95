package main

import (
	"fmt"
	"slices"
	"strings"

	"hotclimb/plots"
	"hotclimb/sim"
	"hotclimb/sweep/optimum"
)

// answer is the job and its answer. The first sentence is the one that matters.
func (r *reporting) answer() []string {
	k := r.flown.worst()
	over := r.overLimit()
	if len(over) == 0 {
		return slices.Concat([]string{r.margin(k)}, r.atCaution(), r.boiling(), r.unfinished(), r.holdsTo())
	}
	cure, beside := r.cure()
	first := firstLimit(k.result)
	list := []string{fmt.Sprintf("On a %s day this %s reaches the %s limit after %s; %s.",
		fieldTemperature(r.flown.of.units, k), r.flightOf(k, first.TimeToLimit), circuitOf(first), limitAfter(k.result), cure)}
	list = append(list, beside...)
	list = append(list, r.othersOver(k, over)...)
	return slices.Concat(list, r.boiling(), r.unfinished(), r.holdsTo())
}

// overLimit are the cases that pass a limit.
func (r *reporting) overLimit() []*flown {
	return slices.DeleteFunc(slices.Clone(r.flown.of.cases), func(k *flown) bool { return firstLimit(k.result) == nil })
}

// fieldTemperature is how warm it is at the field, as in 97 °F.
func fieldTemperature(u plots.Units, k *flown) string {
	w := &k.plant.Weather
	return strings.Replace(temperature.Show(u, w.Day.Temperature(w.Elevation)), ".0 ", " ", 1)
}

// flightOf is what is flown at a time of a flight, with the name of its case where
// the scenario names cases: climb (hot_tow).
func (r *reporting) flightOf(k *flown, time float64) string {
	kind := kindOfFlight(k, time)
	if len(r.flown.of.scenario.Cases) == 0 {
		return kind
	}
	return kind + " (" + k.name + ")"
}

// kindOfFlight is climb where the aircraft takes off or climbs at a time of its
// flight.
func kindOfFlight(k *flown, time float64) string {
	for _, span := range k.result.Legs {
		for _, leg := range k.scenario.Flight.Legs {
			if leg.Name == span.Name && (leg.Kind == "climb" || leg.Kind == "take_off") && span.Start <= time && time <= span.End {
				return "climb"
			}
		}
	}
	return "flight"
}

// margin says how much is left when all cases keep their limits.
func (r *reporting) margin(k *flown) string {
	least, soFar := leastPeak(k.result), ""
	if k.result.Incomplete != "" {
		soFar = " as far as it was flown"
	}
	text := fmt.Sprintf("On a %s day this %s keeps its limits%s: %s are left to the %s limit",
		fieldTemperature(r.flown.of.units, k), r.flightOf(k, least.Time), soFar, difference.Show(r.flown.of.units, least.Margin), circuitOf(least))
	if n := len(r.flown.of.cases); n > 1 {
		text += fmt.Sprintf(", the least of all %d cases", n)
	}
	return text + doubted(least.Margin) + "."
}

// atCaution names the cases that are above a caution mark.
func (r *reporting) atCaution() []string {
	var names []string
	for _, k := range r.flown.of.cases {
		if k.result.Status == sim.Caution {
			names = append(names, k.name)
		}
	}
	if len(names) == 0 {
		return nil
	}
	return []string{"Above a caution mark: " + strings.Join(names, ", ") + "."}
}

// othersOver tells the other cases that pass a limit.
func (r *reporting) othersOver(told *flown, over []*flown) []string {
	var list []string
	for _, k := range over {
		if k != told {
			list = append(list, fmt.Sprintf("%s passes a limit too: %s, after %s.", k.name, circuitOf(firstLimit(k.result)), limitAfter(k.result)))
		}
	}
	return list
}

// boiling tells the cases in which the coolant boils, which is no limit of a gauge.
func (r *reporting) boiling() []string {
	var list []string
	for _, k := range r.flown.of.cases {
		if over := -k.result.BoilMargin; over >= 0 {
			list = append(list, fmt.Sprintf("In %s the coolant boils: it passes its boiling point by %s, and from there the estimate flatters.", k.name, difference.Show(r.flown.of.units, over)))
		}
	}
	return list
}

// unfinished tells the flights that did not reach their end.
func (r *reporting) unfinished() []string {
	var list []string
	for _, k := range r.flown.of.cases {
		if leg := k.result.Incomplete; leg != "" {
			list = append(list, fmt.Sprintf("In %s, leg %s did not reach its end: what is said of it is not the whole flight.", k.name, leg))
		}
	}
	return list
}

// holdsTo says how hot a day the climb stands.
func (r *reporting) holdsTo() []string {
	f := findingOf[*limitsFinding](r)
	if f == nil || f.of.table.Own.Bound == optimum.NoClimb {
		return nil
	}
	head, at, rest := ceilingWords(f.of.units, &f.of.table.Own)
	name := f.of.table.Case
	if len(r.flown.of.scenario.Cases) == 0 {
		name = "this climb"
	}
	return []string{fmt.Sprintf("As it is, %s is %s%s%s.", name, head, at, rest)}
}

// findingOf is what a part of a kind found, nil when there is none.
func findingOf[F finding](r *reporting) F {
	var none F
	for _, q := range r.parts {
		if f, ok := q.finding.(F); ok {
			return f
		}
	}
	return none
}
