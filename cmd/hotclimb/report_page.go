package main

import (
	"strings"

	"hotclimb/plots/report"
)

// page puts the report together.
func (r *reporting) page() (*report.Report, error) {
	o := r.flown.of
	histories, err := r.flown.blocks()
	if err != nil {
		return nil, err
	}
	cowls, err := r.flown.cowls()
	if err != nil {
		return nil, err
	}
	page := &report.Report{
		Title: o.scenario.Title, Status: r.flown.worst().result.Status, Answer: r.answer(),
		Cautions: r.cautions(), Hash: o.hash, Tool: name, Version: version,
		Sections: []report.Section{
			{Title: "All cases", Blocks: []report.Block{r.flown.cases()}},
			{Title: "Both temperatures over time", Blocks: histories},
			{Title: "Where the air and the heat go", Blocks: cowls},
		},
	}
	for _, q := range r.parts {
		s, err := q.section()
		if err != nil {
			return nil, err
		}
		page.Sections = append(page.Sections, s)
	}
	inputs, err := inputs(o.scenario)
	if err != nil {
		return nil, err
	}
	page.Sections = append(page.Sections, report.Section{Title: "Inputs", Blocks: inputs})
	if list := told(r.warnings()); len(list) > 0 {
		page.Sections = append(page.Sections, report.Section{Title: "Warnings", Blocks: []report.Block{report.List(list...)}})
	}
	return page, nil
}

// warnings are those of all parts.
func (r *reporting) warnings() []warning {
	list := r.flown.of.warnings()
	for _, q := range r.parts {
		list = append(list, warningsOf(q.finding)...)
	}
	return list
}

// warningsOf are those of what was found, nothing when there are none.
func warningsOf(f finding) []warning {
	if w, ok := f.(interface{ warnings() []warning }); ok {
		return w.warnings()
	}
	return nil
}

// cautions are those of all parts, a sentence or two each.
func (r *reporting) cautions() []string {
	sprays := r.flown.sprays()
	tests := false
	for _, q := range r.parts {
		tests = tests || q.word == testsPart
		sprays = sprays || q.finding != nil && q.sprays()
	}
	return cautionsFor(sprays, tests)
}

// cautionsFor are the cautions of what is sprayed, and where test flights are
// suggested.
func cautionsFor(sprays, tests bool) []string {
	list := []string{strings.Join(cautions, " ")}
	if sprays {
		list = append(list, strings.Join(sprayCautions, " "))
	}
	if tests {
		list = append(list, strings.Join(climbCautions, " "))
	}
	return list
}
