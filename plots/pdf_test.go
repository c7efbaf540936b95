package plots

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"fmt"
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"unicode/utf16"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// pdfSample is a figure with both faces, letters beyond any 8-bit set and some
// that PDF text escapes, an arc, dashes and moved axes.
func pdfSample() *Figure {
	return &Figure{title: "Grüße − “Ω” 😀", about: "a sample", width: 300, height: 200, paint: func(c draw.Canvas) {
		write(c, vg.Point{X: 20, Y: 150}, words{text: `95 °F − 2 ≥ é Ω … (a\b) č`, size: 14})
		write(c, vg.Point{X: 20, Y: 100}, words{text: "bold “ä” 96 °F", size: 20, bold: true, color: blue})
		c.Push()
		c.Translate(vg.Point{X: 100, Y: 10})
		c.Rotate(math.Pi / 2)
		write(c, vg.Point{X: 5, Y: -7}, words{text: "upright", size: 9})
		c.Pop()
		c.DrawGlyph(draw.GlyphStyle{Color: blue, Radius: 20, Shape: draw.CircleGlyph{}}, vg.Point{X: 100, Y: 50})
		c.StrokeLine2(stroke(tint(vermillion, 0.5), 2, dashed), 20, 20, 280, 20)
	}}
}

func pdfOf(t *testing.T, f *Figure) []byte {
	t.Helper()
	var file bytes.Buffer
	if err := f.WritePDF(&file); err != nil {
		t.Fatal(err)
	}
	return file.Bytes()
}

// pdfObjects reads the objects of a file by its table of places, their streams
// unpacked.
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
		if err != nil {
			t.Fatalf("place %d is %q", i, lines[2+i])
		}
		body, ok := strings.CutPrefix(string(file[place:]), fmt.Sprintf("%d 0 obj\n", i))
		if !ok {
			t.Fatalf("object %d does not stand at its place", i)
		}
		objects[i], _, _ = strings.Cut(body, "\nendobj\n")
		objects[i] = unpacked(t, objects[i])
	}
	return objects
}

// unpacked is an object with its stream unpacked.
func unpacked(t *testing.T, object string) string {
	t.Helper()
	head, data, ok := strings.Cut(object, "stream\n")
	if !ok || !strings.Contains(head, "/FlateDecode") {
		return object
	}
	z, err := zlib.NewReader(strings.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	return head + "stream\n" + string(text)
}

// object is the first that begins with a pattern.
func object(t *testing.T, objects []string, pattern string) string {
	t.Helper()
	match := regexp.MustCompile(`(?s)^` + pattern)
	i := slices.IndexFunc(objects, match.MatchString)
	if i < 0 {
		t.Fatalf("no object %s", pattern)
	}
	return objects[i]
}

// referred is the object that stands behind a key of another.
func referred(t *testing.T, objects []string, from, key string) string {
	t.Helper()
	m := regexp.MustCompile(key + ` \[?(\d+) 0 R`).FindStringSubmatch(from)
	if m == nil {
		t.Fatalf("no %s in %.200q", key, from)
	}
	n, _ := strconv.Atoi(m[1])
	return objects[n]
}

// stream is what the stream of an object holds.
func stream(object string) string {
	_, data, _ := strings.Cut(object, "stream\n")
	return data
}

// content is what is drawn on the page.
func content(t *testing.T, objects []string) string {
	t.Helper()
	return stream(referred(t, objects, object(t, objects, `<</Type /Page\n`), "/Contents"))
}

var (
	shownText = regexp.MustCompile(`(?s)BT \S+ \S+ Td \((.*?)\) Tj ET`)
	unescape  = strings.NewReplacer(`\\`, `\`, `\(`, `(`, `\)`, `)`, `\r`, "\r")
)

// utf16Text decodes the text of a page or a title.
func utf16Text(escaped string) string {
	raw := []byte(unescape.Replace(escaped))
	var units []uint16
	for ; len(raw) >= 2; raw = raw[2:] {
		units = append(units, binary.BigEndian.Uint16(raw))
	}
	return string(utf16.Decode(units))
}

// The texts of the page are those written: its codes are letters of Unicode, and
// the table of letters says so.
func TestPDFCanBeRead(t *testing.T) {
	f := pdfSample()
	objects := pdfObjects(t, pdfOf(t, f))
	var got, want []string
	for _, m := range shownText.FindAllStringSubmatch(content(t, objects), -1) {
		got = append(got, utf16Text(m[1]))
	}
	for _, a := range textsOn(f) {
		want = append(want, a.text)
	}
	if !slices.Equal(got, want) {
		t.Errorf("%q can be read, %q was written", got, want)
	}
	letters := referred(t, objects, object(t, objects, `<</Type /Font\n`), "/ToUnicode")
	if !strings.Contains(letters, "<0000> <FFFF> <0000>") {
		t.Errorf("the table of letters is %s", letters)
	}
	title := regexp.MustCompile(`(?s)/Title \((.*?)\)\n`).FindStringSubmatch(object(t, objects, `<<\n/Producer`))
	if got, want := utf16Text(title[1]), "\uFEFFGrüße − “Ω” \uFFFD"; got != want {
		t.Errorf("the title is %q, want %q", got, want)
	}
	object(t, objects, `<</Type /Pages\n.*/MediaBox \[0 0 300\.00 200\.00\]`)
}

// The same figure gives the same bytes, at once or one after the other, and they
// say nothing of when.
func TestPDFRepeats(t *testing.T) {
	t.Parallel()
	first := pdfOf(t, pdfSample())
	for _, date := range regexp.MustCompile(`Date \((.*?)\)`).FindAllSubmatch(first, -1) {
		if string(date[1]) != "D:20000101000000" {
			t.Errorf("the file carries the date %s", date[1])
		}
	}
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			for range 5 {
				var again bytes.Buffer
				if err := pdfSample().WritePDF(&again); err != nil || !bytes.Equal(again.Bytes(), first) {
					t.Errorf("the bytes differ, or %v", err)
				}
			}
		})
	}
	all.Wait()
}

// Both typefaces are there, cut down; each code leads to the glyph of its letter,
// with the width that text was measured with.
func TestPDFFaces(t *testing.T) {
	objects := pdfObjects(t, pdfOf(t, pdfSample()))
	for name, like := range map[string]words{
		"regular": {text: `95°F−2≥éΩ…(a\b)čupright`, size: 1000}, "bold": {text: "bold“ä”96°F", size: 1000, bold: true},
	} {
		font := object(t, objects, `<</Type /Font\n/Subtype /CIDFontType2\n/BaseFont /utf8liberationsans-`+name)
		file := stream(referred(t, objects, referred(t, objects, font, "/FontDescriptor"), "/FontFile2"))
		if len(file) > 60000 {
			t.Errorf("%s: %d bytes are left", name, len(file))
		}
		small, err := sfnt.Parse([]byte(file))
		if err != nil {
			t.Fatal(err)
		}
		glyphs, widths := stream(referred(t, objects, font, "/CIDToGIDMap")), pdfWidths(t, font)
		source := like.face().Face
		for _, letter := range like.text {
			g, err := source.GlyphIndex(nil, letter)
			if err != nil {
				t.Fatal(err)
			}
			want := outlineOf(t, source, g)
			got := outlineOf(t, small, sfnt.GlyphIndex(binary.BigEndian.Uint16([]byte(glyphs[2*letter:]))))
			if len(want) == 0 || !slices.Equal(got, want) {
				t.Errorf("%s: %c has another outline", name, letter)
			}
			like.text = string(letter)
			if got, want := widths[int(letter)], like.width().Points(); math.Abs(got-want) > 1 {
				t.Errorf("%s: %c is %g wide, measured %g", name, letter, got, want)
			}
		}
	}
}

// pdfWidths reads the widths of a font by code [1/1000 em] (ISO 32000-1:2008,
// 9.7.4.3).
func pdfWidths(t *testing.T, font string) map[int]float64 {
	t.Helper()
	_, list, _ := strings.Cut(font, "/W [")
	list, _, _ = strings.Cut(list, "/CIDToGIDMap")
	fields := strings.Fields(strings.NewReplacer("[", " [ ", "]", " ] ").Replace(list))
	number := func(i int) int {
		n, err := strconv.Atoi(fields[i])
		if err != nil {
			t.Fatal(err)
		}
		return n
	}
	widths := map[int]float64{}
	for i := 0; fields[i] != "]"; {
		code := number(i)
		if fields[i+1] != "[" {
			for ; code <= number(i+1); code++ {
				widths[code] = float64(number(i + 2))
			}
			i += 3
			continue
		}
		for i += 2; fields[i] != "]"; i++ {
			widths[code] = float64(number(i))
			code++
		}
		i++
	}
	return widths
}

func outlineOf(t *testing.T, font *sfnt.Font, g sfnt.GlyphIndex) sfnt.Segments {
	t.Helper()
	var b sfnt.Buffer
	segments, err := font.LoadGlyph(&b, g, fixed.I(1000), nil)
	if err != nil {
		t.Fatal(err)
	}
	return slices.Clone(segments)
}

// drawn is the content of a page that is only painted on.
func drawn(t *testing.T, paint func(draw.Canvas)) string {
	t.Helper()
	return content(t, pdfObjects(t, pdfOf(t, &Figure{width: 300, height: 200, paint: paint})))
}

// Axes, dashes, colours and widths arrive as they were set, y upwards; text has
// no colour of its own, and no line is drawn without a width, in a state or back
// from one.
func TestPDFDrawing(t *testing.T) {
	line := vg.Path{{Type: vg.MoveComp, Pos: vg.Point{X: 1, Y: 2}}, {Type: vg.LineComp, Pos: vg.Point{X: 3, Y: 4}}}
	got := drawn(t, func(c draw.Canvas) {
		c.SetLineWidth(0)
		c.Push()
		c.Translate(vg.Point{X: 10, Y: 20})
		c.Scale(2, 3)
		c.Rotate(math.Pi / 2)
		c.SetLineWidth(1.5)
		c.SetLineDash([]vg.Length{7, 3}, 2)
		c.SetColor(tint(vermillion, 0.2))
		c.Stroke(line)
		c.FillString(words{size: 10}.face(), vg.Point{X: 5, Y: 6}, "AB")
		c.Pop()
		c.Stroke(line)
		c.FillString(words{size: 10}.face(), vg.Point{X: 7, Y: 8}, "C")
		c.SetColor(nil)
		c.Fill(append(line, vg.PathComp{Type: vg.CloseComp}))
	})
	_, got, _ = strings.Cut(got, "0.00 w\n")
	got = regexp.MustCompile(`/F\w+`).ReplaceAllString(strings.ReplaceAll(got, "\x00", ""), "/F")
	// A fifth of vermillion on white is 247, 223, 204 of 255.
	want := `q
1.00000 0.00000 0.00000 1.00000 10.00000 20.00000 cm
2.00000 0.00000 0.00000 3.00000 0.00000 0.00000 cm
0.00000 1.00000 -1.00000 0.00000 0.00000 0.00000 cm
1.50 w
[7.00 3.00] 2.00 d
0.969 0.875 0.800 RG
0.969 0.875 0.800 rg
1.00 2.00 m
3.00 4.00 l
S
BT /F 10.00 Tf ET
BT 5.00 6.00 Td (AB) Tj ET
Q
BT /F 10.00 Tf ET
BT 7.00 8.00 Td (C) Tj ET
0.000 G
0.000 g
1.00 2.00 m
3.00 4.00 l
h
f
Q
`
	if strings.TrimSpace(got) != strings.TrimSpace(want) {
		t.Errorf("got\n%s", got)
	}
}

// strokes reads the points of the operators of a path.
func strokes(text, op string) [][]float64 {
	var found [][]float64
	for line := range strings.Lines(text) {
		fields := strings.Fields(line)
		if len(fields) == 0 || fields[len(fields)-1] != op {
			continue
		}
		var x []float64
		for _, f := range fields[:len(fields)-1] {
			v, _ := strconv.ParseFloat(f, 64)
			x = append(x, v)
		}
		found = append(found, x)
	}
	return found
}

// An arc stays on its circle and ends where it should, however it turns.
func TestPDFArc(t *testing.T) {
	for _, angle := range []float64{-4, 0.5, 2 * math.Pi} {
		text := drawn(t, func(c draw.Canvas) {
			c.Stroke(vg.Path{{Type: vg.ArcComp, Pos: vg.Point{X: 150, Y: 90}, Radius: 80, Start: 0.3, Angle: angle}})
		})
		at := strokes(text, "m")[0]
		for _, x := range strokes(text, "c") {
			for _, s := range []float64{0.25, 0.5, 1} {
				r := 1 - s
				bezier := func(i int) float64 { return r*r*r*at[i] + 3*r*r*s*x[i] + 3*r*s*s*x[2+i] + s*s*s*x[4+i] }
				if off := math.Hypot(bezier(0)-150, bezier(1)-90); math.Abs(off-80) > 0.0003*80 {
					t.Errorf("turning %g: radius %g", angle, off)
				}
			}
			at = x[4:]
		}
		if end := math.Atan2(at[1]-90, at[0]-150); math.Abs(math.Remainder(end-(0.3+angle), 2*math.Pi)) > 1e-4 {
			t.Errorf("turning %g: it ends at %g", angle, end)
		}
	}
}

// A curve of one handle is the same parabola with two.
func TestPDFCurves(t *testing.T) {
	var path vg.Path
	path.Move(vg.Point{X: 10, Y: 20})
	path.QuadTo(vg.Point{X: 40, Y: 80}, vg.Point{X: 100, Y: 20})
	path.CubeTo(vg.Point{X: 1, Y: 2}, vg.Point{X: 3, Y: 4}, vg.Point{X: 5, Y: 6})
	got := strokes(drawn(t, func(c draw.Canvas) { c.Stroke(path) }), "c")
	if want := "[[30 60 60 60 100 20] [1 2 3 4 5 6]]"; fmt.Sprint(got) != want {
		t.Errorf("got %v, want %s", got, want)
	}
}

// Letters that the typeface or the library does not have, and broken text, do no
// harm.
func TestPDFOfStrangeText(t *testing.T) {
	text := drawn(t, func(c draw.Canvas) {
		for _, s := range []string{"a😀b", "日本", "cut \xE2\x82", ""} {
			c.FillString(words{size: 10}.face(), vg.Point{}, s)
		}
		c.FillString(words{}.face(), vg.Point{}, "no size")
	})
	var got []string
	for _, m := range shownText.FindAllStringSubmatch(text, -1) {
		got = append(got, utf16Text(m[1]))
	}
	if want := []string{"a\uFFFDb", "日本", "cut \uFFFD", ""}; !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

// A picture cannot be drawn, and says so.
func TestPDFOfPictures(t *testing.T) {
	f := &Figure{width: 10, height: 10, paint: func(c draw.Canvas) { c.DrawImage(vg.Rectangle{}, nil) }}
	if err := f.WritePDF(io.Discard); err == nil || !strings.Contains(err.Error(), "pictures") {
		t.Errorf("a picture was drawn, or %v", err)
	}
}
