package plots

import (
	"image/color"
	"sort"
	"strings"
	"unicode"

	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/font/liberation"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// fonts holds the faces that text is measured and drawn with.
var fonts = font.NewCache(liberation.Collection())

// words are one line of text.
type words struct {
	text  string
	size  vg.Length
	bold  bool
	color color.Color // nil: ink
	align vg.Length   // share of the width left of the point: 0, 0.5, 1
}

func (w words) face() font.Face {
	f := font.Font{Typeface: "Liberation", Variant: "Sans"}
	if w.bold {
		f.Weight = xfont.WeightBold
	}
	return fonts.Lookup(f, w.size)
}

func (w words) width() vg.Length {
	face := w.face()
	return face.Width(printable(w.text))
}

// write draws w with its baseline at a point.
func write(c draw.Canvas, at vg.Point, w words) {
	if w.text == "" {
		return
	}
	if w.color == nil {
		w.color = ink
	}
	c.SetColor(w.color)
	if w.align != 0 {
		at.X -= w.align * w.width()
	}
	c.FillString(w.face(), at, printable(w.text))
}

// middle is how far below its middle the baseline of text lies, as a share of
// the size: half of the height of the capitals of the typeface.
const middle = 0.36

// fit shortens w with an ellipsis until it is not wider than room.
func (w words) fit(room vg.Length) words {
	if w.width() <= room {
		return w
	}
	runes := []rune(w.text)
	const end = "…"
	w.text = ""
	if n := w.holds(runes[:max(0, len(runes)-1)], end, room); n > 0 {
		w.text = strings.TrimRight(string(runes[:n]), " ") + end
	}
	return w
}

// holds returns how many runes of a text, with an end after them, go into some
// room. It bisects, as a longer text is wider.
func (w words) holds(text []rune, end string, room vg.Length) int {
	return sort.Search(len(text), func(n int) bool {
		w.text = strings.TrimRight(string(text[:n+1]), " ") + end
		return w.width() > room
	})
}

// wrap breaks parts into lines not wider than room, with a separator between
// the parts of a line. A part too wide for a line is broken into three at most.
func wrap(parts []string, like words, room vg.Length) []words {
	const between = " · "
	var lines []words
	line := like
	line.text = ""
	var pieces []string
	for _, part := range parts {
		for _, piece := range breakText(part, like, room, 3) {
			pieces = append(pieces, piece.text)
		}
	}
	for _, part := range pieces {
		next := line
		next.text += part
		if line.text != "" {
			next.text = line.text + between + part
			if next.width() > room {
				lines = append(lines, line)
				next.text = part
			}
		}
		line = next
	}
	if line.text != "" {
		lines = append(lines, line)
	}
	return lines
}

// printable replaces what XML cannot carry.
func printable(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsControl(r):
			return ' '
		case r == '\uFFFE' || r == '\uFFFF':
			return unicode.ReplacementChar
		}
		return r
	}, strings.ToValidUTF8(text, "\uFFFD"))
}
