package plots

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"math"

	"codeberg.org/go-pdf/fpdf"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// pdfPage is a canvas ([vg.Canvas]) on a page of PDF. Errors stay in pdf until
// it is written.
//
// The library counts y downwards from the top of the page where it takes points,
// but passes transformations on as they are, with y upwards. As it turns points
// about the height of the page, points turned beforehand come out as they were,
// within any transformation.
type pdfPage struct {
	pdf    *fpdf.Fpdf
	height vg.Length
	widths []vg.Length     // of lines: the present one last, before it those that Pop returns to
	faces  map[string]bool // by name
}

// at is a point as the library wants it.
func (p *pdfPage) at(q vg.Point) (x, y float64) {
	return q.X.Points(), (p.height - q.Y).Points()
}

// SetLineWidth sets the width of lines, kept because PDF draws those without
// any as thin as can be.
func (p *pdfPage) SetLineWidth(width vg.Length) {
	p.widths[len(p.widths)-1] = width
	p.pdf.SetLineWidth(width.Points())
}

// SetLineDash sets the dashes of lines; none is a solid line.
func (p *pdfPage) SetLineDash(pattern []vg.Length, offset vg.Length) {
	dashes := make([]float64, len(pattern))
	for i, d := range pattern {
		dashes[i] = d.Points()
	}
	p.pdf.SetDashPattern(dashes, offset.Points())
}

// SetColor sets the colour of all that is drawn. The library does not know that
// Pop restores colours, and tells text its own when that differs from the one of
// fills: always set alike, all of them follow Pop.
func (p *pdfPage) SetColor(c color.Color) {
	r, g, b := onWhite(c)
	p.pdf.SetDrawColor(r, g, b)
	p.pdf.SetFillColor(r, g, b)
	p.pdf.SetTextColor(r, g, b)
}

// onWhite is a colour on white paper, each component from 0 to 255; nil is black.
func onWhite(c color.Color) (r, g, b int) {
	if c == nil {
		c = color.Black
	}
	red, green, blue, alpha := c.RGBA() // to 0xFFFF, multiplied by alpha
	mixed := func(part uint32) int { return int((part + 0xFFFF - alpha) >> 8) }
	return mixed(red), mixed(green), mixed(blue)
}

// Rotate turns what follows to the left [rad].
func (p *pdfPage) Rotate(angle float64) {
	sin, cos := math.Sincos(angle)
	p.pdf.Transform(fpdf.TransformMatrix{A: cos, B: sin, C: -sin, D: cos})
}

// Translate moves what follows.
func (p *pdfPage) Translate(by vg.Point) {
	p.pdf.Transform(fpdf.TransformMatrix{A: 1, D: 1, E: by.X.Points(), F: by.Y.Points()})
}

// Scale stretches what follows.
func (p *pdfPage) Scale(x, y float64) {
	p.pdf.Transform(fpdf.TransformMatrix{A: x, D: y})
}

// Push keeps the state until Pop.
func (p *pdfPage) Push() {
	p.widths = append(p.widths, p.widths[len(p.widths)-1])
	p.pdf.TransformBegin()
}

// Pop returns to the state of Push.
func (p *pdfPage) Pop() {
	p.widths = p.widths[:len(p.widths)-1]
	p.pdf.TransformEnd()
}

// Stroke draws the line of a path if lines have a width.
func (p *pdfPage) Stroke(path vg.Path) {
	if p.widths[len(p.widths)-1] > 0 {
		p.trace(path)
		p.pdf.DrawPath("S")
	}
}

// Fill fills a path.
func (p *pdfPage) Fill(path vg.Path) {
	p.trace(path)
	p.pdf.DrawPath("f")
}

// FillString writes text; none at size 0, for which the library takes the last.
func (p *pdfPage) FillString(f font.Face, at vg.Point, text string) {
	if f.Font.Size <= 0 {
		return
	}
	p.addFace(f)
	p.pdf.SetFont(f.Name(), "", f.Font.Size.Points())
	x, y := p.at(at)
	p.pdf.Text(x, y, encodable(text))
}

// addFace makes a typeface known under its name. Into the bytes of a font with
// fewer widths than glyphs the library writes, so each page has its own bytes. It
// embeds the glyphs used, but without the tag of a part before the name
// (ISO 32000-1:2008, 9.6.4), and has no way to set one. A font that it cannot
// read it tells on the standard output; the error comes with SetFont.
func (p *pdfPage) addFace(f font.Face) {
	if p.faces[f.Name()] {
		return
	}
	p.faces[f.Name()] = true
	var b bytes.Buffer
	if _, err := f.Face.WriteSourceTo(nil, &b); err != nil {
		p.pdf.SetError(err)
		return
	}
	p.pdf.AddUTF8FontFromBytes(f.Name(), "", b.Bytes())
}

// DrawImage is an error: figures have no pictures.
func (p *pdfPage) DrawImage(vg.Rectangle, image.Image) {
	p.pdf.SetError(errors.New("pictures cannot be drawn"))
}
