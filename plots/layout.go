package plots

import (
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// moment is something with a name at a time [min].
type moment struct {
	time float64
	name string
}

// history is the drawing of a run over time: panels over one time axis, the
// legs above the first, the events below it.
type history struct {
	heading string
	caption Caption
	x       span // [min]
	legs    []moment
	events  []moment // the more important first, of equals the later first
	panels  []*panel
}

// Measures of the layout [pt]. The width is that of a letter or A4 page
// between margins of half an inch.
const (
	pageWidth  vg.Length = 540
	margin     vg.Length = 8
	axisRoom   vg.Length = 40 // left of the frames
	tickLength vg.Length = 3
	headingGap vg.Length = 5 // below the heading of a panel
	panelGap   vg.Length = 9 // between a frame and the next heading
	timeRoom   vg.Length = 34
	legRows              = 5
	eventRows            = 4
)

// placed is a history with everything at its place.
type placed struct {
	*history
	height       vg.Length
	left, right  vg.Length // of the frames
	legs, events []tag
	caption      []words
}

// place lays the history out from the top and returns it.
func (h *history) place() *placed {
	l := &placed{history: h, left: margin + axisRoom, right: pageWidth - margin}
	l.caption = h.caption.lines(pageWidth - 2*margin)
	ends := vg.Length(0)
	for _, p := range h.panels {
		ends = max(ends, p.endWidth())
	}
	l.right -= ends
	l.legs, l.events = l.tags(h.legs), l.tags(h.events)
	slices.Reverse(l.legs)
	stacker{rows: legRows, right: pageWidth - margin, shorten: true}.stack(l.legs)
	stacker{rows: eventRows, left: margin, right: pageWidth - margin, bothSides: true}.stack(l.events)
	y := margin + titleSize + 8
	for i, p := range h.panels {
		y += headingSize + headingGap
		if i == 0 {
			p.above = l.legRoom()
		}
		y += p.above + p.height
		p.inside = vg.Rectangle{Min: vg.Point{X: l.left, Y: -y}, Max: vg.Point{X: l.right, Y: p.height - y}}
		if i == 0 {
			y += vg.Length(depth(l.events)) * rowHeight
		}
		y += panelGap
	}
	y += timeRoom - panelGap + vg.Length(len(l.caption))*rowHeight
	l.height = y + margin
	for _, p := range h.panels {
		p.inside = p.inside.Add(vg.Point{Y: l.height})
	}
	return l
}

// legRoom is the height of the rows with the names of the legs.
func (l *placed) legRoom() vg.Length {
	if len(l.legs) == 0 {
		return 0
	}
	return vg.Length(depth(l.legs))*rowHeight + 2
}

// tags hangs texts at their times.
func (l *placed) tags(list []moment) []tag {
	f := frame{vg.Rectangle{Min: vg.Point{X: l.left}, Max: vg.Point{X: l.right}}, l.x, span{0, 1}}
	tags := make([]tag, len(list))
	for i, m := range list {
		tags[i] = tag{words: words{text: m.name, size: smallSize}, at: f.at(m.time, 0).X}
	}
	return tags
}

// paint draws the history.
func (l *placed) paint(c draw.Canvas) {
	c.SetColor(white)
	c.Fill(c.Rectangle.Path())
	title := words{text: l.heading, size: titleSize, bold: true}
	write(c, vg.Point{X: margin, Y: l.height - margin - titleSize}, title.fit(pageWidth-2*margin))
	var boundaries []float64
	for _, leg := range l.history.legs {
		if l.x.lo < leg.time && leg.time < l.x.hi {
			boundaries = append(boundaries, leg.time)
		}
	}
	for _, p := range l.panels {
		p.draw(c, l.x, boundaries)
	}
	if len(l.panels) > 0 {
		l.paintTags(c, l.panels[0].inside)
		l.paintTime(c)
	}
	for i, line := range l.caption {
		write(c, vg.Point{X: margin, Y: margin + 2 + vg.Length(len(l.caption)-1-i)*rowHeight}, line)
	}
}

// paintTags writes the legs above and the events below the first frame.
func (l *placed) paintTags(c draw.Canvas, f vg.Rectangle) {
	for _, t := range l.legs {
		if t.row < 0 {
			continue
		}
		y := f.Max.Y + 3 + vg.Length(t.row)*rowHeight
		c.StrokeLine2(stroke(grey, 0.5, solid), t.at, f.Max.Y, t.at, y+smallSize*0.7)
		write(c, vg.Point{X: t.left, Y: y}, t.words)
	}
	for _, t := range l.events {
		c.StrokeLine2(stroke(ink, 1, solid), t.at, f.Min.Y, t.at, f.Min.Y+5)
		if t.row < 0 {
			continue
		}
		y := f.Min.Y - 1 - vg.Length(t.row+1)*rowHeight + 2
		c.StrokeLine2(stroke(grey, 0.5, solid), t.at, f.Min.Y, t.at, y)
		write(c, vg.Point{X: t.left, Y: y}, t.words)
	}
}

// paintTime draws the time axis below the last frame and its ticks on all.
func (l *placed) paintTime(c draw.Canvas) {
	const most = 10
	by := step(l.x.hi-l.x.lo, most)
	last := l.panels[len(l.panels)-1].inside
	for _, t := range ticks(l.x.lo, l.x.hi, by) {
		for _, p := range l.panels {
			x := frame{p.inside, l.x, p.y}.at(t, p.y.lo).X
			c.StrokeLine2(stroke(ink, 0.7, solid), x, p.inside.Min.Y, x, p.inside.Min.Y-tickLength)
		}
		x := frame{last, l.x, span{0, 1}}.at(t, 0).X
		write(c, vg.Point{X: x, Y: last.Min.Y - tickLength - 1 - textSize}, words{text: decimal(t, places(by)), size: textSize, align: 0.5})
	}
	write(c, vg.Point{X: l.right, Y: last.Min.Y - tickLength - 2 - 2*rowHeight},
		words{text: timeLabel, size: headingSize, bold: true, align: 1})
}

// timeLabel is the label of the time axis.
var timeLabel = "Time, " + minutes().unit
