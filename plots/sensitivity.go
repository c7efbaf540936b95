package plots

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"
)

// SensitivityCurve is what one path does to both margins, all else as filed.
type SensitivityCurve struct {
	Axis
	Coolant, Oil []float64 // least margin over the cases at each value [K]; NaN where a run failed
	Present      float64   // value of the file in the unit of the axis; NaN for none

	CoolantBand, OilBand *MarginBand // nil for none
}

// check returns what keeps the curve from being drawn.
func (s *SensitivityCurve) check() error {
	if err := s.Axis.check(); err != nil {
		return err
	}
	if err := margins("coolant over "+s.Label, s.Coolant, len(s.Values)); err != nil {
		return err
	}
	if err := margins("oil over "+s.Label, s.Oil, len(s.Values)); err != nil {
		return err
	}
	if err := s.CoolantBand.check("coolant over "+s.Label, len(s.Values)); err != nil {
		return err
	}
	if err := s.OilBand.check("oil over "+s.Label, len(s.Values)); err != nil {
		return err
	}
	if math.IsNaN(s.Present) {
		return nil
	}
	return shown("the present value of "+s.Label, s.Present)
}

// Sensitivity draws one panel for each curve, all with the same axis of
// margins so that slopes compare. Below the limit, at no margin, the ground is
// shaded. NaN breaks a line; other numbers that are not finite, lists of
// unequal length and values that do not rise are errors that say where.
func Sensitivity(curves []SensitivityCurve, u Units, c Caption) (*Figure, error) {
	if err := u.known(); err != nil {
		return nil, err
	}
	if len(curves) == 0 {
		return nil, errors.New("no sensitivity curves to draw")
	}
	for i := range curves {
		if err := curves[i].check(); err != nil {
			return nil, err
		}
	}
	l := layOutSensitivity(curves, u)
	s := &sheet{
		heading: c.heading("Margins over single numbers"), caption: c, key: l.key(),
		height: l.height(), body: l.draw, data: sensitivityTables(curves, u),
	}
	return s.figure(l.describe()), nil
}

// sensitivity is a grid of panels with a common axis of margins.
type sensitivity struct {
	panels  []sensitivityPanel
	unit    scale
	y       axis
	columns int
	size    vg.Point // of a frame
	left    vg.Length
}

// sensitivityPanel is one curve in the units of its reader.
type sensitivityPanel struct {
	*SensitivityCurve
	circuits [2][]float64 // coolant, oil
	areas    [2][]area
	x        axis
	name     []words
}

// Measures of a grid of panels [pt].
const (
	columnGap vg.Length = 26
	rowGap    vg.Length = 10
	headRoom            = headingSize + headingGap // above a frame
	stepRoom            = tickLength + 2 + textSize
)

// circuitNames are the circuits in the order of every figure.
var (
	circuitNames  = [2]string{"coolant", "oil"}
	circuitStyles = [2]circuitStyle{coolantStyle, oilStyle}
)

const markRadius vg.Length = 2.6

// shade is the ground over a limit.
var shade = faint

func layOutSensitivity(curves []SensitivityCurve, u Units) *sensitivity {
	l := &sensitivity{unit: u.difference()}
	heights := []vg.Length{230, 165, 120}
	switch n := len(curves); {
	case n == 1:
		l.columns = 1
	case n == 2 || n == 4:
		l.columns = 2
	default:
		l.columns = 3
	}
	l.size.Y = heights[l.columns-1]
	y := nothing.with(0)
	for i := range curves {
		p := sensitivityPanel{SensitivityCurve: &curves[i]}
		p.circuits = [2][]float64{l.unit.all(p.Coolant), l.unit.all(p.Oil)}
		for _, margins := range p.circuits {
			y = y.withFinite(margins)
		}
		for k, b := range []*MarginBand{p.CoolantBand, p.OilBand} {
			p.areas[k] = b.areas(p.Values, l.unit, circuitStyles[k])
			for _, a := range p.areas[k] {
				y = y.with(a.low.y...).with(a.high.y...)
			}
		}
		l.panels = append(l.panels, p)
	}
	const least = 6 // K
	y = y.atLeast(least * l.unit.factor)
	head := 0.04 * (y.hi - y.lo)
	l.y = vertical(span{y.lo - head, y.hi + head}, l.size.Y)
	l.left = l.y.widest() + tickLength + 3
	room := pageWidth - 2*margin - l.left - columnGap/2
	l.size.X = (room - vg.Length(l.columns-1)*columnGap) / vg.Length(l.columns)
	for i := range l.panels {
		l.panels[i].fit(l.size.X)
	}
	return l
}

// fit chooses the horizontal axis and breaks its name for a width.
func (p *sensitivityPanel) fit(width vg.Length) {
	x := nothing.with(p.Values...)
	if !math.IsNaN(p.Present) {
		x = x.with(p.Present)
	}
	x = x.opened()
	const rim = 0.03
	x = x.atLeast((1 + 2*rim) * (x.hi - x.lo))
	p.x = horizontal(x, width)
	p.name = axisLines(p.Label, p.Unit, width, 3)
}

// withFinite widens s to values, passing over NaN.
func (s span) withFinite(values []float64) span {
	for _, v := range values {
		if !math.IsNaN(v) {
			s = s.with(v)
		}
	}
	return s
}

// rows returns the panels row by row.
func (l *sensitivity) rows() [][]sensitivityPanel {
	return slices.Collect(slices.Chunk(l.panels, l.columns))
}

// rowHeight is the height of a row, with room for its longest name.
func (l *sensitivity) rowHeight(row []sensitivityPanel) vg.Length {
	lines := 0
	for _, p := range row {
		lines = max(lines, len(p.name))
	}
	return headRoom + l.size.Y + stepRoom + vg.Length(lines)*rowHeight + rowGap
}

func (l *sensitivity) height() vg.Length {
	height := -rowGap
	for _, row := range l.rows() {
		height += l.rowHeight(row)
	}
	return height
}

// describe says in words what the figure shows.
func (l *sensitivity) describe() string {
	var text strings.Builder
	fmt.Fprintf(&text, "Least margin of coolant and oil over the cases, in %s, over %s of the scenario, one at a time. ", l.unit.unit, counted(len(l.panels), "number"))
	for _, p := range l.panels {
		n := len(p.Values)
		fmt.Fprintf(&text, "%s from %s to %s %s: ", p.Label, figures(p.Values[0]), figures(p.Values[n-1]), unitSigns.Replace(p.Unit))
		for i, name := range circuitNames {
			y := p.circuits[i]
			fmt.Fprintf(&text, "%s %s to %s", name, marginText(y[0]), marginText(y[n-1]))
			text.WriteString([]string{", ", ". "}[i])
		}
	}
	text.WriteString("An " + reminder + ".")
	return text.String()
}

// marginText prints a margin that may be missing.
func marginText(v float64) string {
	if math.IsNaN(v) {
		return "failed"
	}
	return signed(v, 1)
}
