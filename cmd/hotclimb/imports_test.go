package main

import (
	"encoding/json"
	"errors"
	"io"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// rank orders the packages: one may import only those of a lower rank. The
// packages under sim rank below sim, those under sweep and plots above them.
func rank(path string) int {
	path = strings.TrimPrefix(path, "hotclimb/")
	ranks := []struct {
		prefix string
		rank   int
	}{
		{"sim/fluid", 0}, {"sim/", 1}, {"sim", 2}, {"scenarios", 3},
		{"sweep/", 5}, {"sweep", 4}, {"plots/", 7}, {"plots", 6}, {"cmd/", 8},
	}
	for _, r := range ranks {
		if path == r.prefix || strings.HasSuffix(r.prefix, "/") && strings.HasPrefix(path, r.prefix) {
			return r.rank
		}
	}
	return -1
}

// homes says which packages may import a library.
var homes = map[string][]string{
	"github.com/spf13/viper": {"scenarios"},
	"github.com/spf13/cobra": {"cmd"},
	"gonum.org/v1/plot":      {"plots"},
	"gonum.org/v1/gonum":     {"sweep", "plots"},

	"github.com/parquet-go/parquet-go": {"sweep"},
	"codeberg.org/go-pdf/fpdf":         {"plots"},
}

// fluidUsers are the packages under sim that may import sim/fluid.
var fluidUsers = []string{"hotclimb/sim/exchanger", "hotclimb/sim/airpath", "hotclimb/sim/loop"}

type listed struct {
	ImportPath string
	Imports    []string
	Standard   bool
}

// TestImports holds the import direction of the house:
//
//	cmd → plots/* → plots → sweep/* → sweep → scenarios → sim → sim/*
func TestImports(t *testing.T) {
	for _, p := range packages(t) {
		own := rank(p.ImportPath)
		if own < 0 {
			t.Errorf("%s has no place in the house", p.ImportPath)
		}
		for _, imported := range p.Imports {
			switch {
			case strings.HasPrefix(imported, "hotclimb/"):
				if rank(imported) >= own {
					t.Errorf("%s must not import %s", p.ImportPath, imported)
				}
				if imported == "hotclimb/sim/fluid" && own == 1 && !slices.Contains(fluidUsers, p.ImportPath) {
					t.Errorf("%s must not import %s", p.ImportPath, imported)
				}
			case strings.Contains(imported, "."):
				checkLibrary(t, p.ImportPath, imported)
			}
		}
	}
}

// checkLibrary reports a library in a package that may not use it.
func checkLibrary(t *testing.T, path, library string) {
	t.Helper()
	if r := rank(path); r <= 2 {
		t.Errorf("%s is physics and must not import %s", path, library)
	}
	for prefix, allowed := range homes {
		if !strings.HasPrefix(library, prefix) {
			continue
		}
		home, _, _ := strings.Cut(strings.TrimPrefix(path, "hotclimb/"), "/")
		if !slices.Contains(allowed, home) {
			t.Errorf("%s must not import %s; only %v may", path, library, allowed)
		}
	}
}

// TestPhysicsIsPure holds that physics touches no files, flags, logs or clock.
func TestPhysicsIsPure(t *testing.T) {
	for _, p := range packages(t) {
		if rank(p.ImportPath) > 2 {
			continue
		}
		for _, forbidden := range []string{"os", "log", "log/slog", "flag", "io/fs", "net", "time", "math/rand"} {
			if slices.Contains(p.Imports, forbidden) {
				t.Errorf("%s must not import %s", p.ImportPath, forbidden)
			}
		}
	}
}

// packages lists the packages of the module with their imports.
func packages(t *testing.T) []listed {
	t.Helper()
	out, err := exec.Command("go", "list", "-json=ImportPath,Imports,Standard", "hotclimb/...").Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	var list []listed
	for d := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p listed
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			return list
		} else if err != nil {
			t.Fatal(err)
		}
		list = append(list, p)
	}
}
