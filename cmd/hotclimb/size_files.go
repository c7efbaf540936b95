package main

import (
	"fmt"
	"io"
	"maps"
	"math"
	"slices"
	"strings"

	"hotclimb/plots"
	"hotclimb/scenarios"
	"hotclimb/sweep"
)

// overlayName is the file that holds the sizes to build, for --over.
const overlayName = "sized.yaml"

// writeFiles writes the result into a folder: the scenario as it was run, the
// sizes to build as an overlay, the charts, the table and the result.
func (z *sized) writeFiles(dir string) error {
	charts, err := z.charts()
	if err != nil {
		return err
	}
	files := append(logsOf(z.scenario), asRun(z.scenario))
	if z.Fits {
		files = append(files, outFile{overlayName, z.writeOverlay})
	}
	for _, name := range sizeCharts {
		if f := charts[name]; f != nil {
			files = append(files, images("size_"+name, f)...)
		}
	}
	return writeAll(dir, append(files, outFile{"size.csv", z.writeCSV}, outFile{"size.json", z.writeJSON}))
}

// sizeCharts are the charts that there may be.
var sizeCharts = []string{"contour", "trade"}

// charts draws what there is to draw.
func (z *sized) charts() (map[string]*plots.Figure, error) {
	charts := map[string]*plots.Figure{}
	caption := z.caption("", caseNames(z.Cases)...)
	var err error
	if z.plan != nil {
		c := caption
		c.Scenario += z.others()
		if charts["contour"], err = plots.Contour(z.contour(), z.units, c); err != nil {
			return nil, fmt.Errorf("the contour chart cannot be drawn: %w", err)
		}
	}
	if len(z.trade) > 0 {
		var points []plots.FrontPoint
		for i := range z.trade {
			t := &z.trade[i]
			points = append(points, plots.FrontPoint{Margin: t.Margin, DragPower: t.Design.Drag, Area: t.Design.AllArea})
		}
		caption.Scenario += z.overruled()
		present := plots.FrontPoint{Margin: z.leastFiled(), DragPower: z.Start.Drag, Area: z.Start.AllArea}
		if charts["trade"], err = plots.Front(points, present, z.units, caption); err != nil {
			return nil, fmt.Errorf("the chart of the trade cannot be drawn: %w", err)
		}
	}
	return charts, nil
}

// leastFiled is the least margin of the file as it stands [K].
func (z *sized) leastFiled() float64 {
	least := math.Inf(1)
	for i := range z.Start.Flights {
		least = math.Min(least, z.Start.Flights[i].Margin())
	}
	return least
}

// contour is what the contour chart shows.
func (z *sized) contour() plots.ContourData {
	d := plots.ContourData{
		X: z.axis(0, z.plan.X), Y: z.axis(1, z.plan.Y), Coolant: z.plan.Coolant, Oil: z.plan.Oil,
		NeedCoolant: z.CoolantMargin, NeedOil: z.OilMargin, Optimum: z.onChart(z.Best.X), NothingFits: !z.Fits,
	}
	if f := z.Factors; within(z.Start.X[0], f[0]) && within(z.Start.X[1], f[1]) {
		d.Present = z.onChart(z.Start.X)
	}
	return d
}

// others says at what the numbers stay that the contour chart does not move, for
// the mark of the present design as well.
func (z *sized) others() string {
	var held []string
	for i := 2; i < len(z.Factors); i++ {
		held = append(held, fmt.Sprintf("%s at %s (as filed %s)", z.Factors[i].Param.Path, z.value(i, z.Best.X[i]), z.value(i, z.Start.X[i])))
	}
	if held == nil {
		return ""
	}
	return " · drawn with " + strings.Join(held, ", ")
}

// overruled says which cases lose numbers of their own: the present design has
// them, and may lie where one size for all cases cannot.
func (z *sized) overruled() string {
	text := ""
	for _, n := range z.ownNumbers() {
		text += " · " + n + ", on the line one size serves all"
	}
	return text
}

func within(x float64, f sweep.Factor) bool { return f.Lo <= x && x <= f.Hi }

func (z *sized) axis(i int, values []float64) plots.Axis {
	q := z.Factors[i].Param
	a := plots.Axis{Label: q.Path, Unit: plots.Pretty(z.unit(i))}
	for _, v := range values {
		a.Values = append(a.Values, z.shown(i, v))
	}
	return a
}

func (z *sized) onChart(x []float64) *[2]float64 {
	return &[2]float64{z.shown(0, x[0]), z.shown(1, x[1])}
}

// writeOverlay writes the sizes to build as an overlay of the scenario: into its
// sections, and into the settings of every case that sets the same number
// itself, which would come on top.
func (z *sized) writeOverlay(w io.Writer) error {
	b := &strings.Builder{}
	fmt.Fprintf(b, "# Sizes to build, found by %s size for: %s\n", name, strings.Join(caseNames(z.Cases), ", "))
	fmt.Fprintf(b, "# An estimate: prove it by a careful flight-test programme.\n")
	tree := section{}
	for i, f := range z.Factors {
		if _, err := z.scenario.Compile(f.Param.Path); err == nil {
			tree.put(strings.Split(f.Param.Path, "."), z.exact(i))
		}
	}
	tree.write(b, "")
	var own []string
	for _, k := range z.scenario.Cases {
		own = append(own, z.ownSettings(k)...)
	}
	if len(own) > 0 {
		fmt.Fprintf(b, "cases:\n%s", strings.Join(own, ""))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// exact is the size to build of factor i as the file takes it, with its shape as
// a comment.
func (z *sized) exact(i int) string {
	text := scenarios.Exact(z.Sized.Build.Pieces[i].Value, z.unit(i), z.Factors[i].Param.Dimension)
	if shape := z.shape(i); shape != "" {
		text += "   # " + shape
	}
	return text
}

// ownSettings are the lines of a case that has numbers of its own for factors.
func (z *sized) ownSettings(k *scenarios.Case) []string {
	var lines []string
	for i, f := range z.Factors {
		if z.isOwn(k, f.Param.Path) {
			lines = append(lines, fmt.Sprintf("      %s: %s\n", f.Param.Path, z.exact(i)))
		}
	}
	if len(lines) > 0 {
		lines = slices.Insert(lines, 0, fmt.Sprintf("  - name: %s\n    set:\n", k.Name))
	}
	return lines
}

// isOwn says that a case that was flown does not take a number from the file: it
// sets it, or it has a day or a flight of its own with it.
func (z *sized) isOwn(k *scenarios.Case, path string) bool {
	i := slices.IndexFunc(z.Cases, func(c scenarios.CaseScenario) bool { return c.Name == k.Name })
	if i < 0 {
		return false
	}
	if _, sets := k.Set[path]; sets {
		return true
	}
	_, err := z.Cases[i].Scenario.Compile(path)
	return err == nil && (k.Day != nil && strings.HasPrefix(path, "day.") || k.Flight != nil && strings.HasPrefix(path, "flight."))
}

// section is a section of an overlay: values, and sections by name.
type section map[string]any

// put places a value.
func (s section) put(keys []string, value string) {
	if len(keys) == 1 {
		s[keys[0]] = value
		return
	}
	sub, ok := s[keys[0]].(section)
	if !ok {
		sub = section{}
		s[keys[0]] = sub
	}
	sub.put(keys[1:], value)
}

// write writes the keys in order.
func (s section) write(w io.Writer, indent string) {
	for _, key := range sortedKeys(s) {
		switch v := s[key].(type) {
		case string:
			fmt.Fprintf(w, "%s%s: %s\n", indent, key, v)
		case section:
			fmt.Fprintf(w, "%s%s:\n", indent, key)
			if key == "legs" {
				v.writeItems(w, indent+"  ")
			} else {
				v.write(w, indent+"  ")
			}
		}
	}
}

// writeItems writes sections as the items of a list.
func (s section) writeItems(w io.Writer, indent string) {
	for _, key := range sortedKeys(s) {
		fmt.Fprintf(w, "%s- name: %s\n", indent, key)
		if item, ok := s[key].(section); ok {
			item.write(w, indent+"  ")
		}
	}
}

func sortedKeys(s section) []string { return slices.Sorted(maps.Keys(s)) }
