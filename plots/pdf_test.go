package plots

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"

	"golang.org/x/image/font/sfnt"
	"gonum.org/v1/plot/font/liberation"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// pdfSample is a figure with both faces, letters beyond any 8-bit set, an arc, a
// curve and moved axes.
func pdfSample() *Figure {
	return &Figure{title: "Grüße − “Ω”", about: "a sample", width: 300, height: 200, paint: func(c draw.Canvas) {
		write(c, vg.Point{X: 20, Y: 150}, words{text: "95 °F − 2 ≥ é Ω …", size: 14})
		write(c, vg.Point{X: 20, Y: 100}, words{text: "bold “ä” 96 °F", size: 20, bold: true})
		c.Push()
		c.Translate(vg.Point{X: 100, Y: 10})
		c.Rotate(math.Pi / 2)
		write(c, vg.Point{}, words{text: "upright", size: 9})
		c.Pop()
		c.DrawGlyph(draw.GlyphStyle{Color: blue, Radius: 20, Shape: draw.CircleGlyph{}}, vg.Point{X: 100, Y: 50})
		c.StrokeLine2(stroke(vermillion, 2, dashed), 20, 20, 280, 20)
	}}
}

// pdfObjects reads the objects of a file by its table of places.
func pdfObjects(t *testing.T, file []byte) []string {
	t.Helper()
	tail := regexp.MustCompile(`startxref\n(\d+)\n%%EOF\n$`).FindSubmatch(file)
	if tail == nil {
		t.Fatal("no table of places")
	}
	at, _ := strconv.Atoi(string(tail[1]))
	lines := strings.Split(string(file[at:]), "\n")
	var first, n int
	if _, err := fmt.Sscanf(lines[1], "%d %d", &first, &n); err != nil || lines[0] != "xref" {
		t.Fatalf("table begins %q", lines[:2])
	}
	objects := make([]string, n)
	for i := 1; i < n; i++ {
		place, err := strconv.Atoi(lines[2+i][:10])
		if err != nil || len(lines[2+i]) != 19 {
			t.Fatalf("place %d is %q", i, lines[2+i])
		}
		head := fmt.Sprintf("%d 0 obj\n", i)
		body, ok := strings.CutPrefix(string(file[place:]), head)
		if !ok {
			t.Fatalf("object %d does not stand at its place", i)
		}
		objects[i], _, _ = strings.Cut(body, "\nendobj\n")
	}
	return objects
}

// unpacked is the data of a compressed stream; "" for other objects.
func unpacked(t *testing.T, object string) string {
	t.Helper()
	_, data, ok := strings.Cut(object, "stream\n")
	if !ok {
		return ""
	}
	data = strings.TrimSuffix(data, "\nendstream")
	if want := fmt.Sprintf("/Length %d ", len(data)); !strings.Contains(object, want) {
		t.Fatalf("no %s in %.60q", want, object)
	}
	z, err := zlib.NewReader(strings.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

var (
	shownText = regexp.MustCompile(`/(F\d) \S+ Tf \S+ \S+ Td <([0-9A-F]*)> Tj`)
	mapped    = regexp.MustCompile(`<([0-9A-F]{4})> <([0-9A-F]+)>`)
)

// The letters that a reader finds by the table of letters are those written.
func TestPDFCanBeRead(t *testing.T) {
	var file bytes.Buffer
	f := pdfSample()
	if err := f.WritePDF(&file); err != nil {
		t.Fatal(err)
	}
	objects := pdfObjects(t, file.Bytes())
	letters := map[string]map[string]string{}
	for i := range 2 {
		table := map[string]string{}
		for _, m := range mapped.FindAllStringSubmatch(unpacked(t, objects[6+i*objectsOfFace+4]), -1) {
			var units []uint16
			for k := 0; k < len(m[2]); k += 4 {
				u, _ := strconv.ParseUint(m[2][k:k+4], 16, 16)
				units = append(units, uint16(u))
			}
			table[m[1]] = string(utf16.Decode(units))
		}
		letters[fmt.Sprintf("F%d", i+1)] = table
	}
	var got, want []string
	for _, m := range shownText.FindAllStringSubmatch(unpacked(t, objects[4]), -1) {
		text := ""
		for k := 0; k < len(m[2]); k += 4 {
			text += letters[m[1]][m[2][k:k+4]]
		}
		got = append(got, text)
	}
	for _, a := range textsOn(f) {
		want = append(want, a.text)
	}
	if !slices.Equal(got, want) {
		t.Errorf("%q can be read, %q was written", got, want)
	}
	if !strings.Contains(objects[5], pdfText("Grüße − “Ω”")) {
		t.Errorf("the title is %s", objects[5])
	}
	if !strings.Contains(objects[3], "/MediaBox [0 0 300 200]") {
		t.Errorf("the page is %s", objects[3])
	}
}

// The same figure gives the same bytes: no date, no order of chance. A date
// would differ from the second to the next, so none must stand there at all.
func TestPDFRepeats(t *testing.T) {
	var first bytes.Buffer
	if err := pdfSample().WritePDF(&first); err != nil {
		t.Fatal(err)
	}
	if bytes.Contains(first.Bytes(), []byte("Date")) || bytes.Contains(first.Bytes(), []byte("/ID")) {
		t.Error("the file carries a date or an identifier")
	}
	for range 20 {
		var again bytes.Buffer
		if err := pdfSample().WritePDF(&again); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(again.Bytes(), first.Bytes()) {
			t.Fatal("the bytes differ")
		}
	}
}

// Widths in the file are those that text was measured with.
func TestPDFWidths(t *testing.T) {
	measured := words{size: 10}.face()
	face, err := newPDFFace(measured.Name(), "F1", words{size: 10})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := face.glyphsOf("W°i"); err != nil {
		t.Fatal(err)
	}
	widths, err := face.widths()
	if err != nil {
		t.Fatal(err)
	}
	for _, letter := range []string{"W", "°", "i"} {
		want := words{text: letter, size: 1000}.width().Points()
		g, err := face.font.GlyphIndex(&face.buf, []rune(letter)[0])
		if err != nil {
			t.Fatal(err)
		}
		m := regexp.MustCompile(fmt.Sprintf(`(^| )%d \[([0-9.]+)\]`, g)).FindStringSubmatch(widths)
		if m == nil {
			t.Fatalf("%q has no width in %q", letter, widths)
		}
		if got, _ := strconv.ParseFloat(m[2], 64); math.Abs(got-want) > 1 {
			t.Errorf("%q is %g wide, measured %g", letter, got, want)
		}
	}
}

// A picture cannot be drawn, and says so.
func TestPDFOfPictures(t *testing.T) {
	f := &Figure{width: 10, height: 10, paint: func(c draw.Canvas) { c.DrawImage(vg.Rectangle{}, nil) }}
	if err := f.WritePDF(io.Discard); err == nil {
		t.Error("a picture was drawn")
	}
}

// An arc of Bézier curves stays on its circle.
func TestPDFArc(t *testing.T) {
	var p pdfPage
	p.path(vg.Path{{Type: vg.ArcComp, Pos: vg.Point{X: 5, Y: -3}, Radius: 100, Start: 0.3, Angle: -4}})
	var at [2]float64
	for line := range strings.Lines(p.String()) {
		fields := strings.Fields(line)
		x := make([]float64, len(fields)-1)
		for i := range x {
			x[i], _ = strconv.ParseFloat(fields[i], 64)
		}
		if len(x) == 6 {
			for _, s := range []float64{0.25, 0.5, 1} {
				bezier := func(i int) float64 {
					r := 1 - s
					return r*r*r*at[i] + 3*r*r*s*x[i] + 3*r*s*s*x[2+i] + s*s*s*x[4+i]
				}
				if r := math.Hypot(bezier(0)-5, bezier(1)+3); math.Abs(r-100) > 0.03 {
					t.Errorf("radius %g", r)
				}
			}
		}
		at = [2]float64{x[len(x)-2], x[len(x)-1]}
	}
	if end := math.Atan2(at[1]+3, at[0]-5); math.Abs(math.Remainder(end-(0.3-4), 2*math.Pi)) > 1e-3 {
		t.Errorf("it ends at %g", end)
	}
}

// Glyphs that are used keep their outlines, also those made of parts; others
// lose them.
func TestSubset(t *testing.T) {
	for _, face := range liberation.Collection()[:2] {
		var b sfnt.Buffer
		var source bytes.Buffer
		if _, err := face.Face.WriteSourceTo(nil, &source); err != nil {
			t.Fatal(err)
		}
		var used []sfnt.GlyphIndex
		for _, r := range "Wé°" {
			g, err := face.Face.GlyphIndex(&b, r)
			if err != nil {
				t.Fatal(err)
			}
			used = append(used, g)
		}
		small, err := subset(source.Bytes(), used)
		if err != nil {
			t.Fatal(err)
		}
		if len(small) > source.Len()/5 {
			t.Errorf("%d of %d bytes are left", len(small), source.Len())
		}
		reread := completed(t, source.Bytes(), small)
		for _, g := range used {
			want, got := outlineOf(t, face.Face, g), outlineOf(t, reread, g)
			if len(want) == 0 || fmt.Sprint(got) != fmt.Sprint(want) {
				t.Errorf("glyph %d has another outline", g)
			}
		}
		if g, _ := face.Face.GlyphIndex(&b, 'Q'); len(outlineOf(t, reread, g)) != 0 {
			t.Error("an outline that is not used is left")
		}
	}
}

// completed is a subset with the tables that it left out put back, so that a
// reader of fonts takes it.
func completed(t *testing.T, source, small []byte) *sfnt.Font {
	t.Helper()
	tables, err := tablesOf(source)
	if err != nil {
		t.Fatal(err)
	}
	kept, err := tablesOf(small)
	if err != nil {
		t.Fatal(err)
	}
	var tags []string
	for tag := range tables {
		if kept[tag] != nil {
			tables[tag] = kept[tag]
		}
		tags = append(tags, tag)
	}
	slices.Sort(tags)
	font, err := sfnt.Parse(assemble(tables, tags))
	if err != nil {
		t.Fatal(err)
	}
	return font
}

func outlineOf(t *testing.T, font *sfnt.Font, g sfnt.GlyphIndex) sfnt.Segments {
	t.Helper()
	var b sfnt.Buffer
	segments, err := font.LoadGlyph(&b, g, perEm, nil)
	if err != nil {
		t.Fatal(err)
	}
	return slices.Clone(segments)
}

// A font file that is cut off gives an error, not a panic.
func TestSubsetOfBrokenFiles(t *testing.T) {
	var source bytes.Buffer
	if _, err := liberation.Collection()[0].Face.WriteSourceTo(nil, &source); err != nil {
		t.Fatal(err)
	}
	for n := 0; n < source.Len(); n = n*3/2 + 1 {
		if _, err := subset(source.Bytes()[:n], []sfnt.GlyphIndex{60000}); err == nil {
			t.Errorf("%d bytes are taken for a font", n)
		}
	}
}
