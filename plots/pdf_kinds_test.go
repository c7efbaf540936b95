package plots_test

import (
	"bytes"
	"io"
	"strings"
	"testing"

	"hotclimb/plots"
)

// kinds are figures of every kind.
func kinds(t *testing.T) map[string]*plots.Figure {
	t.Helper()
	history, err := plots.History(climb().result(), plots.US, caption)
	if err != nil {
		t.Fatal(err)
	}
	cowl, err := usualCowl().draw(plots.US)
	if err != nil {
		t.Fatal(err)
	}
	figures := map[string]*plots.Figure{"history": history, "cowl": cowl, "card": card(t, usualCard(), plots.US), "odd card": card(t, oddCard(), plots.SI)}
	for _, name := range []string{"sensitivity_twelve", "contour_valley", "tornado_forty", "front_trade"} {
		figures[name] = one(name)
	}
	lessons := lessons(t, plots.US)
	for _, name := range []string{"parity_few", "residuals_few", "posterior_four", "differences_usual", "doubt_left_usual", "shares_odd", "bands_climb", "bands_sensitivity"} {
		figures[name] = lessons[name]
	}
	return figures
}

// Every kind of figure is a page of PDF, and says why it could not be written.
func TestPDFOfEveryKind(t *testing.T) {
	t.Parallel()
	for name, fig := range kinds(t) {
		var file bytes.Buffer
		if err := fig.WritePDF(&file); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if !strings.HasPrefix(file.String(), "%PDF-") || strings.Count(file.String(), "/FontFile2") != 2 {
			t.Errorf("%s: not a page with both typefaces", name)
		}
		if err := fig.WritePDF(broken{}); err == nil || !strings.Contains(err.Error(), "disk full") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func BenchmarkPDF(b *testing.B) {
	fig := one("contour_valley")
	b.ReportAllocs()
	for b.Loop() {
		if err := fig.WritePDF(io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}
