package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"hotclimb/plots"
	"hotclimb/sweep"
	"hotclimb/sweep/calibrate"
)

// fittedName is the overlay in the folder of --out, and fittedHead its first line.
const (
	fittedName = "fitted.yaml"
	fittedHead = "# Numbers found by " + name + " fit"
)

// checkWrite refuses to overwrite a file that fit did not write, or one that is
// read now.
func (f *fitFlags) checkWrite(file string, c *common) error {
	if f.write == "" {
		return nil
	}
	there, err := os.Stat(f.write)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return badInputf("--write %s: %w", f.write, reason(err))
	}
	for _, source := range append([]string{file}, c.over...) {
		if read, err := os.Stat(source); err == nil && os.SameFile(read, there) {
			return badInputf("--write %s would overwrite a file that is read; name another", f.write)
		}
	}
	in, err := os.Open(f.write)
	if err != nil {
		return badInputf("--write %s: %w", f.write, reason(err))
	}
	defer func() { _ = in.Close() }() // it was only read
	if line, _ := bufio.NewReader(in).ReadString('\n'); !strings.HasPrefix(line, fittedHead) {
		return badInputf("--write %s: is there and was not written by fit; name another file", f.write)
	}
	return nil
}

// writeAll writes the overlay, and everything else into the folder of --out.
func (z *fitted) writeAll(dir, overlay string) error {
	if overlay != "" {
		if err := writeWhole(overlay, z.writeOverlay); err != nil {
			return err
		}
	}
	if dir == "" {
		return nil
	}
	files := append(logsOf(z.scenario), asRun(z.scenario), z.set.faults())
	charts, err := z.charts()
	if err != nil {
		return err
	}
	for _, c := range charts {
		files = append(files, images(c.name, c.Figure)...)
	}
	files = append(files, outFile{fittedName, z.writeOverlay}, outFile{"fit_readings.csv", z.writeReadings},
		outFile{"fit.csv", z.writeCSV}, outFile{"fit.json", z.writeJSON})
	return writeAll(dir, files)
}

// writeOverlay writes the numbers found as an overlay of the scenario.
func (z *fitted) writeOverlay(w io.Writer) error {
	b := &strings.Builder{}
	fmt.Fprintf(b, "%s for: %s\n", fittedHead, z.scenario.Title)
	fmt.Fprintf(b, "# Lay it over the same scenario: --over FILE")
	if len(z.over) > 0 {
		var names []string
		for _, o := range z.over {
			names = append(names, filepath.Base(o))
		}
		fmt.Fprintf(b, ", after %s", strings.Join(names, ", "))
	}
	fmt.Fprintf(b, "\n# Flight records, %s: %s\n", counted(z.readingCount(), "reading"), strings.Join(z.dated(), ", "))
	fmt.Fprintf(b, "# Do not fit these again on top of it: they would count twice.\n")
	fmt.Fprintf(b, "# An estimate: prove every change by a careful flight-test programme.\n")
	tree := section{}
	for i := range z.Numbers {
		n := &z.Numbers[i]
		tree.put(strings.Split(n.Param.Path, "."), n.Text()+"   # before: "+n.Param.Text(z.base))
	}
	tree.write(b, "")
	if list := z.Correlations(z.base); len(list) > 0 {
		b.WriteString("correlations:\n")
		for _, r := range list {
			fmt.Fprintf(b, "  - {name: %s, of: %s, with: %s, value: %s}\n", r.Name, r.Of, r.With, strconv.FormatFloat(r.Value.Value, 'f', -1, 64))
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// dated are the records with their dates.
func (z *fitted) dated() []string {
	var list []string
	for _, r := range z.set.records {
		text := r.Name
		if r.Test.Date != "" {
			text += " (" + r.Test.Date + ")"
		}
		list = append(list, text)
	}
	return list
}

func (z *fitted) readingCount() int {
	n := 0
	for _, r := range z.set.records {
		n += len(r.Readings)
	}
	return n
}

// charts draws model against readings, what is left between them, and the numbers.
func (z *fitted) charts() ([]drawn, error) {
	var names []string
	for _, r := range z.set.records {
		names = append(names, r.Name)
	}
	caption := func(title string) plots.Caption { return z.caption(title, names...) }
	parity, err := plots.Parity(z.drawn(), z.units, caption("Readings and the model fitted to them"))
	if err != nil {
		return nil, fmt.Errorf("the parity chart cannot be drawn: %w", err)
	}
	residuals, err := plots.Residuals(z.drawn(), z.units, caption("Readings less the model fitted to them"))
	if err != nil {
		return nil, fmt.Errorf("the chart of residuals cannot be drawn: %w", err)
	}
	numbers, err := plots.Posterior(z.drawnNumbers(), z.matrix(), caption("Numbers before and after the flight records"))
	if err != nil {
		return nil, fmt.Errorf("the chart of the numbers cannot be drawn: %w", err)
	}
	return []drawn{{"fit_parity", parity}, {"fit_residuals", residuals}, {"fit_numbers", numbers}}, nil
}

// drawn are the records as charts take them.
func (z *fitted) drawn() []plots.FlightRecord {
	var list []plots.FlightRecord
	for i := range z.Records {
		r := &z.Records[i]
		f := plots.FlightRecord{Name: r.Record.Name}
		for k, m := range r.Record.Readings {
			g := &f.Coolant
			if m.Circuit == sweep.Oil {
				g = &f.Oil
			}
			g.Time, g.Read, g.Model = append(g.Time, (m.From+m.To)/2), append(g.Read, m.Value), append(g.Model, r.Model[k])
			g.Noise = r.Record.Gauge(m.Circuit).Noise.Value
		}
		list = append(list, f)
	}
	return list
}

func (z *fitted) drawnNumbers() []plots.FittedNumber {
	var list []plots.FittedNumber
	for i := range z.Numbers {
		n := &z.Numbers[i]
		list = append(list, plots.FittedNumber{
			Name: n.Param.Path, Unit: n.Unit, Prior: n.In(n.Before), Doubt: n.DoubtIn(n.Before, n.Doubt),
			Value: n.In(n.After), After: n.DoubtIn(n.After, n.Left), Held: held(n),
		})
	}
	return list
}

// held is a word on the bound where a number rests.
func held(n *calibrate.SharpNumber) string {
	return map[int]string{-1: "at its least", 1: "at its greatest"}[n.Bound]
}

func (z *fitted) matrix() [][]float64 {
	m := make([][]float64, len(z.Numbers))
	for j := range m {
		for k := range m {
			m[j] = append(m[j], z.Correlation.At(j, k))
		}
	}
	return m
}
