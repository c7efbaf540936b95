package plots

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/plot/vg"
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
	if n.Doubt > 0 {
		return shown("the way of "+n.Name+" in doubts before the fit", n.moved(n.Value))
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
		height: l.height(), body: l.draw, data: l.tables(),
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
		l.triangle = &triangle{r: correlations}
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
