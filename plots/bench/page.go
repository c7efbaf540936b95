package bench

import (
	"cmp"
	"slices"

	"hotclimb/plots"
	"hotclimb/scenarios"
)

// Page is what the template page shows.
type Page struct {
	Title, File, Version string
	Notes                string // of the scenario, may be empty

	Cases   []CaseEntry // all, in the order of the file
	Shown   string      // name of the case that is shown at first
	Sliders []Slider    // of all cases: those of one case have its name
	Cores   []Core
	Changes []ChangeEntry
	Paths   []string // of all numbers and words that can be set in some case
	Studies []Study
	Saves   bool // the scenario can be downloaded
	Logs    bool // it names logs of flights, which do not come with it

	Result   *Result // of the scenario as filed
	Cautions []string
}

// CaseEntry is a case of the scenario.
type CaseEntry struct {
	Name, Title string // the title may be empty
	Shown       bool   // at first
}

// Core is an exchanger that can be moved to the other circuit.
type Core struct {
	Name    string
	Path    string   // exchangers.oil_cooler.serves
	Serves  string   // in the case that is shown: coolant or oil
	Choices []string // what it can serve
}

// ChangeEntry is a candidate change, with what it takes as people read it; "" for
// what it does not take.
type ChangeEntry struct {
	Name, Title         string   // the title may be empty
	Cost, Hours, Weight string   // 30; 8; +0.2 lb
	Sets                []string // exits.aft_ring.area = 100 in²
}

func hasLog(t *scenarios.Test) bool { return t.Log != "" }

// page is that of the scenario as filed, flown.
func (s *server) page(now *flownState, shown int) *Page {
	p := &Page{
		Title: s.Scenario.Title, File: s.File, Version: s.Version, Notes: s.Scenario.Notes,
		Shown: now.cases[shown].Name, Sliders: s.slidersAt(now.cases[shown]), Changes: s.changeEntries(), Paths: s.paths(),
		Studies: s.Studies, Saves: s.Rewrite != nil, Logs: slices.ContainsFunc(s.Scenario.Tests, hasLog),
		Result: s.result(now, nil, shown), Cautions: s.Cautions,
	}
	for i, k := range now.cases {
		p.Cases = append(p.Cases, CaseEntry{k.Name, k.Title, i == shown})
	}
	serves := cores(now.cases[shown])
	for _, c := range s.cores {
		c.Serves = serves[c.Name]
		p.Cores = append(p.Cores, c)
	}
	return p
}

// paths are those of every number and word that some case has.
func (s *server) paths() []string {
	var list []string
	known := map[string]bool{}
	for _, k := range s.filed {
		for _, path := range k.Scenario.Paths() {
			if !known[path] {
				known[path] = true
				list = append(list, path)
			}
		}
	}
	return list
}

// changeEntries are the candidate changes of the scenario.
func (s *server) changeEntries() []ChangeEntry {
	var list []ChangeEntry
	for _, c := range s.Scenario.Changes {
		e := ChangeEntry{Name: c.Name, Title: c.Title}
		ratio := scenarios.DimensionOf[scenarios.Ratio]()
		if c.Cost.Value != 0 {
			e.Cost = scenarios.Format(c.Cost.Value, "", ratio)
		}
		if c.Hours.Value != 0 {
			e.Hours = scenarios.Format(c.Hours.Value, "", ratio)
		}
		if c.Weight.Value != 0 {
			e.Weight = plots.Mass.Change(s.units, c.Weight.Value)
		}
		for _, one := range scenarios.Settings(c.Set) {
			e.Sets = append(e.Sets, one.Path+" = "+plots.Pretty(one.Text))
		}
		list = append(list, e)
	}
	return list
}

// coresOf are the exchangers in the air, which can serve either circuit, by name.
func coresOf(cases []scenarios.CaseScenario) []Core {
	var list []Core
	for name, x := range cases[0].Scenario.Exchangers {
		if x.CooledBy != "coolant" {
			list = append(list, Core{Name: name, Path: "exchangers." + name + ".serves", Choices: []string{"coolant", "oil"}})
		}
	}
	slices.SortFunc(list, func(a, b Core) int { return cmp.Compare(a.Name, b.Name) })
	return list
}

// cores are what each exchanger in the air serves in a case.
func cores(k readyCase) map[string]string {
	serves := map[string]string{}
	for name, x := range k.Scenario.Exchangers {
		if x.CooledBy != "coolant" {
			serves[name] = x.Serves
		}
	}
	return serves
}
