package plots_test

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"hotclimb/plots"
)

var (
	regenerate = flag.Bool("regen", false, "write the golden figures anew")
	look       = flag.String("look", "", "directory to write all figures to as PNG, for looking at")
)

var caption = plots.Caption{
	Title: "Hot climb", Cases: []string{"hot day, full load"}, Scenario: "Made-up tug with two coolers",
	Hash: "5f2b9c0d7e1a4463bb0f2c59d8e7a6f1", Version: "0.1.0",
}

func TestHistoryGolden(t *testing.T) {
	for name, f := range situations() {
		t.Run(name, func(t *testing.T) {
			fig, err := plots.History(f.result(), plots.US, caption)
			if err != nil {
				t.Fatal(err)
			}
			var svg bytes.Buffer
			if err := fig.WriteSVG(&svg); err != nil {
				t.Fatal(err)
			}
			golden(t, filepath.Join("..", "testdata", "golden", "plots_"+name+".svg"), svg.Bytes())
			if *look != "" {
				save(t, fig, filepath.Join(*look, name+".png"))
			}
		})
	}
}

func golden(t *testing.T, path string, got []byte) {
	t.Helper()
	if *regenerate {
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		at := 0
		for at < min(len(got), len(want)) && got[at] == want[at] {
			at++
		}
		part := func(b []byte) []byte { return b[max(0, at-60):min(len(b), at+60)] }
		t.Errorf("%s differs at byte %d:\n got …%s…\nwant …%s…", path, at, part(got), part(want))
	}
}

func save(t *testing.T, fig *plots.Figure, path string) {
	t.Helper()
	var png bytes.Buffer
	if err := fig.WritePNG(&png); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, png.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}
