package plots

import (
	"fmt"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// ContourData is what two paths do to both margins, all else as filed.
type ContourData struct {
	X, Y                 Axis
	Coolant, Oil         [][]float64 // least margin over the cases, [iy][ix] [K]; NaN where a run failed
	NeedCoolant, NeedOil float64     // margins that are required [K]
	Present, Optimum     *[2]float64 // x and y in the units of the axes; nil for none
	NothingFits          bool        // the optimum is only the least bad
}

// check returns what keeps the data from being drawn.
func (d *ContourData) check() error {
	for _, a := range []Axis{d.X, d.Y} {
		if err := a.check(); err != nil {
			return err
		}
		if len(a.Values) < 2 {
			return fmt.Errorf("axis %s has one value: contours need two at least", a.Label)
		}
	}
	for i := range circuitNames {
		if err := d.checkCircuit(i); err != nil {
			return err
		}
	}
	for _, p := range []struct {
		name string
		at   *[2]float64
	}{{"present", d.Present}, {"optimum", d.Optimum}} {
		if p.at == nil {
			continue
		}
		for _, v := range p.at {
			if err := shown("the "+p.name, v); err != nil {
				return err
			}
		}
	}
	return nil
}

// checkCircuit checks the margins of one circuit.
func (d *ContourData) checkCircuit(circuit int) error {
	name, margin := circuitNames[circuit], d.margins(circuit)
	if len(margin) != len(d.Y.Values) {
		return fmt.Errorf("%s: %d rows of margins for %d values of %s", name, len(margin), len(d.Y.Values), d.Y.Label)
	}
	for j, row := range margin {
		if err := margins(fmt.Sprintf("%s, row %d", name, j+1), row, len(d.X.Values)); err != nil {
			return err
		}
	}
	return shown("the margin required of "+name, d.need(circuit))
}

func (d *ContourData) margins(circuit int) [][]float64 {
	return [2][][]float64{d.Coolant, d.Oil}[circuit]
}

func (d *ContourData) need(circuit int) float64 { return [2]float64{d.NeedCoolant, d.NeedOil}[circuit] }

// Contour draws lines of equal worst margin beyond the required one over two
// paths: the lesser of coolant and oil. Where it is negative the ground is
// shaded; bold lines show where each circuit just holds. NaN is a run that
// failed; other numbers that are not finite, tables of other sizes than the
// axes and axes of one value are errors that say which.
func Contour(d ContourData, u Units, c Caption) (*Figure, error) {
	if err := u.known(); err != nil {
		return nil, err
	}
	if err := d.check(); err != nil {
		return nil, err
	}
	l := layOutContour(&d, u)
	s := &sheet{
		heading: c.heading("Worst margin over two numbers"), caption: c, key: l.key(), intro: l.intro(),
		height: l.height(), body: l.draw, data: d.tables(u),
	}
	return s.figure(l.describe()), nil
}

// contour is a frame over two paths.
type contour struct {
	*ContourData
	unit    scale
	worst   field    // of the lesser margin beyond the required, in shown degrees, refined
	circuit [2]field // of each circuit
	lines   []contourLine
	bold    [2][][]vg.Point // where each circuit just holds
	levels  []float64
	by      float64 // their distance
	x, y    axis
	xName   []words
	yName   []words
	left    vg.Length
}

const contourHeight vg.Length = 350

func layOutContour(d *ContourData, u Units) *contour {
	l := &contour{ContourData: d, unit: u.difference()}
	var flown [2]field
	for i := range flown {
		flown[i] = field{d.X.Values, d.Y.Values, make([][]float64, len(d.Y.Values))}
		for j, row := range d.margins(i) {
			flown[i].z[j] = make([]float64, len(row))
			for k, v := range row {
				flown[i].z[j][k] = l.unit.of(v - d.need(i))
			}
		}
		l.circuit[i] = flown[i].refined(fineness(len(d.X.Values), len(d.Y.Values)))
	}
	l.worst = lesser(l.circuit[0], l.circuit[1])
	l.levels, l.by = levelsOf(l.worst)
	l.y = axis{edges(d.Y), step(d.Y.Values[len(d.Y.Values)-1]-d.Y.Values[0], 12)}
	l.left = l.y.widest() + tickLength + 3
	l.x = horizontal(edges(d.X), l.width())
	l.xName = axisLines(d.X.Label, d.X.Unit, l.width(), 2)
	l.yName = axisLines(d.Y.Label, d.Y.Unit, l.width(), 2)
	return l
}

func (l *contour) width() vg.Length { return pageWidth - 2*margin - l.left - columnGap/2 }

func (l *contour) height() vg.Length {
	return vg.Length(len(l.yName))*rowHeight + headingGap + contourHeight + stepRoom + vg.Length(len(l.xName))*rowHeight + 2
}

// intro says what the lines are and what the frame cannot show.
func (l *contour) intro() string {
	var text strings.Builder
	if len(l.levels) == 0 {
		text.WriteString("Lesser margin of coolant and oil over the cases")
	} else {
		fmt.Fprintf(&text, "Lines, %s %s apart: lesser margin of coolant and oil over the cases", decimal(l.by, places(l.by)), l.unit.unit)
	}
	if l.NeedCoolant != 0 || l.NeedOil != 0 {
		fmt.Fprintf(&text, ", less what is required (coolant %s, oil %s)", l.degrees(l.NeedCoolant), l.degrees(l.NeedOil))
	}
	text.WriteString(".")
	for i, name := range circuitNames {
		switch s := l.circuit[i].bounds(); {
		case s.lo > s.hi:
			fmt.Fprintf(&text, " No run gave a margin of %s.", name)
		case s.lo >= 0:
			fmt.Fprintf(&text, " The %s holds everywhere here.", name)
		case s.hi < 0:
			fmt.Fprintf(&text, " The %s holds nowhere here.", name)
		}
	}
	for _, p := range l.places() {
		if !l.inside(*p.at) {
			fmt.Fprintf(&text, " The %s lies outside.", p.text())
		}
	}
	return text.String()
}

// degrees prints a difference in K with its unit.
func (l *contour) degrees(k float64) string {
	return strings.TrimSuffix(decimal(l.unit.of(k), 1), ".0") + " " + l.unit.unit
}

// named is a place in the frame with its sign.
type named struct {
	name string
	at   *[2]float64
	mark draw.GlyphStyle
}

func (n named) text() string {
	return fmt.Sprintf("%s (%s, %s)", n.name, figures(n.at[0]), figures(n.at[1]))
}

// places lists the present and the optimum, as far as they are given.
func (l *contour) places() []named {
	var list []named
	if l.Optimum != nil {
		name := "optimum"
		if l.NothingFits {
			name = "least bad"
		}
		list = append(list, named{name, l.Optimum, optimumMark})
	}
	if l.Present != nil {
		list = append(list, named{"present", l.Present, presentMark})
	}
	return list
}

func (l *contour) inside(at [2]float64) bool {
	return l.x.lo <= at[0] && at[0] <= l.x.hi && l.y.lo <= at[1] && at[1] <= l.y.hi
}

// describe says in words what the figure shows.
func (l *contour) describe() string {
	var text strings.Builder
	fmt.Fprintf(&text, "Worst margin of coolant and oil beyond the required one, in %s, over %s (%s to %s) and %s (%s to %s). ", l.unit.unit,
		axisText(l.X.Label, l.X.Unit), figures(l.x.lo), figures(l.x.hi), axisText(l.Y.Label, l.Y.Unit), figures(l.y.lo), figures(l.y.hi))
	if s := l.worst.bounds(); s.lo <= s.hi {
		fmt.Fprintf(&text, "It lies between %s and %s. ", signed(s.lo, 1), signed(s.hi, 1))
	}
	hold, all := l.hold()
	fmt.Fprintf(&text, "%d of %d flown designs hold both margins. ", hold, all)
	for _, p := range l.places() {
		fmt.Fprintf(&text, "The %s is at %s and %s. ", p.name, figures(p.at[0]), figures(p.at[1]))
	}
	text.WriteString("An " + reminder + ".")
	return text.String()
}

// hold counts the flown designs that have both margins, and all.
func (l *contour) hold() (hold, all int) {
	for j := range l.Coolant {
		for i := range l.Coolant[j] {
			all++
			if l.Coolant[j][i] >= l.NeedCoolant && l.Oil[j][i] >= l.NeedOil {
				hold++
			}
		}
	}
	return hold, all
}

func edges(a Axis) span { return span{a.Values[0], a.Values[len(a.Values)-1]} }

// fineness is how often cells are divided, so that creases come out sharp.
func fineness(nx, ny int) int {
	const enough = 160
	return max(1, enough/max(nx-1, ny-1))
}
