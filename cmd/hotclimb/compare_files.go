package main

import (
	"fmt"

	"hotclimb/plots"
	"hotclimb/sweep/calibrate"
)

// writeFiles writes the comparison into a folder: the chart, the table, the faults
// of the logs, the scenario as it was run with its logs, and, last, the result.
func (o *comparison) writeFiles(dir string, records *recordSet) error {
	figure, err := o.chart()
	if err != nil {
		return fmt.Errorf("the chart cannot be drawn: %w", err)
	}
	files := append(images("compare", figure), outFile{"compare.csv", o.writeCSV}, records.faults(), asRun(o.scenario))
	files = append(files, logsOf(o.scenario)...)
	return writeAll(dir, append(files, outFile{"compare.json", o.writeJSON}))
}

// chart draws the differences with their intervals.
func (o *comparison) chart() (*plots.Figure, error) {
	var list []plots.Difference
	for i := range o.Differences {
		d := &o.Differences[i]
		if d.Circuits == [2]*calibrate.CircuitDifference{} {
			continue
		}
		list = append(list, plots.Difference{
			Name: d.Name, Note: counted(len(o.list[i+1].Records), "flight"),
			Coolant: charted(d.Circuits[0]), Oil: charted(d.Circuits[1]),
		})
	}
	caption := o.caption("Differences at "+o.where(), o.reference.Name)
	return plots.Differences(list, o.Baseline, o.units, caption)
}

// charted is a difference as a chart takes it; nil where there is none.
func charted(v *calibrate.CircuitDifference) *plots.Interval {
	if v == nil {
		return nil
	}
	verdict := "not distinguishable from noise"
	if v.Real {
		verdict = "real"
	}
	return &plots.Interval{Value: v.Value, Low: v.Low, High: v.High, Verdict: verdict}
}
