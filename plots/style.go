package plots

import (
	"image/color"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Colours that people with any common colour blindness tell apart: M. Okabe
// and K. Ito, "Color Universal Design", 2002, revised 2008, from memory.
var (
	blue       = color.NRGBA{0x00, 0x72, 0xB2, 0xFF}
	vermillion = color.NRGBA{0xD5, 0x5E, 0x00, 0xFF}
	green      = color.NRGBA{0x00, 0x9E, 0x73, 0xFF}
	purple     = color.NRGBA{0xCC, 0x79, 0xA7, 0xFF}
	skyBlue    = color.NRGBA{0x56, 0xB4, 0xE9, 0xFF}
	orange     = color.NRGBA{0xE6, 0x9F, 0x00, 0xFF}
)

// Inks that carry no meaning of their own.
var (
	ink   = color.NRGBA{0x1A, 0x1A, 0x1A, 0xFF} // text, frames
	grey  = color.NRGBA{0x80, 0x80, 0x80, 0xFF} // leaders, boundaries of legs
	faint = color.NRGBA{0xE4, 0xE4, 0xE4, 0xFF} // grid
	white = color.NRGBA{0xFF, 0xFF, 0xFF, 0xFF}
	halo  = color.NRGBA{0xFF, 0xFF, 0xFF, 0xD8} // behind text on data
)

// Sizes of text [pt]; none is below 9.
const (
	smallSize   vg.Length = 9
	textSize    vg.Length = 9.5
	headingSize vg.Length = 10
	titleSize   vg.Length = 12
)

// Patterns of dashes: on, off, ... [pt].
var (
	solid      []vg.Length
	dashed     = []vg.Length{7, 3}
	dotted     = []vg.Length{1.5, 3}
	dashDot    = []vg.Length{8, 2.5, 1.5, 2.5}
	dashDotDot = []vg.Length{8, 2.5, 1.5, 2.5, 1.5, 2.5}
	shortDash  = []vg.Length{3, 2}
)

func stroke(c color.Color, width vg.Length, dashes []vg.Length) draw.LineStyle {
	return draw.LineStyle{Color: c, Width: width, Dashes: dashes}
}

// tint returns c with an opacity from 0 to 1.
func tint(c color.NRGBA, opacity float64) color.NRGBA {
	c.A = uint8(opacity*0xFF + 0.5)
	return c
}

// circuitStyle is how a circuit is drawn wherever it appears.
type circuitStyle struct {
	color  color.NRGBA
	dashes []vg.Length
	limit  []vg.Length
	offset vg.Length // of the dots of the caution, so that equal ones interlace
	mark   draw.GlyphDrawer
	cores  []draw.LineStyle // of the exchangers that serve it
}

var coolantStyle = circuitStyle{
	color: blue, dashes: solid, limit: dashDot, mark: draw.CircleGlyph{},
	cores: []draw.LineStyle{stroke(blue, 1.5, solid), stroke(green, 1.5, dotted), stroke(skyBlue, 1.8, dashDot), stroke(ink, 0.9, solid)},
}

var oilStyle = circuitStyle{
	color: vermillion, dashes: dashed, limit: dashDotDot, offset: 2.25, mark: draw.PyramidGlyph{},
	cores: []draw.LineStyle{stroke(vermillion, 1.5, dashed), stroke(purple, 1.8, shortDash), stroke(orange, 1.8, dashDotDot), stroke(ink, 0.9, dashed)},
}

// sensed is the line of the temperature that the gauge shows.
func (s circuitStyle) sensed() draw.LineStyle { return stroke(s.color, 1.9, s.dashes) }

// caution is the line of the caution.
func (s circuitStyle) caution() draw.LineStyle {
	line := stroke(s.color, 1.1, dotted)
	line.DashOffs = s.offset
	return line
}

// other is the line of the other leg of the circuit.
func (s circuitStyle) other() draw.LineStyle { return stroke(tint(s.color, 0.55), 0.8, s.dashes) }
