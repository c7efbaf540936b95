package plots

import (
	"fmt"
	"io"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
)

// Caption says what a figure shows and where it comes from. Empty fields are
// left out of the caption line.
type Caption struct {
	Title    string // heading of the figure
	Cases    []string
	Scenario string // title of the scenario
	Hash     string // of the scenario; its first 12 characters are shown
	Version  string // of the program
}

// reminder ends the caption of every figure.
const reminder = "estimate; prove by flight test"

// shownHash is how much of a hash a caption shows.
const shownHash = 12

// lines returns the caption line, broken to the width of a figure.
func (c Caption) lines(room vg.Length) []words {
	label := "case "
	if len(c.Cases) > 1 {
		label = "cases "
	}
	parts := []string{c.Scenario, labelled(label, strings.Join(c.Cases, ", "))}
	hash := []rune(c.Hash)
	parts = append(parts, labelled("scenario ", string(hash[:min(len(hash), shownHash)])))
	parts = append(parts, labelled("version ", c.Version), reminder)
	return wrap(parts, words{size: smallSize}, room)
}

// heading is the title, or the usual one of a figure, and the cases.
func (c Caption) heading(usual string) string {
	title := c.Title
	if title == "" {
		title = usual
	}
	if len(c.Cases) > 0 {
		title += " – " + strings.Join(c.Cases, ", ")
	}
	return title
}

func labelled(label, text string) string {
	if text == "" {
		return ""
	}
	return label + text
}

// Figure is a chart ready to be written.
type Figure struct {
	title, about  string
	width, height vg.Length
	paint         func(draw.Canvas)
	data          []Table
}

// Data is what the figure shows in numbers: a table for each of its parts.
func (f *Figure) Data() []Table { return f.data }

// dotsPerInch of a PNG: sharp on a dense screen and on paper.
const dotsPerInch = 192

// WritePNG writes the figure as PNG, 192 dots per inch, on white.
func (f *Figure) WritePNG(w io.Writer) error {
	canvas := vgimg.NewWith(vgimg.UseWH(f.width, f.height), vgimg.UseDPI(dotsPerInch))
	f.paint(draw.New(canvas))
	if _, err := (vgimg.PngCanvas{Canvas: canvas}).WriteTo(w); err != nil {
		return fmt.Errorf("writing the figure: %w", err)
	}
	return nil
}
