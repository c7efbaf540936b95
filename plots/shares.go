package plots

import (
	"errors"
	"fmt"
	"image/color"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Index is the part of one number in the variance of a margin, as shares of 1:
// First is what would go if the number were known, Total what would stay if all
// others were known. An estimate may lie a little below 0 or above 1.
type Index struct {
	First, Total float64
	Low, High    float64 // ends of the interval of Total; both 0 for none
}

func (x Index) interval() bool { return x.Low != 0 || x.High != 0 }

// ShareOfDoubt is the part of one number in the doubt of both margins.
type ShareOfDoubt struct {
	Name         string
	Coolant, Oil Index
}

func (s *ShareOfDoubt) circuits() [2]Index { return [2]Index{s.Coolant, s.Oil} }

// check returns what keeps the share from being drawn.
func (s *ShareOfDoubt) check() error {
	if s.Name == "" {
		return errors.New("a share of doubt has no name")
	}
	const most = 100 // no estimate worth a chart is that far off
	for k, x := range s.circuits() {
		what := fmt.Sprintf("the share of %s in the doubt of %s", s.Name, circuitNames[k])
		for _, v := range []float64{x.First, x.Total, x.Low, x.High} {
			if err := number(what, v); err != nil {
				return err
			}
			if v < -most || v > most {
				return fmt.Errorf("%s is %g: shares are from 0 to 1", what, v)
			}
		}
		if x.Low > x.High {
			return fmt.Errorf("%s: the interval of the total ends below its beginning, %g to %g", what, x.Low, x.High)
		}
	}
	return nil
}

// Shares draws where the doubt of the margins comes from, coolant beside oil:
// a bar for the total share of each number, its first-order part darker, in the
// order given. Numbers that are not finite are errors that name the share.
func Shares(list []ShareOfDoubt, c Caption) (*Figure, error) {
	if len(list) == 0 {
		return nil, errors.New("no shares of doubt to draw")
	}
	for i := range list {
		if err := list[i].check(); err != nil {
			return nil, err
		}
	}
	l := layOutShares(list)
	s := &sheet{
		heading: c.heading("Where the doubt of the margins comes from"), caption: c, key: l.key(),
		intro:  "Shares of the variance of each margin. Beside each bar: what the number does alone / in total.",
		height: l.height(), body: l.draw, data: shareTables(list),
	}
	return s.figure(l.describe()), nil
}

// shares is two columns of bars with common names.
type shares struct {
	ladder
	list  []ShareOfDoubt
	x     axis // [%]
	width vg.Length
	right vg.Length // of each frame, for the values
}

const mostShareName vg.Length = 170

func layOutShares(list []ShareOfDoubt) *shares {
	l := &shares{list: list}
	x := nothing.with(0, 0.1)
	for i := range list {
		l.add(list[i].Name, "", mostShareName, rowHeight)
		for _, s := range list[i].circuits() {
			x = x.with(max(s.First, 0), max(s.Total, 0))
			if s.interval() {
				x = x.with(s.Low, s.High)
			}
			l.right = max(l.right, shareText(s).width()+2*nameGap)
		}
	}
	l.width = (pageWidth-2*margin-l.left-columnGap/2)/2 - l.right
	const head = 1.04
	l.x = horizontal(span{100 * head * x.lo, 100 * head * x.hi}, l.width)
	return l
}

// shareText is the values of a bar.
func shareText(x Index) words {
	return words{text: decimal(100*x.First, 0) + " / " + decimal(100*x.Total, 0) + " %", size: smallSize}
}

func (l *shares) height() vg.Length {
	return headRoom + l.ladder.height() + stepRoom + rowHeight + 2
}

func (l *shares) key() []keyEntry {
	bar := func(part Index) sample {
		return sample{lineWidth, func(c draw.Canvas, box vg.Rectangle) {
			f := frame{box, span{0, 1}, span{0, 1}}
			drawShare(c, f, center(box).Y, part, noteInk)
		}}
	}
	key := []keyEntry{
		{"by the number alone (first order)", bar(Index{First: 1, Total: 1})},
		{"total, with what it does together with others", bar(Index{Total: 1})},
	}
	for i := range l.list {
		if l.list[i].Coolant.interval() || l.list[i].Oil.interval() {
			return append(key, keyEntry{"interval of the total", sample{lineWidth, func(c draw.Canvas, box vg.Rectangle) {
				whisker(c, box.Min.X, box.Max.X, center(box).Y, shareWhisker)
			}}})
		}
	}
	return key
}

var shareWhisker = stroke(ink, 0.9, solid)

// drawShare draws a bar: pale for the total, dark for the first-order part.
func drawShare(c draw.Canvas, f frame, y vg.Length, x Index, fill color.NRGBA) {
	box := func(to float64, half vg.Length) vg.Rectangle {
		at := max(f.at(to, 0).X, f.at(0, 0).X)
		return vg.Rectangle{Min: vg.Point{X: f.at(0, 0).X, Y: y - half}, Max: vg.Point{X: at, Y: y + half}}
	}
	if total := box(x.Total, barHeight/2); x.Total > 0 {
		fillBox(c, total, tint(fill, 0.22))
		c.SetLineStyle(stroke(fill, 0.8, solid))
		c.Stroke(total.Path())
	}
	if first := box(x.First, barHeight/2); x.First > 0 {
		fillBox(c, first, fill)
		c.SetLineStyle(stroke(fill, 0.8, solid))
		c.Stroke(first.Path())
	}
	if x.interval() {
		whisker(c, f.at(x.Low, 0).X, f.at(x.High, 0).X, y, shareWhisker)
	}
}

func (l *shares) draw(c draw.Canvas, area vg.Rectangle) {
	top := area.Max.Y - headRoom
	l.ladder.draw(c, area.Min.X+l.left, top, [2]vg.Length{area.Min.X, area.Max.X})
	corner := vg.Point{X: area.Min.X + l.left, Y: top - l.ladder.height()}
	for k, name := range circuitNames {
		f := frame{vg.Rectangle{Min: corner, Max: corner.Add(vg.Point{X: l.width, Y: l.ladder.height()})}, l.x.span, span{0, 1}}
		l.panel(c, k, f)
		write(c, vg.Point{X: f.Min.X, Y: f.Max.Y + headingGap}, words{text: "Margin of the " + name, size: headingSize, bold: true})
		corner.X += l.width + l.right + columnGap/2
	}
}

func (l *shares) panel(c draw.Canvas, circuit int, f frame) {
	s := sides{f, 0}
	s.uprights(c, l.x)
	unit := frame{f.Rectangle, span{f.x.lo / 100, f.x.hi / 100}, f.y}
	for i, y := range l.middles(f.Max.Y) {
		x := l.list[i].circuits()[circuit]
		drawShare(c, unit, y, x, circuitStyles[circuit].color)
		w := shareText(x)
		w.align = 1
		write(c, vg.Point{X: f.Max.X + l.right, Y: y - middle*w.size}, w)
	}
	if f.x.lo < 0 {
		c.StrokeLine2(stroke(ink, 1.1, solid), f.at(0, 0).X, f.Min.Y, f.at(0, 0).X, f.Max.Y)
	}
	outline(c, f.Rectangle, 0.7)
	s.horizontal(c, l.x, true)
	nameBelow(c, f, "Share of the variance, %")
}

// describe says in words what the figure shows.
func (l *shares) describe() string {
	var text strings.Builder
	fmt.Fprintf(&text, "Shares of %s in the variance of the margins, by the number alone and in total. ", counted(len(l.list), "number"))
	for _, s := range l.list[:min(len(l.list), mostTold)] {
		fmt.Fprintf(&text, "%s: coolant %s, oil %s. ", s.Name, shareText(s.Coolant).text, shareText(s.Oil).text)
	}
	text.WriteString("An " + reminder + ".")
	return text.String()
}
