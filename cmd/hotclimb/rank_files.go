package main

import (
	"fmt"

	"hotclimb/plots"
	"hotclimb/sweep"
)

// writeFiles writes the ranking into a folder: the charts, the scenario as it
// was run, the table and the result.
func (k *ranking) writeFiles(dir string) error {
	files, err := k.charts()
	if err != nil {
		return err
	}
	files = append(files, logsOf(k.scenario)...)
	return writeAll(dir, append(files, asRun(k.scenario), outFile{"rank.csv", k.writeCSV}, outFile{"rank.json", k.writeJSON}))
}

// charts are the gains of the changes and of the numbers, as far as there are
// any.
func (k *ranking) charts() ([]outFile, error) {
	var files []outFile
	for _, chart := range []struct {
		name, title string
		gains       []plots.Gain
	}{
		{"rank_changes", "Gain of margin by single changes", k.changeGains()},
		{"rank_tenths", "Gain of margin by numbers moved a tenth, the better way of each", k.tenthGains()},
	} {
		if len(chart.gains) == 0 {
			continue
		}
		figure, err := plots.Tornado(chart.gains, k.units, k.caption(chart.title))
		if err != nil {
			return nil, fmt.Errorf("the chart %s cannot be drawn: %w", chart.name, err)
		}
		files = append(files, images(chart.name, figure)...)
	}
	return files, nil
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
