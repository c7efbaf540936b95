package plots_test

import (
	"bytes"
	"strings"
	"testing"

	"hotclimb/plots"
)

// Pages that forbid styles show every kind of figure as it is.
func TestNoFigureHasStyles(t *testing.T) {
	t.Parallel()
	for name, fig := range kinds(t) {
		var svg bytes.Buffer
		if err := fig.WriteSVG(&svg); err != nil {
			t.Fatal(err)
		}
		for _, word := range []string{"style=", "<style", "px\"", "font-family:", ";\""} {
			if strings.Contains(svg.String(), word) {
				t.Errorf("%s: %s is left", name, word)
			}
		}
		for _, want := range []string{` font-size="9.5"`, ` font-weight="bold"`, ` fill="#1A1A1A"`, ` stroke-width="`} {
			if !strings.Contains(svg.String(), want) {
				t.Errorf("%s: no text or line has%s", name, want)
			}
		}
	}
}

// A text that looks like a style stays as it was written.
func TestTextsAreNoStyles(t *testing.T) {
	const odd = `a style="fill:red" of <its> own`
	fig, err := plots.Tornado([]plots.Gain{{Name: odd, Coolant: 1}}, plots.US, plots.Caption{Title: odd})
	if err != nil {
		t.Fatal(err)
	}
	var svg bytes.Buffer
	if err := fig.WriteSVG(&svg); err != nil {
		t.Fatal(err)
	}
	if drawn := texts(t, svg.String(), "text"); !has(drawn, odd) {
		t.Errorf("%q is not among %q", odd, drawn)
	}
	if title := texts(t, svg.String(), "title"); !has(title, odd) {
		t.Errorf("the title is %q", title)
	}
}
