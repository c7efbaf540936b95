package plots

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"hotclimb/sim"
)

// Band is where the doubt of the numbers of a scenario lets a temperature be
// over time: its 5 % point, its median and its 95 % point.
type Band struct {
	Channel           string    // as its peak names it: coolant_out, oil_sump
	Time              []float64 // never back [s]
	Low, Median, High []float64 // [°C]
	Chance            string    // of passing the limit, in words below the peak; may be empty
}

// check returns what keeps the band from being drawn.
func (b *Band) check(peaks []sim.Peak) error {
	if !slices.ContainsFunc(peaks, func(p sim.Peak) bool { return p.Channel == b.Channel }) {
		return fmt.Errorf("the band of %q belongs to no peak of the run", b.Channel)
	}
	n := len(b.Time)
	if n == 0 {
		return fmt.Errorf("the band of %s is empty", b.Channel)
	}
	if len(b.Low) != n || len(b.Median) != n || len(b.High) != n {
		return fmt.Errorf("the band of %s has %d times, %d low, %d median and %d high values", b.Channel, n, len(b.Low), len(b.Median), len(b.High))
	}
	for i, t := range b.Time {
		what := fmt.Sprintf("the band of %s at time %d", b.Channel, i+1)
		for _, v := range []float64{t, b.Low[i], b.Median[i], b.High[i]} {
			if err := shown(what, v); err != nil {
				return err
			}
		}
		if i > 0 && t < b.Time[i-1] {
			return fmt.Errorf("%s is earlier than the time before", what)
		}
		if b.Low[i] > b.Median[i] || b.Median[i] > b.High[i] {
			return fmt.Errorf("%s does not rise from low to high: %g, %g, %g", what, b.Low[i], b.Median[i], b.High[i])
		}
	}
	return nil
}

// checkBands returns what keeps bands of a run from being drawn.
func checkBands(bands []Band, peaks []sim.Peak) error {
	for i := range bands {
		if err := bands[i].check(peaks); err != nil {
			return err
		}
		if slices.ContainsFunc(bands[:i], func(o Band) bool { return o.Channel == bands[i].Channel }) {
			return fmt.Errorf("the band of %s is given twice", bands[i].Channel)
		}
	}
	return nil
}

// bandOf returns the band of a channel, nil if there is none.
func (b *historian) bandOf(channel string) *Band {
	for i := range b.bands {
		if b.bands[i].Channel == channel {
			return &b.bands[i]
		}
	}
	return nil
}

// area is what lies between two lines, shaded.
type area struct {
	low, high curve
	fill      draw.LineStyle // only its colour counts
}

// draw shades the area.
func (a *area) draw(c draw.Canvas, f frame) {
	corners := f.points(a.low)
	for _, p := range slices.Backward(f.points(a.high)) {
		corners = append(corners, p)
	}
	if len(corners) > 2 {
		c.FillPolygon(a.fill.Color, corners)
	}
}

// Lines of a band, besides its shade.
const (
	bandShade           = 0.16
	edgeWidth vg.Length = 0.7
)

// edge is the line at the edge of the band of a circuit.
func (s circuitStyle) edge() draw.LineStyle { return stroke(s.color, edgeWidth, s.dashes) }

// median is the line of the median of a circuit.
func (s circuitStyle) median() draw.LineStyle { return stroke(s.color, 1, dotted) }

// doubt adds the band of a circuit to the panel, if it has one.
func (b *historian) doubt(p *panel, channel string) {
	d := b.bandOf(channel)
	if d == nil {
		return
	}
	s, name := b.units.temperature(), circuitOf(channel)
	style := styleOf(name)
	line := func(what string, y []float64, of draw.LineStyle) curve {
		x, y := thin(minutes().all(d.Time), s.all(y))
		return curve{name: name + " " + what, line: of, x: x, y: y}
	}
	low, high := line("5 %", d.Low, style.edge()), line("95 %", d.High, style.edge())
	p.areas = append(p.areas, area{low, high, stroke(tint(style.color, bandShade), 0, solid)})
	p.curves = append(p.curves, high, line("median", d.Median, style.median()), low)
}

// edged draws the area of a circuit with its edges; that over a lone value is
// an upright line beside the value.
func (a *area) edged(c draw.Canvas, f frame, circuit int) {
	const beside, half = 3.5, 2.5 // pt
	style := circuitStyles[circuit]
	low, high := f.points(a.low), f.points(a.high)
	if len(low) > 1 {
		a.draw(c, f)
		c.StrokeLines(style.edge(), low, high)
		return
	}
	x := low[0].X + beside*(2*vg.Length(circuit)-1)
	c.StrokeLine2(stroke(style.color, 1.3, style.dashes), x, low[0].Y, x, high[0].Y)
	for _, y := range []vg.Length{low[0].Y, high[0].Y} {
		c.StrokeLine2(stroke(style.color, 1.3, solid), x-half, y, x+half, y)
	}
}

// MarginBand is where the doubt of the numbers of a scenario lets a margin be
// at each value of an axis: its 5 % and its 95 % point [K]. NaN is a run that
// failed.
type MarginBand struct{ Low, High []float64 }

// check returns what keeps the band from being drawn.
func (b *MarginBand) check(what string, n int) error {
	if b == nil {
		return nil
	}
	if err := margins("the low edge of "+what, b.Low, n); err != nil {
		return err
	}
	if err := margins("the high edge of "+what, b.High, n); err != nil {
		return err
	}
	for i := range b.Low {
		if b.Low[i] > b.High[i] {
			return fmt.Errorf("the band of %s: margin %d falls from low to high: %g, %g", what, i+1, b.Low[i], b.High[i])
		}
		if math.IsNaN(b.Low[i]) != math.IsNaN(b.High[i]) {
			return fmt.Errorf("the band of %s: margin %d has one edge only", what, i+1)
		}
	}
	return nil
}

// areas are the pieces of a band in a unit.
func (b *MarginBand) areas(x []float64, s scale, style circuitStyle) []area {
	if b == nil {
		return nil
	}
	low, high := runsOf(x, s.all(b.Low)), runsOf(x, s.all(b.High))
	var list []area
	for i := range low {
		low[i].x, low[i].y = thin(low[i].x, low[i].y)
		high[i].x, high[i].y = thin(high[i].x, high[i].y)
		list = append(list, area{low[i], high[i], stroke(tint(style.color, bandShade), 0, solid)})
	}
	return list
}

// areaSample shows a band with its edges.
func areaSample(s circuitStyle) sample {
	return sample{lineWidth, func(c draw.Canvas, box vg.Rectangle) {
		fillBox(c, box, tint(s.color, bandShade))
		c.StrokeLine2(s.edge(), box.Min.X, box.Min.Y, box.Max.X, box.Min.Y)
		c.StrokeLine2(s.edge(), box.Min.X, box.Max.Y, box.Max.X, box.Max.Y)
	}}
}
