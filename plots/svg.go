package plots

import (
	"bytes"
	"fmt"
	"html"
	"io"
	"strings"

	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"
)

// families lists the typefaces of a figure, the measured one first; the
// second has the same widths.
const families = "'Liberation Sans', Arial, Helvetica, sans-serif"

// plainFace is what the canvas says of every text in the regular face; the
// root of the figure says it once instead.
var plainFace = map[string]string{
	"font-family": "Liberation Sans", "font-variant": "normal", "font-weight": "normal", "font-style": "normal",
}

// WriteSVG writes the figure as SVG that scales to its place, fit for a file
// and for the body of an HTML page, with a title and a description for people
// who do not see it. Looks are attributes of their own, none is in a style, so
// that pages which forbid styles show them and style sheets may change them.
// The bytes depend only on what the figure was made of.
func (f *Figure) WriteSVG(w io.Writer) error {
	canvas := vgsvg.New(f.width, f.height)
	f.paint(draw.New(canvas))
	var raw bytes.Buffer
	if _, err := canvas.WriteTo(&raw); err != nil {
		return fmt.Errorf("drawing the figure: %w", err)
	}
	_, body, ok := strings.Cut(raw.String(), "xlink\">\n")
	if !ok {
		return fmt.Errorf("drawing the figure: its root element was not found")
	}
	_, err := fmt.Fprintf(w, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %.5g %.5g" role="img" font-family="%s">
<title>%s</title>
<desc>%s</desc>
%s`, f.width.Points(), f.height.Points(), families,
		html.EscapeString(printable(f.title)), html.EscapeString(printable(f.about)), unstyled(body))
	return err
}

// unstyled turns the style of each element into attributes. Texts cannot be
// taken for a style, as their quotes are escaped.
func unstyled(body string) string {
	const style = `style="`
	var out strings.Builder
	out.Grow(len(body))
	for {
		before, rest, found := strings.Cut(body, style)
		if !found {
			out.WriteString(body)
			return out.String()
		}
		out.WriteString(strings.TrimRight(before, " \n\t"))
		var declarations string
		declarations, body, _ = strings.Cut(rest, `"`)
		for declaration := range strings.SplitSeq(declarations, ";") {
			name, value, _ := strings.Cut(declaration, ":")
			if plainFace[name] != value {
				fmt.Fprintf(&out, ` %s="%s"`, name, strings.TrimSuffix(value, "px"))
			}
		}
	}
}
