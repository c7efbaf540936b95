package plots

import (
	"fmt"
	"image/color"
	"math"
	"regexp"
	"strconv"
	"testing"
)

// inTheDark is what the style of pages makes of a colour of a drawing where the
// screen is dark: the three functions of its filter, each clamped to what a
// screen shows (Filter Effects Module Level 1, W3C, 2018).
func inTheDark(t *testing.T, c color.NRGBA) color.NRGBA {
	t.Helper()
	found := regexp.MustCompile(`filter: invert\(([0-9.]+)\) hue-rotate\(180deg\) brightness\(([0-9.]+)\);`).FindStringSubmatch(PageStyle)
	if found == nil {
		t.Fatal("the style has no such filter")
	}
	inverted, _ := strconv.ParseFloat(found[1], 64)
	brightness, _ := strconv.ParseFloat(found[2], 64)
	clamp := func(x float64) float64 { return min(max(x, 0), 1) }
	in := [3]float64{float64(c.R) / 255, float64(c.G) / 255, float64(c.B) / 255}
	grey := 0.0 // twice that of the colour
	for i, weight := range []float64{0.213, 0.715, 0.072} {
		in[i] = clamp(inverted + in[i]*(1-2*inverted))
		grey += 2 * weight * in[i]
	}
	out := [3]uint8{}
	for i, x := range in {
		out[i] = uint8(math.Round(255 * clamp(brightness*clamp(grey-x))))
	}
	return color.NRGBA{out[0], out[1], out[2], 0xFF}
}

func hexOf(c color.NRGBA) string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// TestTextStandsOutInDrawings holds texts on coloured grounds to 4.5 to 1 (WCAG
// 2.1, 1.4.3), in light and in dark.
func TestTextStandsOutInDrawings(t *testing.T) {
	check := func(what string, front, back color.NRGBA) {
		const least = 4.5
		if got := contrast(t, hexOf(front), hexOf(back)); got < least {
			t.Errorf("%s has %.2f to 1", what, got)
		}
		if got := contrast(t, hexOf(inTheDark(t, front)), hexOf(inTheDark(t, back))); got < least {
			t.Errorf("%s in the dark has %.2f to 1", what, got)
		}
	}
	for _, front := range []color.NRGBA{ink, noteInk} {
		check("text on paper", front, white)
	}
	const steps = 40
	for i := range steps + 1 {
		x := float64(i) / steps
		check(fmt.Sprintf("text on air %g K warmer", x*warmest), ink, airInk(x*warmest))
		front := ink
		if set := (&triangle{}).text(x).color; set != nil {
			front = color.NRGBAModel.Convert(set).(color.NRGBA)
		}
		check(fmt.Sprintf("a correlation of %g", x), front, greyOf(x))
	}
}
