package plots

import (
	"fmt"
	"io"
	"strings"
	"time"
	"unicode"

	"codeberg.org/go-pdf/fpdf"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// WritePDF writes the figure as a page of PDF of its own size, with the glyphs
// that it uses of its typefaces embedded, so that it looks and prints the same
// everywhere; its text can be searched. The bytes depend only on what the figure
// was made of. Colours that let others shine through are mixed with the white of
// the paper; pictures within a figure are an error.
func (f *Figure) WritePDF(w io.Writer) error {
	p := newPDFPage(f)
	f.paint(draw.NewCanvas(p, f.width, f.height))
	p.pdf.TransformEnd()
	if err := p.pdf.Output(w); err != nil {
		return fmt.Errorf("writing the figure as PDF: %w", err)
	}
	return nil
}

// pdfDate stands in every file: without one the library writes that of the
// clock, and the bytes would change from second to second.
var pdfDate = time.Date(2000, time.January, 1, 0, 0, 0, 0, time.UTC)

// newPDFPage is an empty page for a figure. All that is drawn lies within one
// context of transformation, without which the library refuses to transform.
func newPDFPage(f *Figure) *pdfPage {
	pdf := fpdf.NewCustom(&fpdf.InitType{
		UnitStr: "pt",
		Size:    fpdf.SizeType{Wd: f.width.Points(), Ht: f.height.Points()},
	})
	pdf.SetCreationDate(pdfDate)
	pdf.SetModificationDate(pdfDate)
	pdf.SetCatalogSort(true) // else typefaces come in an order of chance
	pdf.SetTitle(encodable(f.title), true)
	pdf.SetSubject(encodable(f.about), true)
	pdf.SetLang("en")
	pdf.AddPage()
	pdf.TransformBegin()
	p := &pdfPage{pdf: pdf, height: f.height, widths: []vg.Length{0}, faces: map[string]bool{}}
	vg.Initialize(p)
	return p
}

// encodable returns text with the replacement character for what the library
// does not survive: broken UTF-8 and letters beyond the first 65536 of Unicode.
func encodable(text string) string {
	return strings.Map(func(r rune) rune {
		if r > 0xFFFF {
			return unicode.ReplacementChar
		}
		return r
	}, printable(text))
}
