package plots

import (
	"bytes"
	"fmt"
	"image/color"
	"io"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/recorder"
)

// WritePDF writes the figure as a page of PDF 1.7 (ISO 32000-1:2008) of its own
// size, with the glyphs that it uses of its typefaces embedded, so that it looks
// and prints the same everywhere. It carries no date: the bytes depend only on
// what the figure was made of. Colours that let others shine through are mixed
// with the white of the paper; pictures within a figure are an error.
func (f *Figure) WritePDF(w io.Writer) error {
	var tape recorder.Canvas
	f.paint(draw.NewCanvas(&tape, f.width, f.height))
	p := pdfPage{faces: map[string]*pdfFace{}}
	for _, action := range tape.Actions {
		if err := p.take(action); err != nil {
			return fmt.Errorf("writing the figure as PDF: %w", err)
		}
	}
	doc := pdfDocument{}
	if err := p.finish(&doc, f); err != nil {
		return fmt.Errorf("writing the figure as PDF: %w", err)
	}
	return doc.write(w)
}

// pdfPage is the content of a page in the making.
type pdfPage struct {
	bytes.Buffer
	faces map[string]*pdfFace // by the name of their font
	order []string            // in which those came up
	width vg.Length           // of lines; nothing is stroked at 0
	outer []vg.Length         // widths of the states that Pop returns to
}

// op adds an operator with numbers before it.
func (p *pdfPage) op(name string, numbers ...float64) {
	for _, x := range numbers {
		p.WriteString(pdfNumber(x) + " ")
	}
	p.WriteString(name + "\n")
}

// pdfNumber prints a number to a thousandth of a point.
func pdfNumber(x float64) string {
	return strconv.FormatFloat(math.Round(x*1000)/1000+0, 'f', -1, 64)
}

// take adds what a recorded action draws.
func (p *pdfPage) take(action recorder.Action) error {
	switch a := action.(type) {
	case *recorder.SetLineWidth:
		p.width = a.Width
		p.op("w", a.Width.Points())
	case *recorder.SetLineDash:
		p.dash(a)
	case *recorder.SetColor:
		r, g, b := onWhite(a.Color)
		p.op("rg", r, g, b)
		p.op("RG", r, g, b)
	case *recorder.Rotate:
		sin, cos := math.Sincos(a.Angle)
		p.op("cm", cos, sin, -sin, cos, 0, 0)
	case *recorder.Translate:
		p.op("cm", 1, 0, 0, 1, a.Point.X.Points(), a.Point.Y.Points())
	case *recorder.Scale:
		p.op("cm", a.X, 0, 0, a.Y, 0, 0)
	case *recorder.Push:
		p.outer = append(p.outer, p.width)
		p.op("q")
	case *recorder.Pop:
		last := len(p.outer) - 1
		p.width, p.outer = p.outer[last], p.outer[:last]
		p.op("Q")
	case *recorder.Stroke:
		if p.width > 0 {
			p.path(a.Path)
			p.op("S")
		}
	case *recorder.Fill:
		p.path(a.Path)
		p.op("f")
	case *recorder.FillString:
		return p.text(a)
	case *recorder.Comment:
	default:
		return fmt.Errorf("%T cannot be drawn", action)
	}
	return nil
}

func (p *pdfPage) dash(a *recorder.SetLineDash) {
	p.WriteString("[")
	for _, d := range a.Dashes {
		p.WriteString(pdfNumber(d.Points()) + " ")
	}
	p.WriteString("] ")
	p.op("d", a.Offsets.Points())
}

// onWhite is a colour on white paper, each component from 0 to 1.
func onWhite(c color.Color) (r, g, b float64) {
	if c == nil {
		c = color.Black
	}
	const full = 0xFFFF
	red, green, blue, alpha := c.RGBA() // multiplied by alpha
	paper := full - alpha
	return float64(red+paper) / full, float64(green+paper) / full, float64(blue+paper) / full
}

func (p *pdfPage) path(path vg.Path) {
	at := func(q vg.Point) []float64 { return []float64{q.X.Points(), q.Y.Points()} }
	for _, c := range path {
		switch c.Type {
		case vg.MoveComp:
			p.op("m", at(c.Pos)...)
		case vg.LineComp:
			p.op("l", at(c.Pos)...)
		case vg.ArcComp:
			p.arc(c)
		case vg.CurveComp:
			a, b := c.Control[0], c.Control[len(c.Control)-1]
			p.op("c", append(append(at(a), at(b)...), at(c.Pos)...)...)
		case vg.CloseComp:
			p.op("h")
		}
	}
}

// arc adds an arc in pieces of at most a quarter, each a Bézier curve whose
// handles are 4/3·tan(θ/4) long: off the circle by 0.03 % at most.
func (p *pdfPage) arc(c vg.PathComp) {
	r, x, y := c.Radius.Points(), c.Pos.X.Points(), c.Pos.Y.Points()
	n := int(math.Ceil(math.Abs(c.Angle)/(math.Pi/2) - 1e-9))
	step := c.Angle / float64(max(n, 1))
	handle := 4.0 / 3 * math.Tan(step/4)
	sin, cos := math.Sincos(c.Start)
	start := "l"
	if !p.inPath() {
		start = "m"
	}
	p.op(start, x+r*cos, y+r*sin)
	for i := range n {
		sin2, cos2 := math.Sincos(c.Start + float64(i+1)*step)
		p.op("c", x+r*(cos-handle*sin), y+r*(sin+handle*cos),
			x+r*(cos2+handle*sin2), y+r*(sin2-handle*cos2), x+r*cos2, y+r*sin2)
		sin, cos = sin2, cos2
	}
}

// inPath reports whether the last operator belongs to a path that goes on.
func (p *pdfPage) inPath() bool {
	line := p.Bytes()
	for _, op := range []string{" m\n", " l\n", " c\n"} {
		if bytes.HasSuffix(line, []byte(op)) {
			return true
		}
	}
	return false
}

// text adds a line of text.
func (p *pdfPage) text(a *recorder.FillString) error {
	face, err := p.face(a.Font.Name(), words{bold: strings.Contains(a.Font.Name(), "Bold"), size: a.Size})
	if err != nil {
		return err
	}
	glyphs, err := face.glyphsOf(a.String)
	if err != nil {
		return err
	}
	fmt.Fprintf(p, "BT /%s %s Tf %s %s Td <%s> Tj ET\n", face.key, pdfNumber(a.Size.Points()),
		pdfNumber(a.Point.X.Points()), pdfNumber(a.Point.Y.Points()), glyphs)
	return nil
}

// face is that of a font, kept from then on.
func (p *pdfPage) face(name string, like words) (*pdfFace, error) {
	if f, ok := p.faces[name]; ok {
		return f, nil
	}
	f, err := newPDFFace(name, "F"+strconv.Itoa(len(p.order)+1), like)
	if err != nil {
		return nil, err
	}
	p.faces[name] = f
	p.order = append(p.order, name)
	return f, nil
}

// finish adds the page and all it needs to a document.
func (p *pdfPage) finish(doc *pdfDocument, f *Figure) error {
	const catalog, pages, page, content, info = 1, 2, 3, 4, 5
	var fonts strings.Builder
	doc.add(fmt.Sprintf("<< /Type /Catalog /Pages %d 0 R /Lang (en) /ViewerPreferences << /DisplayDocTitle true >> >>", pages))
	doc.add(fmt.Sprintf("<< /Type /Pages /Kids [%d 0 R] /Count 1 >>", page))
	for i, name := range p.order {
		fmt.Fprintf(&fonts, "/%s %d 0 R ", p.faces[name].key, info+1+i*objectsOfFace)
	}
	doc.add(fmt.Sprintf("<< /Type /Page /Parent %d 0 R /MediaBox [0 0 %s %s] /Contents %d 0 R /Resources << /Font << %s>> >> >>",
		pages, pdfNumber(f.width.Points()), pdfNumber(f.height.Points()), content, fonts.String()))
	if err := doc.addStream("", p.Bytes()); err != nil {
		return err
	}
	doc.add(fmt.Sprintf("<< /Title %s /Subject %s >>", pdfText(f.title), pdfText(f.about)))
	for _, name := range p.order {
		if err := p.faces[name].addTo(doc); err != nil {
			return err
		}
	}
	return nil
}
