package plots

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"
)

// Residuals draws readings less the model over time: a row for each record,
// coolant beside oil, all with the same axis so that rows compare; the line of
// no difference, and a band of two standard deviations of a reading about it.
// Few readings have marks, many a line; where there are more than fit in print,
// the lowest and the highest of each of equal runs are drawn. Lines break at
// gaps. Refused readings have marks of their own, at the edge of the frame if
// they lie beyond it. Errors are those of Parity.
func Residuals(records []FlightRecord, u Units, c Caption) (*Figure, error) {
	if err := u.known(); err != nil {
		return nil, err
	}
	if err := checkRecords(records); err != nil {
		return nil, err
	}
	l := layOutResiduals(records, u)
	s := &sheet{
		heading: c.heading("Readings less the model"), caption: c, key: l.key(),
		intro:  "Above zero the gauge read hotter than the model, below it colder. " + l.thinning(),
		height: l.height(), body: l.draw, data: readingTables(records, u),
	}
	return s.figure(l.describe()), nil
}

// residuals is a row of panels for each record.
type residuals struct {
	records  []FlightRecord
	unit     scale
	circuits []int // that have a column
	rows     []residualRow
	y        axis
	size     vg.Point // of a frame
	left     vg.Length
}

// residualRow is one record.
type residualRow struct {
	name   []words
	x      axis
	panels []*residualPanel // nil where the record lacks the gauge
}

// residualPanel is one gauge on one record, in the units of its reader.
type residualPanel struct {
	circuit int
	noise   float64
	pieces  []curve // of kept readings, broken at gaps
	refused curve
	many    bool // too many readings for marks
	crowded bool // not every refused reading has room for its mark
	all     int
	drawn   int
}

// Measures of panels of residuals [pt].
const (
	residualHeight vg.Length = 78
	loneHeight     vg.Length = 170 // of the frame of a lone record
)

func layOutResiduals(records []FlightRecord, u Units) *residuals {
	l := &residuals{records: records, unit: u.difference(), circuits: gaugesRead(records)}
	l.size.Y = residualHeight
	if len(records) == 1 {
		l.size.Y = loneHeight
	}
	for i := range records {
		row := residualRow{}
		for _, k := range l.circuits {
			row.panels = append(row.panels, residualsOf(records[i].gauges()[k], k, l.unit))
		}
		l.rows = append(l.rows, row)
	}
	l.y = vertical(l.extent(), l.size.Y)
	l.left = l.y.widest() + tickLength + 3
	n := vg.Length(len(l.circuits))
	l.size.X = (pageWidth - 2*margin - l.left - columnGap/2 - (n-1)*columnGap) / n
	for i := range l.rows {
		l.rows[i].x = horizontal(duration(&records[i]), l.size.X)
		for _, p := range l.rows[i].panels {
			if p != nil {
				p.apart(frame{vg.Rectangle{Max: l.size}, l.rows[i].x.span, l.y.span})
			}
		}
		l.rows[i].name = breakText(records[i].Name, words{size: headingSize, bold: true}, pageWidth-2*margin, 2)
	}
	return l
}

// residualsOf returns the panel of a gauge, nil if it has no readings.
func residualsOf(g *GaugeReadings, circuit int, s scale) *residualPanel {
	if len(g.Time) == 0 {
		return nil
	}
	p := &residualPanel{circuit: circuit, noise: g.Noise * s.factor, all: len(g.Time)}
	var kept curve
	for i, t := range g.Time {
		to := &kept
		if g.refused(i) {
			to = &p.refused
		}
		to.x, to.y = append(to.x, minutes().of(t)), append(to.y, s.of(g.Read[i]-g.Model[i]))
	}
	p.many = len(kept.x) > fewReadings
	p.pieces = brokenAtGaps(kept)
	share := float64(mostReadings) / float64(max(len(kept.x), 1))
	for i := range p.pieces {
		piece := &p.pieces[i]
		n := max(2, int(share*float64(len(piece.x))))
		piece.x, piece.y = thinTo(piece.x, piece.y, n)
		p.drawn += len(piece.x)
	}
	return p
}

// Numbers of readings in a panel.
const (
	fewReadings  = 60  // have marks
	mostReadings = 300 // that fit in print
)

// apart leaves out refused readings whose marks would lie on the one before,
// in a frame of some size.
func (p *residualPanel) apart(f frame) {
	const near = 5 // pt
	var kept curve
	var last vg.Point
	for i, x := range p.refused.x {
		y := p.refused.y[i]
		at := f.at(x, math.Min(math.Max(y, f.y.lo), f.y.hi))
		if d := at.Sub(last); i > 0 && math.Hypot(d.X.Points(), d.Y.Points()) < near {
			continue
		}
		kept.x, kept.y, last = append(kept.x, x), append(kept.y, y), at
	}
	p.crowded = len(kept.x) < len(p.refused.x)
	p.refused = kept
	p.drawn += len(kept.x)
}

// brokenAtGaps cuts a line where readings are missing for much longer than
// usual between them.
func brokenAtGaps(c curve) []curve {
	const long = 8 // times the median interval
	var steps []float64
	for i := 1; i < len(c.x); i++ {
		steps = append(steps, c.x[i]-c.x[i-1])
	}
	if len(steps) == 0 {
		return []curve{c}[:min(1, len(c.x))]
	}
	slices.Sort(steps)
	gap := long * steps[len(steps)/2]
	var pieces []curve
	from := 0
	for i := 1; i <= len(c.x); i++ {
		if i == len(c.x) || (gap > 0 && c.x[i]-c.x[i-1] > gap) {
			pieces = append(pieces, curve{x: c.x[from:i], y: c.y[from:i]})
			from = i
		}
	}
	return pieces
}

// extent holds every kept difference and the bands; refused ones only if
// nothing else is there.
func (l *residuals) extent() span {
	const least = 4 // K
	y, refused := nothing.with(0), nothing.with(0)
	for _, row := range l.rows {
		for _, p := range row.panels {
			if p == nil {
				continue
			}
			for _, piece := range p.pieces {
				y = y.with(piece.y...)
			}
			y = y.with(-wideSigmas*p.noise, wideSigmas*p.noise)
			refused = refused.with(p.refused.y...)
		}
	}
	if y.hi-y.lo == 0 {
		y = refused
	}
	return y.atLeast(least * l.unit.factor).padded(0.06)
}

// duration is the range of the times of a record [min].
func duration(record *FlightRecord) span {
	x := nothing
	for _, g := range record.gauges() {
		if n := len(g.Time); n > 0 {
			x = x.with(minutes().of(g.Time[0]), minutes().of(g.Time[n-1]))
		}
	}
	const shortest = 1 // min
	return x.atLeast(shortest).padded(0.02)
}

func (l *residuals) thinning() string {
	all, drawn, crowded := 0, 0, false
	for _, row := range l.rows {
		for _, p := range row.panels {
			if p != nil {
				all, drawn, crowded = all+p.all, drawn+p.drawn, crowded || p.crowded
			}
		}
	}
	if all == drawn {
		return ""
	}
	text := fmt.Sprintf("Of %d readings %d are drawn: the lowest and the highest of each of equal runs", all, drawn)
	if crowded {
		text += ", and of refused ones those with room for their marks"
	}
	return text + "."
}

// height is the height of a row with its name and its axis of time.
func (r *residualRow) height(size vg.Point) vg.Length {
	return vg.Length(len(r.name))*rowHeight + headRoom + size.Y + stepRoom + rowGap
}

func (l *residuals) height() vg.Length {
	height := rowHeight + 2 - rowGap
	for i := range l.rows {
		height += l.rows[i].height(l.size)
	}
	return height
}

// describe says in words what the figure shows.
func (l *residuals) describe() string {
	var text strings.Builder
	fmt.Fprintf(&text, "Readings less the model over time, in %s, %s. ", l.unit.unit, counted(len(l.rows), "record"))
	for i, row := range l.rows {
		fmt.Fprintf(&text, "%s: ", l.records[i].Name)
		var parts []string
		for _, p := range row.panels {
			if p != nil {
				parts = append(parts, p.told(l.records[i:i+1]))
			}
		}
		text.WriteString(strings.Join(parts, "; ") + ". ")
	}
	text.WriteString("An " + reminder + ".")
	return text.String()
}

// told says what the readings of one gauge on one record do.
func (p *residualPanel) told(record []FlightRecord) string {
	text := tallied(record, p.circuit)
	y := nothing
	for _, piece := range p.pieces {
		y = y.with(piece.y...)
	}
	if y.lo > y.hi {
		return text
	}
	return fmt.Sprintf("%s, from %s to %s", text, signed(y.lo, 1), signed(y.hi, 1))
}
