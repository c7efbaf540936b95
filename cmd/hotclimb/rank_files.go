package main

import (
	"fmt"

	"hotclimb/plots"
	"hotclimb/sweep"
)

// Charts of a ranking.
const (
	rankChanges = "rank_changes"
	rankTenths  = "rank_tenths"
)

// writeFiles writes the ranking into a folder: the charts, the scenario as it
// was run, the table and the result.
func (k *ranking) writeFiles(dir string) error {
	charts, err := k.charts()
	if err != nil {
		return err
	}
	files := logsOf(k.scenario)
	for _, c := range charts {
		files = append(files, images(c.name, c.Figure)...)
	}
	return writeAll(dir, append(files, asRun(k.scenario), outFile{"rank.csv", k.writeCSV}, outFile{"rank.json", k.writeJSON}))
}

// charts are the gains of the changes and of the numbers, as far as there are
// any.
func (k *ranking) charts() ([]drawn, error) {
	var charts []drawn
	for _, chart := range []struct {
		name, title string
		gains       []plots.Gain
	}{
		{rankChanges, "Gain of margin by single changes", k.changeGains()},
		{rankTenths, "Gain of margin by numbers moved a tenth, the better way of each", k.tenthGains()},
	} {
		if len(chart.gains) == 0 {
			continue
		}
		figure, err := plots.Tornado(chart.gains, k.units, k.caption(chart.title))
		if err != nil {
			return nil, fmt.Errorf("the chart %s cannot be drawn: %w", chart.name, err)
		}
		charts = append(charts, drawn{chart.name, figure})
	}
	return charts, nil
}

func (k *ranking) changeGains() []plots.Gain {
	var gains []plots.Gain
	for i := range k.Changes {
		if s := &k.Changes[i]; s.Err == nil {
			gains = append(gains, plots.Gain{Name: s.Change.Name, Note: s.Change.Title, Coolant: s.Gain[sweep.Coolant], Oil: s.Gain[sweep.Oil]})
		}
	}
	return gains
}

// tenthGains are those of the way, up or down, that leaves more margin.
func (k *ranking) tenthGains() []plots.Gain {
	var gains []plots.Gain
	for i := range k.Tenths {
		t := &k.Tenths[i]
		e, sign := &t.Up, "+"
		if e.Err != nil || t.Down.Err == nil && t.Down.LeastGain > e.LeastGain {
			e, sign = &t.Down, "−"
		}
		if e.Err == nil {
			gains = append(gains, plots.Gain{Name: t.Param.Path, Note: sign + shownStep(t), Coolant: e.Gain[sweep.Coolant], Oil: e.Gain[sweep.Oil]})
		}
	}
	return gains
}
