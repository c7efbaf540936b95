package plots

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// FittedNumber is a number before and after a fit, in its own unit. Doubts are
// one standard deviation.
type FittedNumber struct {
	Name, Unit   string  // the unit as in print or as in scenario files; may be empty
	Prior, Doubt float64 // before; no doubt means that nothing was known
	Value, After float64 // after; no doubt means that none is told
	Held         string  // a word on the bound where it rests; empty if it rests at none
}

// check returns what keeps the number from being drawn.
func (n *FittedNumber) check() error {
	if n.Name == "" {
		return errors.New("a fitted number has no name")
	}
	for _, v := range []struct {
		what  string
		value float64
	}{{"the prior of ", n.Prior}, {"the doubt before of ", n.Doubt}, {"the value of ", n.Value}, {"the doubt after of ", n.After}} {
		if err := number(v.what+n.Name, v.value); err != nil {
			return err
		}
	}
	if n.Doubt < 0 || n.After < 0 {
		return fmt.Errorf("a doubt of %s is negative: %g before, %g after", n.Name, n.Doubt, n.After)
	}
	return nil
}

// moved is a value in standard deviations of the prior from its mean.
func (n *FittedNumber) moved(v float64) float64 { return (v - n.Prior) / n.Doubt }

// told says what became of the number in its own unit.
func (n *FittedNumber) told() string {
	text := withDoubt(n.Prior, n.Doubt) + " → " + withDoubt(n.Value, n.After)
	if n.Doubt == 0 {
		text = "nothing known before → " + withDoubt(n.Value, n.After)
	}
	if n.Unit != "" {
		text += " " + unitSigns.Replace(n.Unit)
	}
	if n.Held != "" {
		text += "; held " + n.Held
	}
	return text
}

// fourDigits prints a value to four digits, with a power of ten if need be.
func fourDigits(v float64) string {
	return strings.ReplaceAll(strconv.FormatFloat(v, 'g', 4, 64), "-", "−")
}

// withDoubt prints a value and its doubt, to two digits of the doubt.
func withDoubt(v, doubt float64) string {
	if doubt == 0 {
		return fourDigits(v)
	}
	const digits, most = 1, 6 // after the first of the doubt; decimals
	n := digits - int(math.Floor(math.Log10(doubt)))
	if n > most || math.Abs(v)+doubt > mostShown {
		return fourDigits(v) + " ± " + fourDigits(doubt)
	}
	return decimal(v, max(0, n)) + " ± " + decimal(doubt, max(0, n))
}

// Posterior draws what a fit made of each number: a pale bar for what was known
// before, a dark one for what is known after, one standard deviation to both
// sides, with whiskers over nine tenths of the probability; all in standard
// deviations of the prior from its mean, so that rows compare. In words each row
// tells both in the unit of the number. Correlations, as many rows of as many,
// are a triangle of shades with their signs; nil leaves it out. Numbers that are
// not finite, negative doubts and correlations that are none are errors that
// say which.
func Posterior(numbers []FittedNumber, correlations [][]float64, c Caption) (*Figure, error) {
	if len(numbers) == 0 {
		return nil, errors.New("no fitted numbers to draw")
	}
	for i := range numbers {
		if err := numbers[i].check(); err != nil {
			return nil, err
		}
	}
	if correlations != nil {
		if err := checkCorrelations(numbers, correlations); err != nil {
			return nil, err
		}
	}
	l := layOutPosterior(numbers, correlations)
	s := &sheet{
		heading: c.heading("What the fit made of each number"), caption: c, key: l.key(), intro: l.intro(),
		height: l.height(), body: l.draw,
	}
	return s.figure(l.describe()), nil
}

// posterior is rows of pairs of bars, with a triangle of correlations beside
// them or, of many numbers, below them.
type posterior struct {
	ladder
	numbers  []FittedNumber
	x        axis
	right    vg.Length // of the frame, for a triangle beside it
	triangle *triangle // nil for none
	beside   bool
}

// Measures of the chart of a fit [pt].
const (
	mostFitted    vg.Length = 200 // of names
	mostOutside             = 8.0 // standard deviations of the prior that are shown
	besideAtMost            = 12  // numbers with the triangle beside their rows
	trianglesMost           = 40  // numbers with a triangle
	besideWidth   vg.Length = 150
)

func layOutPosterior(numbers []FittedNumber, correlations [][]float64) *posterior {
	l := &posterior{numbers: numbers}
	x := nothing.with(-2, 2)
	for i := range numbers {
		n := &numbers[i]
		l.add(ordinal(i)+n.Name, n.told(), mostFitted, 2*rowHeight)
		if n.Doubt > 0 {
			v, spread := n.moved(n.Value), ninetyPercent*n.After/n.Doubt
			if math.Abs(v) <= mostOutside {
				x = x.with(v-spread, v+spread)
			}
		}
	}
	if correlations != nil && len(numbers) > 1 && len(numbers) <= trianglesMost {
		l.beside = len(numbers) <= besideAtMost
		l.triangle = newTriangle(correlations)
		if l.beside {
			l.triangle.cell = min(mostCell, besideWidth/vg.Length(len(numbers)))
			l.right = l.triangle.width() + columnGap
		} else {
			l.triangle.nameRows(numbers)
		}
	}
	x = span{math.Max(x.lo, -mostOutside), math.Min(x.hi, mostOutside)}
	l.x = horizontal(x.padded(0.04), pageWidth-2*margin-l.left-l.right-columnGap/2)
	return l
}

// ninetyPercent is the 95 % point of the standard normal distribution.
const ninetyPercent = 1.644854

// ordinal numbers a row, for the triangle.
func ordinal(i int) string { return strconv.Itoa(i+1) + "  " }

func (l *posterior) intro() string {
	text := "Bars: one standard deviation to both sides of the mean; whiskers: nine tenths of the probability."
	if l.triangle == nil && len(l.numbers) > trianglesMost {
		text += fmt.Sprintf(" Correlations of more than %d numbers are not drawn.", trianglesMost)
	}
	return text
}

func (l *posterior) height() vg.Length {
	height := l.ladder.height() + stepRoom + 2*rowHeight + 2
	if l.triangle != nil && !l.beside {
		height += triangleGap + headRoom + l.triangle.height()
	}
	if l.triangle != nil && l.beside {
		height += headRoom
	}
	return height
}

// triangleGap is above a triangle below the bars.
const triangleGap vg.Length = 10

func (l *posterior) key() []keyEntry {
	key := []keyEntry{
		{"before the fit", priorSample(0)},
		{"after the fit", priorSample(1)},
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

var (
	priorInk = ink
	heldMark = draw.GlyphStyle{Color: ink, Radius: 4, Shape: cornered{diamond, true}}
)

func priorSample(when int) sample {
	return sample{lineWidth, func(c draw.Canvas, box vg.Rectangle) {
		f := frame{box, span{-2, 2}, span{0, 1}}
		drawBelief(c, f, center(box).Y, belief{0, 1, when == 1})
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
	line := stroke(priorInk, 0.9, solid)
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

// describe says in words what the figure shows.
func (l *posterior) describe() string {
	var text strings.Builder
	fmt.Fprintf(&text, "%s before and after a fit. ", counted(len(l.numbers), "number"))
	for i := range l.numbers[:min(len(l.numbers), mostTold)] {
		fmt.Fprintf(&text, "%s: %s. ", l.numbers[i].Name, l.numbers[i].told())
	}
	if l.triangle != nil {
		i, j, r := l.triangle.strongest()
		fmt.Fprintf(&text, "The strongest correlation is %s, of %s with %s. ", signed(r, 2), l.numbers[i].Name, l.numbers[j].Name)
	}
	text.WriteString("An " + reminder + ".")
	return text.String()
}
