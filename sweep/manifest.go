package sweep

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"

	"hotclimb/sim"
)

// Files in the folder of a sweep.
const (
	ManifestFile = "sweep.json"     // what is swept
	RowsFile     = "sweep.csv"      // all rows, in order; there when the sweep is finished
	ParquetFile  = "sweep.parquet"  // the same
	partFile     = "sweep.csv.part" // finished rows of an unfinished sweep
)

// Manifest says what a sweep flies. Two sweeps with the same manifest have the
// same rows.
type Manifest struct {
	Tool      Tool         `json:"tool"`
	Build     string       `json:"build,omitempty"` // of the program: what may change last digits
	Scenario  Source       `json:"scenario"`
	Tolerance float64      `json:"relative_tolerance"` // of each step of a flight
	Factors   []FactorNote `json:"factors"`
	Design    string       `json:"design"`
	Points    int          `json:"points,omitempty"` // drawn; none on a grid
	Seed      uint64       `json:"seed,omitempty"`   // of drawn points
	Draws     *DrawNote    `json:"doubt,omitempty"`  // of doubtful numbers; nil: none
	Cases     []string     `json:"cases"`
	Rows      int          `json:"flights"` // rows of all shards together
	Shard     *Shard       `json:"shard,omitempty"`
}

// Tool is the program that made a result.
type Tool struct {
	Name    string `json:"name"`
	Version string `json:"version"`
}

// Source is the scenario of a result, as it was run.
type Source struct {
	Title  string `json:"title"`
	SHA256 string `json:"sha256"`
}

// FactorNote is a factor on paper: values in SI, temperatures in °C.
type FactorNote struct {
	Path   string    `json:"path"`
	Column string    `json:"column"`
	Values []float64 `json:"values,omitempty"`
	Lo     *float64  `json:"low,omitempty"` // nil for words
	Hi     *float64  `json:"high,omitempty"`
	Words  []string  `json:"words,omitempty"`
}

// Manifest is that of the whole study, without what the study does not know:
// tool, scenario and how the designs were made.
func (s *Study) Manifest() Manifest {
	m := Manifest{Tolerance: s.Sim.RelTol, Draws: s.Draws, Rows: s.Len()}
	if m.Tolerance == 0 {
		m.Tolerance = sim.DefaultRelTol
	}
	for _, f := range s.Factors {
		note := FactorNote{Path: f.Param.Path, Column: f.Param.Column(), Values: f.Values, Words: f.Words}
		if f.Param.IsNumber() {
			note.Lo, note.Hi = &f.Lo, &f.Hi
		}
		m.Factors = append(m.Factors, note)
	}
	for _, k := range s.Cases {
		m.Cases = append(m.Cases, k.Name)
	}
	return m
}

// Columns are the columns of the table, by name and kind.
func (m *Manifest) Columns() []Column {
	list := []Column{{Name: "row", Kind: Whole}}
	for _, f := range m.Factors {
		kind := Number
		if f.Words != nil {
			kind = Text
		}
		list = append(list, Column{Name: f.Column, Kind: kind})
	}
	return append(append(list, Column{Name: "case", Kind: Text}), columnsOfOutcome(m.Draws)...)
}

// draws are those of doubtful numbers; zero for none.
func (m *Manifest) draws() DrawNote {
	if m.Draws == nil {
		return DrawNote{}
	}
	return *m.Draws
}

// shard is the part of the sweep that the folder holds.
func (m *Manifest) shard() Shard {
	if m.Shard == nil {
		return Shard{}
	}
	return *m.Shard
}

// Len is how many rows the folder holds when the sweep is finished.
func (m *Manifest) Len() int { return m.shard().Len(m.Rows) }

// difference says in what another sweep differs, "" when it does not.
func (m *Manifest) difference(other *Manifest) string {
	parts := []struct {
		what string
		a, b any
	}{
		{"the version of the program", m.Tool, other.Tool},
		{"the build of the program", m.Build, other.Build},
		{"the paths and what they take", m.Factors, other.Factors},
		{"the cases", m.Cases, other.Cases},
		{"the design", m.Design, other.Design},
		{"the number of points", m.Points, other.Points},
		{"the seed", m.Seed, other.Seed},
		{"the draws of doubtful numbers", m.draws(), other.draws()},
		{"the scenario", m.Scenario, other.Scenario},
		{"the tolerance of the flights", m.Tolerance, other.Tolerance},
		{"the number of rows", m.Rows, other.Rows},
		{"the shard", m.shard(), other.shard()},
	}
	for _, p := range parts {
		if !reflect.DeepEqual(p.a, p.b) {
			return p.what
		}
	}
	return ""
}

// ReadManifest reads the manifest in a folder. The error is fs.ErrNotExist when
// there is none.
func ReadManifest(dir string) (*Manifest, error) {
	path := filepath.Join(dir, ManifestFile)
	text, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("%s: %w", path, fs.ErrNotExist)
	}
	if err != nil {
		return nil, fmt.Errorf("cannot read %s: %w", path, Reason(err))
	}
	var m Manifest
	if err := json.Unmarshal(text, &m); err != nil {
		return nil, Unfit{fmt.Sprintf("%s does not tell what was swept (%v): name another folder", path, err)}
	}
	if s := m.Shard; m.Rows < 0 || s != nil && (s.Index < 0 || s.Index >= s.Of || s.Of > MostShards) {
		return nil, Unfit{fmt.Sprintf("%s does not tell what was swept: name another folder", path)}
	}
	return &m, nil
}

// write writes the manifest into a folder.
func (m *Manifest) write(dir string) error {
	text, err := json.MarshalIndent(m, "", "  ")
	if err != nil {
		return err
	}
	return WriteWhole(filepath.Join(dir, ManifestFile), func(w io.Writer) error {
		_, err := w.Write(append(text, '\n'))
		return err
	})
}

// MostShards is a number of shards beyond which something is wrong.
const MostShards = 100000

// Unfit says why a folder does not fit what is asked of it, and what to do.
type Unfit struct{ reason string }

func (u Unfit) Error() string { return u.reason }
