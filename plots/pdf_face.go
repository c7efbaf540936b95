package plots

import (
	"bytes"
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode/utf16"

	xfont "golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// objectsOfFace is how many objects a typeface takes in a document.
const objectsOfFace = 5

// pdfFace is a typeface of a page: a font of glyph numbers (ISO 32000-1, 9.7),
// so that any letter of the typeface can be written.
type pdfFace struct {
	name string // of the font
	key  string // in the page
	font *sfnt.Font
	used map[sfnt.GlyphIndex]rune
	buf  sfnt.Buffer
}

func newPDFFace(name, key string, like words) (*pdfFace, error) {
	face := like.face()
	if got := face.Name(); got != name {
		return nil, fmt.Errorf("no typeface %s", name)
	}
	return &pdfFace{name: name, key: key, font: face.Face, used: map[sfnt.GlyphIndex]rune{}}, nil
}

// glyphsOf is a text as glyph numbers in hexadecimal.
func (f *pdfFace) glyphsOf(text string) (string, error) {
	var b strings.Builder
	for _, r := range text {
		g, err := f.font.GlyphIndex(&f.buf, r)
		if err != nil {
			return "", err
		}
		if _, ok := f.used[g]; !ok {
			f.used[g] = r
		}
		fmt.Fprintf(&b, "%04X", g)
	}
	return b.String(), nil
}

// subsetTag stands before the name of a font of which a part is embedded
// (ISO 32000-1, 9.6.4).
const subsetTag = "AAAAAA+"

// perEm is the unit of the measures of a font in a document: 1/1000 em.
var perEm = fixed.I(1000)

// addTo adds the objects of the typeface to a document.
func (f *pdfFace) addTo(doc *pdfDocument) error {
	widths, err := f.widths()
	if err != nil {
		return err
	}
	m, err := f.font.Metrics(&f.buf, perEm, xfont.HintingNone)
	if err != nil {
		return err
	}
	box, err := f.font.Bounds(&f.buf, perEm, xfont.HintingNone)
	if err != nil {
		return err
	}
	first, name := len(doc.objects)+1, subsetTag+f.name
	doc.add(fmt.Sprintf("<< /Type /Font /Subtype /Type0 /BaseFont /%s /Encoding /Identity-H /DescendantFonts [%d 0 R] /ToUnicode %d 0 R >>",
		name, first+1, first+4))
	doc.add(fmt.Sprintf("<< /Type /Font /Subtype /CIDFontType2 /BaseFont /%s /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> /FontDescriptor %d 0 R /CIDToGIDMap /Identity /W [%s] >>",
		name, first+2, widths))
	doc.add(fmt.Sprintf("<< /Type /FontDescriptor /FontName /%s /Flags 4 /FontBBox [%d %d %d %d] /ItalicAngle 0 /Ascent %d /Descent %d /CapHeight %d /StemV 88 /FontFile2 %d 0 R >>",
		name, box.Min.X.Floor(), -box.Max.Y.Ceil(), box.Max.X.Ceil(), -box.Min.Y.Floor(),
		m.Ascent.Round(), -m.Descent.Round(), m.CapHeight.Round(), first+3))
	file, err := f.file()
	if err != nil {
		return err
	}
	if err := doc.addStream(fmt.Sprintf("/Length1 %d ", len(file)), file); err != nil {
		return err
	}
	return doc.addStream("", f.toUnicode())
}

// glyphs are the glyphs used, by number.
func (f *pdfFace) glyphs() []sfnt.GlyphIndex { return slices.Sorted(maps.Keys(f.used)) }

// widths lists the glyphs used with their widths.
func (f *pdfFace) widths() (string, error) {
	var b strings.Builder
	for _, g := range f.glyphs() {
		advance, err := f.font.GlyphAdvance(&f.buf, g, perEm, xfont.HintingNone)
		if err != nil {
			return "", err
		}
		fmt.Fprintf(&b, "%d [%s] ", g, pdfNumber(float64(advance)/64))
	}
	return b.String(), nil
}

// toUnicode maps the glyphs used to their letters, so that text can be searched
// and read aloud (ISO 32000-1, 9.10.3).
func (f *pdfFace) toUnicode() []byte {
	var b bytes.Buffer
	b.WriteString("/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n" +
		"/CMapName /ToUnicode def\n/CMapType 2 def\n1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n")
	const most = 100 // in one block
	for block := range slices.Chunk(f.glyphs(), most) {
		fmt.Fprintf(&b, "%d beginbfchar\n", len(block))
		for _, g := range block {
			fmt.Fprintf(&b, "<%04X> <", g)
			for _, u := range utf16Of(string(f.used[g])) {
				fmt.Fprintf(&b, "%04X", u)
			}
			b.WriteString(">\n")
		}
		b.WriteString("endbfchar\n")
	}
	b.WriteString("endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n")
	return b.Bytes()
}

func utf16Of(text string) []uint16 { return utf16.Encode([]rune(text)) }

// file is the TrueType file of the font, with the outlines of the glyphs used.
func (f *pdfFace) file() ([]byte, error) {
	var b bytes.Buffer
	if _, err := f.font.WriteSourceTo(nil, &b); err != nil {
		return nil, err
	}
	return subset(b.Bytes(), f.glyphs())
}
