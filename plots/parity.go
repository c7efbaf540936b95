package plots

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"
)

// Parity draws readings against the model, a panel for each gauge, each record
// with a mark of its own. Both axes of a panel have the same scale; the line is
// where reading and model agree, the band two standard deviations of a reading
// about it. Readings that were refused are marked apart, at the edge of the
// frame if they lie beyond it. Of readings that coincide in print one is drawn.
// Lists of unequal length, numbers that are
// not finite and records without readings are errors that say where.
func Parity(records []FlightRecord, u Units, c Caption) (*Figure, error) {
	if err := u.known(); err != nil {
		return nil, err
	}
	if err := checkRecords(records); err != nil {
		return nil, err
	}
	l := layOutParity(records, u)
	s := &sheet{
		heading: c.heading("Readings against the model"), caption: c, key: l.key(),
		intro:  "Above the line the gauge read hotter than the model, below it colder. " + l.thinning(),
		height: l.height(), body: l.draw, data: readingTables(records, u),
	}
	return s.figure(l.describe()), nil
}

// parity is one square panel for each gauge, side by side.
type parity struct {
	records []FlightRecord
	unit    scale
	panels  []parityPanel
	size    vg.Length // of a frame
	left    vg.Length // of a frame
}

// parityPanel is the readings of one gauge.
type parityPanel struct {
	circuit int
	axis    axis
	noise   float64 // largest of the records, in the unit of the axis
	even    bool    // all records have that noise
	points  []parityPoint
	all     int // readings, drawn or not
}

// parityPoint is one reading in the unit of its reader.
type parityPoint struct {
	model, read float64
	record      int
	refused     bool
}

// Measures of panels of parity [pt].
const (
	loneParity vg.Length = 300 // of a frame without a neighbour
	sameSpot   vg.Length = 0.8 // readings nearer than that coincide in print
	sameCloud  vg.Length = 3.2 // the same of records with more than fewReadings
)

func layOutParity(records []FlightRecord, u Units) *parity {
	l := &parity{records: records, unit: u.temperature()}
	for _, k := range gaugesRead(records) {
		p := parityPanel{circuit: k, even: true}
		p.gather(records, l.unit)
		l.panels = append(l.panels, p)
	}
	l.size = 200 // a first guess, for the texts of the axes
	for i := range l.panels {
		l.panels[i].fit(l.size)
		l.left = max(l.left, l.panels[i].axis.widest()+tickLength+3)
	}
	n := vg.Length(len(l.panels))
	l.size = min(loneParity, (pageWidth-2*margin-columnGap/2-n*l.left-(n-1)*columnGap)/n)
	for i := range l.panels {
		p := &l.panels[i]
		p.fit(l.size)
		p.points = p.apart(l.size)
	}
	return l
}

// gather collects the readings of all records.
func (p *parityPanel) gather(records []FlightRecord, s scale) {
	first := -1.0
	for i := range records {
		g := records[i].gauges()[p.circuit]
		for k := range g.Time {
			p.points = append(p.points, parityPoint{s.of(g.Model[k]), s.of(g.Read[k]), i, g.refused(k)})
		}
		if len(g.Time) == 0 {
			continue
		}
		if first < 0 {
			first = g.Noise
		}
		p.even = p.even && g.Noise == first
		p.noise = max(p.noise, g.Noise*s.factor)
	}
	p.all = len(p.points)
}

// fit chooses the axis for a width: the same along and up.
func (p *parityPanel) fit(width vg.Length) {
	const least, sigmas = 10, 8 // degrees; that the axis spans
	s := nothing
	for _, q := range p.points {
		s = s.with(q.model)
		if !q.refused {
			s = s.with(q.read)
		}
	}
	p.axis = horizontal(s.atLeast(max(least, sigmas*p.noise)).padded(0.05), width)
}

// apart leaves out points that coincide in print with one of the same record.
// Records with many come first, so that they do not hide those with few.
func (p *parityPanel) apart(size vg.Length) []parityPoint {
	type spot struct {
		x, y, record int
		refused      bool
	}
	taken, count := map[spot]bool{}, map[int]int{}
	for _, q := range p.points {
		count[q.record]++
	}
	var kept []parityPoint
	for _, q := range p.points {
		near := sameSpot
		if count[q.record] > fewReadings || q.refused {
			near = sameCloud
		}
		cells := float64(size/near) / (p.axis.hi - p.axis.lo)
		at := spot{int(cells * (q.model - p.axis.lo)), int(cells * (q.read - p.axis.lo)), q.record, q.refused}
		if !taken[at] {
			taken[at] = true
			kept = append(kept, q)
		}
	}
	slices.SortStableFunc(kept, func(a, b parityPoint) int { return count[b.record] - count[a.record] })
	return kept
}

// thinning says how many readings are not drawn.
func (l *parity) thinning() string {
	all, drawn := 0, 0
	for _, p := range l.panels {
		all, drawn = all+p.all, drawn+len(p.points)
	}
	if all == drawn {
		return ""
	}
	return fmt.Sprintf("Of %d readings %d are drawn: one of those that coincide in print.", all, drawn)
}

func (l *parity) height() vg.Length { return headRoom + l.size + stepRoom + rowHeight + 2 }

// describe says in words what the figure shows.
func (l *parity) describe() string {
	var text strings.Builder
	fmt.Fprintf(&text, "Readings against the model, %s. ", counted(len(l.records), "record"))
	for _, p := range l.panels {
		mean, most := p.distances(l.records)
		d := l.unit.factor
		fmt.Fprintf(&text, "%s: read less model on average %s %s, at most %s %s. ", tallied(l.records, p.circuit),
			signed(mean*d, 1), l.unit.unit, decimal(most*d, 1), l.unit.unit)
	}
	text.WriteString("An " + reminder + ".")
	return text.String()
}

// distances are the mean of the kept readings less the model, and the largest
// size of one [K].
func (p *parityPanel) distances(records []FlightRecord) (mean, most float64) {
	n := 0
	for i := range records {
		g := records[i].gauges()[p.circuit]
		for k := range g.Time {
			if !g.refused(k) {
				d := g.Read[k] - g.Model[k]
				mean, most, n = mean+d, math.Max(most, math.Abs(d)), n+1
			}
		}
	}
	return mean / float64(max(n, 1)), most
}
