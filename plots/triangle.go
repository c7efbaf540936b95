package plots

import (
	"fmt"
	"image/color"
	"math"
	"strconv"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// checkCorrelations returns what is wrong with correlations of numbers.
func checkCorrelations(numbers []FittedNumber, r [][]float64) error {
	const rounding = 1e-6
	if len(r) != len(numbers) {
		return fmt.Errorf("%d rows of correlations for %d numbers", len(r), len(numbers))
	}
	for i := range r {
		if len(r[i]) != len(numbers) {
			return fmt.Errorf("row %d of the correlations has %d values for %d numbers", i+1, len(r[i]), len(numbers))
		}
	}
	for i := range r {
		for j, v := range r[i] {
			what := fmt.Sprintf("the correlation of %s with %s", numbers[i].Name, numbers[j].Name)
			if err := number(what, v); err != nil {
				return err
			}
			switch {
			case i == j && math.Abs(v-1) > rounding:
				return fmt.Errorf("the correlation of %s with itself is %g, not 1", numbers[i].Name, v)
			case math.Abs(v) > 1+rounding:
				return fmt.Errorf("%s is %g: it lies between −1 and 1", what, v)
			case math.Abs(v-r[j][i]) > rounding:
				return fmt.Errorf("%s is %g, the other way round %g", what, v, r[j][i])
			}
		}
	}
	return nil
}

// triangle is correlations below their diagonal, which holds the ordinals of
// the numbers.
type triangle struct {
	r     [][]float64
	cell  vg.Length // width of a cell
	names ladder    // of a triangle with rows of its own
}

// Measures of a triangle [pt].
const (
	mostCell   vg.Length = 22
	valueCell  vg.Length = 18.5 // least width of a cell with room for a value
	cellHeight vg.Length = 13
	darkest              = 0.55 // correlation from which texts are white
	leastTold            = 0.1  // correlation that has a sign
)

// nameRows gives the triangle rows of its own.
func (t *triangle) nameRows(numbers []FittedNumber) {
	for i := range numbers {
		w := words{text: ordinal(i) + numbers[i].Name, size: textSize}.fit(mostFitted - 20)
		t.names.rungs = append(t.names.rungs, rung{[]words{w}, cellHeight})
		t.names.left = max(t.names.left, w.width()+nameGap)
	}
	t.cell = min(mostCell, (pageWidth-2*margin-t.names.left)/vg.Length(len(numbers)))
}

func (t *triangle) width() vg.Length  { return t.cell * vg.Length(len(t.r)) }
func (t *triangle) height() vg.Length { return t.names.height() }

// rungsOf are the boxes of the rows of a ladder, without width.
func rungsOf(l *ladder, top vg.Length) []vg.Rectangle {
	boxes := make([]vg.Rectangle, len(l.rungs))
	for i, y := range l.middles(top) {
		half := l.rungs[i].height / 2
		boxes[i] = vg.Rectangle{Min: vg.Point{Y: y - half}, Max: vg.Point{Y: y + half}}
	}
	return boxes
}

// draw draws the triangle with its rows at the heights of boxes.
func (t *triangle) draw(c draw.Canvas, left vg.Length, rows []vg.Rectangle) {
	for i, row := range rows {
		for j := range i + 1 {
			box := row.Add(vg.Point{X: left + vg.Length(j)*t.cell})
			box.Max.X += t.cell
			if i == j {
				cellText(c, box, words{text: strconv.Itoa(i + 1), size: smallSize, bold: true})
				continue
			}
			fillBox(c, box, greyOf(t.r[i][j]))
			outline(c, box, 0.4)
			cellText(c, box, t.text(t.r[i][j]))
		}
	}
}

func cellText(c draw.Canvas, box vg.Rectangle, w words) {
	w.align = 0.5
	write(c, vg.Point{X: center(box).X, Y: center(box).Y - middle*w.size}, w)
}

// text is the value of a correlation where there is room, else its sign.
func (t *triangle) text(r float64) words {
	w := words{size: smallSize}
	if math.Abs(r) > darkest {
		w.color = white
	}
	switch {
	case t.cell >= valueCell:
		w.text = signed(r, 1)
	case r >= leastTold:
		w.text = "+"
	case r <= -leastTold:
		w.text = "−"
	}
	return w
}

// greyOf is the shade of a correlation: white for none, dark for 1 and −1, with a
// step where texts turn white, so that they stand out on both sides of it.
func greyOf(r float64) color.NRGBA {
	size := min(math.Abs(r), 1)
	shade := 255 - 87*size/darkest
	if size > darkest {
		shade = 115 - 75*(size-darkest)/(1-darkest)
	}
	v := uint8(math.Round(shade))
	return color.NRGBA{v, v, v, 0xFF}
}

func (t *triangle) key() []keyEntry {
	var key []keyEntry
	for _, r := range []float64{-0.3, 0.6, 0.9} {
		key = append(key, keyEntry{"correlation " + signed(r, 1), sample{lineWidth / 2, func(c draw.Canvas, box vg.Rectangle) {
			box.Min.Y, box.Max.Y = box.Min.Y-1, box.Max.Y+1
			fillBox(c, box, greyOf(r))
			outline(c, box, 0.4)
			cellText(c, box, (&triangle{}).text(r))
		}}})
	}
	return key
}

// strongest is the largest correlation by size.
func (t *triangle) strongest() (i, j int, r float64) {
	i, j = 1, 0
	for a := range t.r {
		for b := range a {
			if math.Abs(t.r[a][b]) > math.Abs(t.r[i][j]) {
				i, j = a, b
			}
		}
	}
	return i, j, t.r[i][j]
}
