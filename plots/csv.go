package plots

import (
	"encoding/csv"
	"io"
	"strconv"

	"hotclimb/sim"
)

// CSV writes a trajectory as a table: a row of channel names, each ending in
// its unit, then one row per sample with six significant digits. A trajectory
// with channels of unequal length, or with a value that is not a finite
// number, is refused before anything is written.
func CSV(w io.Writer, t *sim.Trajectory) error {
	if err := checkTrajectory(t); err != nil {
		return err
	}
	record := make([]string, len(t.Channels))
	for i := range t.Channels {
		if err := finite(&t.Channels[i]); err != nil {
			return err
		}
		record[i] = t.Channels[i].Name
	}
	out := csv.NewWriter(w)
	if err := out.Write(record); err != nil {
		return err
	}
	for k := range t.Channels[0].Values {
		for i := range t.Channels {
			record[i] = strconv.FormatFloat(t.Channels[i].Values[k], 'g', 6, 64)
		}
		if err := out.Write(record); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}
