package plots

import (
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

func (l *posterior) key() []keyEntry {
	key := []keyEntry{
		{"before the fit", beliefSample(false)},
		{"after the fit", beliefSample(true)},
	}
	for i := range l.numbers {
		if l.numbers[i].Held != "" {
			key = append(key, keyEntry{"held at a bound", glyphSample(heldMark)})
			break
		}
	}
	if l.triangle != nil {
		key = append(key, l.triangle.key()...)
	}
	return key
}

// heldMark is where a number is held at a bound.
var heldMark = draw.GlyphStyle{Color: ink, Radius: 4, Shape: cornered{diamond, true}}

// beliefSample shows what is known before or after a fit.
func beliefSample(after bool) sample {
	return sample{lineWidth, func(c draw.Canvas, box vg.Rectangle) {
		f := frame{box, span{-2, 2}, span{0, 1}}
		drawBelief(c, f, center(box).Y, belief{0, 1, after})
	}}
}

// belief is a mean and a standard deviation before or after a fit.
type belief struct {
	mean, sigma float64
	after       bool
}

// drawBelief draws a belief at a height: as far as it lies in the frame.
func drawBelief(c draw.Canvas, f frame, y vg.Length, b belief) {
	inside := func(v float64) vg.Length { return f.at(math.Min(math.Max(v, f.x.lo), f.x.hi), 0).X }
	spread := ninetyPercent * b.sigma
	line := stroke(ink, 0.9, solid)
	c.StrokeLine2(line, inside(b.mean-spread), y, inside(b.mean+spread), y)
	for _, v := range []float64{b.mean - spread, b.mean + spread} {
		if f.x.lo <= v && v <= f.x.hi {
			c.StrokeLine2(line, inside(v), y-2.5, inside(v), y+2.5)
		}
	}
	box := vg.Rectangle{Min: vg.Point{X: inside(b.mean - b.sigma), Y: y - barHeight/2}, Max: vg.Point{X: inside(b.mean + b.sigma), Y: y + barHeight/2}}
	fill, centre := faint, ink
	if b.after {
		fill, centre = noteInk, white
	}
	if box.Max.X > box.Min.X {
		fillBox(c, box, fill)
		outline(c, box, 0.7)
	} else {
		centre = ink
	}
	if f.x.lo <= b.mean && b.mean <= f.x.hi {
		c.StrokeLine2(stroke(centre, 1.2, solid), f.at(b.mean, 0).X, box.Min.Y, f.at(b.mean, 0).X, box.Max.Y)
	}
}

func (l *posterior) draw(c draw.Canvas, area vg.Rectangle) {
	top := area.Max.Y
	if l.beside {
		top -= headRoom
	}
	f := frame{
		vg.Rectangle{Min: vg.Point{X: area.Min.X + l.left, Y: top - l.ladder.height()}, Max: vg.Point{X: area.Max.X - l.right - columnGap/2, Y: top}},
		l.x.span, span{0, 1},
	}
	s := sides{f, columnGap/2 - 2}
	s.uprights(c, l.x)
	l.ladder.draw(c, f.Min.X, top, [2]vg.Length{area.Min.X, f.Max.X})
	zero := f.at(0, 0).X
	c.StrokeLine2(stroke(grey, 0.7, shortDash), zero, f.Min.Y, zero, f.Max.Y)
	for i, y := range l.middles(top) {
		l.row(c, &l.numbers[i], f, y)
	}
	outline(c, f.Rectangle, 0.7)
	s.horizontal(c, l.x, true)
	for i, line := range []string{"Distance from the mean before the fit,", "standard deviations before the fit"} {
		write(c, vg.Point{X: f.Max.X, Y: f.Min.Y - stepRoom - vg.Length(i+1)*rowHeight + 1}, words{text: line, size: headingSize, bold: true, align: 1}.fit(f.Max.X-area.Min.X))
	}
	l.drawTriangle(c, f, area)
}

// row draws both bars of a number about a middle, and where it lies if beyond
// the frame.
func (l *posterior) row(c draw.Canvas, n *FittedNumber, f frame, y vg.Length) {
	if n.Doubt == 0 {
		w := words{text: "nothing known before", size: smallSize, color: noteInk, align: 0.5}.fit(f.Size().X - 4)
		write(c, vg.Point{X: center(f.Rectangle).X, Y: y - middle*smallSize}, w)
		return
	}
	const half = 5.5 // pt
	drawBelief(c, f, y+half, belief{0, 1, false})
	after := belief{n.moved(n.Value), n.After / n.Doubt, true}
	drawBelief(c, f, y-half, after)
	inside := math.Min(math.Max(after.mean, f.x.lo), f.x.hi)
	at := vg.Point{X: f.at(inside, 0).X, Y: y - half}
	if n.Held != "" && inside == after.mean {
		drawMark(c, at, heldMark)
	}
	if inside != after.mean {
		l.beyond(c, at, after.mean)
	}
}

// beyond points to a value outside of the frame and tells it.
func (l *posterior) beyond(c draw.Canvas, at vg.Point, v float64) {
	w := words{text: decimal(v, 0) + " →", size: smallSize, align: 1}
	gap := vg.Length(-3)
	if v < 0 {
		w.text, w.align, gap = "← "+decimal(v, 0), 0, 3
	}
	at = at.Add(vg.Point{X: gap, Y: -middle * smallSize})
	left := at.X - w.align*w.width()
	fillBox(c, vg.Rectangle{Min: vg.Point{X: left - 1, Y: at.Y - 1}, Max: vg.Point{X: left + w.width() + 1, Y: at.Y + 0.73*smallSize}}, white)
	write(c, at, w)
}

// drawTriangle draws the correlations beside the rows, or below them.
func (l *posterior) drawTriangle(c draw.Canvas, f frame, area vg.Rectangle) {
	if l.triangle == nil {
		return
	}
	heading := words{text: "Correlations after the fit", size: headingSize, bold: true}
	if l.beside {
		left := area.Max.X - l.triangle.width()
		heading.align = 1
		write(c, vg.Point{X: area.Max.X, Y: f.Max.Y + headingGap}, heading)
		l.triangle.draw(c, left, rungsOf(&l.ladder, f.Max.Y))
		return
	}
	top := area.Min.Y + l.triangle.height()
	write(c, vg.Point{X: area.Min.X, Y: top + headingGap}, heading)
	left := area.Min.X + l.triangle.names.left
	l.triangle.names.draw(c, left, top, [2]vg.Length{area.Min.X, area.Min.X})
	l.triangle.draw(c, left, rungsOf(&l.triangle.names, top))
}
