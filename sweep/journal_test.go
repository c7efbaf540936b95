package sweep

import (
	"encoding/csv"
	"errors"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
)

// manifestOf is a manifest of formula, of one shard or of the whole.
func manifestOf(s *Study, shard *Shard) Manifest {
	m := s.Manifest()
	m.Tool, m.Scenario, m.Design, m.Shard = Tool{"test", "1"}, Source{"formula", "abc"}, GridDesign, shard
	return m
}

// errStop ends a run as a kill does: what was written stays.
var errStop = errors.New("stopped")

// flyInto flies a study into a folder until some rows have been added; -1 for
// all. It returns how many were added.
func flyInto(t *testing.T, dir string, s *Study, m Manifest, resume bool, most int) int {
	t.Helper()
	j, err := OpenJournal(dir, s, m, resume)
	if err != nil {
		t.Fatal(err)
	}
	added := 0
	err = s.Run(t.Context(), Plan{Shard: m.shard(), Done: j.Has}, func(r *Row) error {
		if added == most {
			return errStop
		}
		added++
		return j.Add(r)
	})
	if errors.Is(err, errStop) {
		if err := j.Close(); err != nil {
			t.Fatal(err)
		}
		return added
	}
	if err == nil {
		err = j.Finish()
	}
	if err := errors.Join(err, j.Close()); err != nil {
		t.Fatal(err)
	}
	return added
}

func read(t *testing.T, path ...string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(path...))
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// undisturbed is the table of formula, flown by one worker in one go.
func undisturbed(t *testing.T) string {
	dir := t.TempDir()
	s := formula(1)
	flyInto(t, dir, s, manifestOf(s, nil), false, -1)
	return read(t, dir, RowsFile)
}

func TestJournalIsTheTable(t *testing.T) {
	text := undisturbed(t)
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for _, row := range rows[1:] {
		b.WriteString(strings.Join(row, "|") + "\n")
	}
	if b.String() != tableOf(t, formula(1), Plan{}) {
		t.Error("the file holds other rows than the run gives")
	}
	if got, want := strings.Join(rows[0], " "), strings.Join(Names(formula(1).Columns()), " "); got != want {
		t.Errorf("header %s, want %s", got, want)
	}
}

// A sweep that is stopped again and again, its last line torn, by any number of
// workers, has the bytes of an undisturbed one in the end, and flies no row
// twice but those torn.
func TestResumedSweepHasTheSameBytes(t *testing.T) {
	want := undisturbed(t)
	dir := t.TempDir()
	s := formula(1)
	m := manifestOf(s, nil)
	added, torn := 0, 0
	for i, most := range []int{0, 1, 700, 3, 900} {
		s = formula(1 + 3*i)
		added += flyInto(t, dir, s, m, true, most)
		if most > 0 {
			tear(t, filepath.Join(dir, partFile))
			torn++
		}
	}
	if n := read(t, dir, partFile); strings.HasSuffix(n, "\n") {
		t.Fatal("the last line is whole")
	}
	added += flyInto(t, dir, s, m, true, -1)
	if got := read(t, dir, RowsFile); got != want {
		t.Error("the resumed sweep has other bytes")
	}
	if added != s.Len()+torn {
		t.Errorf("%d rows flown, want %d and %d torn", added, s.Len(), torn)
	}
	if left := namesIn(t, dir); left != "sweep.csv sweep.json" {
		t.Errorf("left in the folder: %s", left)
	}
}

// tear cuts the last line of a file in two.
func tear(t *testing.T, path string) {
	t.Helper()
	text := read(t, path)
	if err := os.Truncate(path, int64(len(text)-4)); err != nil {
		t.Fatal(err)
	}
}

func TestFinishedSweepIsLeftAlone(t *testing.T) {
	dir := t.TempDir()
	s := formula(2)
	m := manifestOf(s, nil)
	flyInto(t, dir, s, m, false, -1)
	for _, resume := range []bool{false, true} {
		j, err := OpenJournal(dir, s, m, resume)
		if err != nil || !j.Finished() || j.Close() != nil {
			t.Errorf("resume %t: %v", resume, err)
		}
	}
}

// A process that ended after the table was there, and before the journal was
// closed, leaves a part file. It does not matter.
func TestPartLeftBesideTheTable(t *testing.T) {
	dir := t.TempDir()
	s := formula(2)
	m := manifestOf(s, nil)
	flyInto(t, dir, s, m, false, -1)
	write(t, filepath.Join(dir, partFile), "0,torn")
	j, err := OpenJournal(dir, s, m, true)
	if err != nil || !j.Finished() || j.Close() != nil || exists(filepath.Join(dir, partFile)) {
		t.Errorf("the part file is still there (%v)", err)
	}
}

// One that ended before the manifest was there leaves an empty one.
func TestPartLeftAlone(t *testing.T) {
	dir := t.TempDir()
	s := formula(2)
	write(t, filepath.Join(dir, partFile), "")
	if n := flyInto(t, dir, s, manifestOf(s, nil), false, -1); n != s.Len() {
		t.Errorf("%d rows, want %d", n, s.Len())
	}
}

// Of two sweeps that begin in one folder at once one gets it, and the manifest
// is that of its rows.
func TestTwoSweepsBeginAtOnce(t *testing.T) {
	s := formula(1)
	for range 20 {
		dir := t.TempDir()
		var opened [2]*Journal
		var errs [2]error
		var both sync.WaitGroup
		for i := range opened {
			both.Go(func() {
				m := manifestOf(s, nil)
				m.Seed = uint64(1 + i)
				opened[i], errs[i] = OpenJournal(dir, s, m, false)
			})
		}
		both.Wait()
		m, err := ReadManifest(dir)
		if err != nil {
			t.Fatal(err)
		}
		for i, j := range opened {
			switch {
			case j == nil && !errors.As(errs[i], new(Unfit)):
				t.Errorf("refused with %v", errs[i])
			case j != nil && m.Seed != uint64(1+i):
				t.Errorf("the manifest is that of the sweep that was refused (%v)", errs[1-i])
			}
			if j != nil && j.Close() != nil {
				t.Error("cannot be closed")
			}
		}
		if (errs[0] == nil) == (errs[1] == nil) {
			t.Errorf("%v and %v", errs[0], errs[1])
		}
	}
}

// Rows are not counted as safe when their file is gone.
func TestFolderTakenAway(t *testing.T) {
	s := formula(1)
	rows := func(dir string) *Journal {
		j, err := OpenJournal(dir, s, manifestOf(s, nil), false)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { _ = j.Close() })
		return j
	}
	row := Row{Trial: s.trial(0, make([]Level, len(s.Factors)))}
	tests := map[string]func(dir string) error{
		"removed": os.RemoveAll,
		"moved":   func(dir string) error { return os.Rename(dir, dir+"_moved") },
		"replaced": func(dir string) error {
			path := filepath.Join(dir, partFile)
			return errors.Join(os.Remove(path), os.WriteFile(path, nil, 0o644))
		},
	}
	for name, take := range tests {
		dir := filepath.Join(t.TempDir(), "swept")
		if err := os.Mkdir(dir, 0o755); err != nil {
			t.Fatal(err)
		}
		j := rows(dir)
		if err := j.Add(&row); err != nil || !j.InPlace() {
			t.Fatalf("%s: %v", name, err)
		}
		if err := take(dir); err != nil {
			t.Fatal(err)
		}
		for _, err := range []error{j.Add(&row), j.Finish()} {
			if err == nil || !strings.HasSuffix(err.Error(), "sweep.csv.part: it was moved, removed or replaced") {
				t.Errorf("%s: %v", name, err)
			}
		}
		if j.InPlace() || j.Count() != 1 {
			t.Errorf("%s: in place %t, %d rows", name, j.InPlace(), j.Count())
		}
	}
}

func write(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func TestJournalRefuses(t *testing.T) {
	s := formula(1)
	m := manifestOf(s, nil)
	other := m
	other.Scenario.SHA256 = "def"
	seeded := m
	seeded.Seed = 2
	unfinished := func(t *testing.T, dir string) { flyInto(t, dir, s, m, false, 5) }
	tests := map[string]struct {
		make     func(t *testing.T, dir string)
		manifest Manifest
		resume   bool
		says     string
	}{
		"no resume":        {unfinished, m, false, "holds an unfinished sweep: add --resume to go on with it, or name another folder"},
		"another scenario": {unfinished, other, true, "holds a sweep that differs in the scenario: name another folder, or empty this one"},
		"another seed":     {unfinished, seeded, true, "differs in the seed"},
		"another shard":    {unfinished, manifestOf(s, &Shard{1, 2}), true, "differs in the shard"},
		"finished, another": {
			func(t *testing.T, dir string) { flyInto(t, dir, s, m, false, -1) }, other, false, "differs in the scenario",
		},
		"no manifest": {
			func(t *testing.T, dir string) { write(t, filepath.Join(dir, RowsFile), "") }, m, true, "holds sweep.csv but no sweep.json",
		},
		"no JSON": {
			func(t *testing.T, dir string) { write(t, filepath.Join(dir, ManifestFile), "{") }, m, true, "does not tell what was swept",
		},
		"a strange shard": {
			func(t *testing.T, dir string) {
				write(t, filepath.Join(dir, ManifestFile), `{"shard": {"index": 7, "of": 3}}`)
			}, m, true, "does not tell what was swept",
		},
		"a shard of none": {
			func(t *testing.T, dir string) {
				write(t, filepath.Join(dir, ManifestFile), `{"shard": {"index": 0, "of": 0}}`)
			}, m, true, "does not tell what was swept",
		},
		"rows without manifest": {
			func(t *testing.T, dir string) { write(t, filepath.Join(dir, partFile), "0") }, m, true, "holds sweep.csv.part but no sweep.json",
		},
		"a line too short": {damage("3,0,1\n"), m, true, "sweep.csv.part is damaged (record on line 6: wrong number of fields)"},
		"no row":           {damage(strings.Repeat(",", len(s.Columns())-1) + "\n"), m, true, `line 6: "" is none of its rows`},
		"a row too far":    {damage("2400" + strings.Repeat(",", len(s.Columns())-1) + "\n"), m, true, `line 6: "2400" is none of its rows`},
		"at work": {
			func(t *testing.T, dir string) {
				j, err := OpenJournal(dir, s, m, false)
				if err != nil {
					t.Fatal(err)
				}
				t.Cleanup(func() { _ = j.Close() })
			}, m, true, "another process is at work in",
		},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			test.make(t, dir)
			_, err := OpenJournal(dir, s, test.manifest, test.resume)
			if !errors.As(err, new(Unfit)) || !strings.Contains(err.Error(), test.says) {
				t.Errorf("%v, want %s", err, test.says)
			}
		})
	}
}

// damage makes an unfinished sweep of five rows with a line behind them.
func damage(line string) func(*testing.T, string) {
	return func(t *testing.T, dir string) {
		s := formula(1)
		flyInto(t, dir, s, manifestOf(s, nil), false, 5)
		path := filepath.Join(dir, partFile)
		write(t, path, read(t, path)+line)
	}
}

// Files that an ended process left half written are removed, whether the sweep
// was finished or not. Others stay.
func TestHalfWrittenFilesGo(t *testing.T) {
	dir := t.TempDir()
	s := formula(2)
	m := manifestOf(s, nil)
	leave := func() {
		for _, name := range []string{".sweep.csv.123" + halfWritten, ".contour.png.9" + halfWritten, ".own"} {
			write(t, filepath.Join(dir, name), "")
		}
	}
	leave()
	flyInto(t, dir, s, m, false, -1)
	leave()
	j, err := OpenJournal(dir, s, m, true)
	if err != nil || j.Close() != nil {
		t.Fatal(err)
	}
	if left := namesIn(t, dir); left != ".own sweep.csv sweep.json" {
		t.Errorf("left in the folder: %s", left)
	}
}

// namesIn are the names of the files in a folder.
func namesIn(t *testing.T, dir string) string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	names := make([]string, len(entries))
	for i, e := range entries {
		names[i] = e.Name()
	}
	return strings.Join(names, " ")
}

// A torn line longer than a block is cut off whole.
func TestCutTornLine(t *testing.T) {
	long := strings.Repeat("x", 200000)
	for text, want := range map[string]string{
		"": "", "torn": "", "whole\n": "whole\n", "whole\ntorn": "whole\n", "\n": "\n",
		long: "", "a\n" + long: "a\n", long + "\n" + long: long + "\n",
	} {
		path := filepath.Join(t.TempDir(), "file")
		write(t, path, text)
		f, err := os.OpenFile(path, os.O_RDWR, 0)
		if err != nil {
			t.Fatal(err)
		}
		if err := errors.Join(cutTornLine(f), f.Close()); err != nil {
			t.Fatal(err)
		}
		if got := read(t, path); got != want {
			t.Errorf("%.20q of %d bytes becomes %.20q of %d", text, len(text), got, len(got))
		}
	}
}

// FuzzJournal reads a part file of any content. It is refused, or its rows and
// those that it lacks make a table with each row once, in order, that is read
// again.
func FuzzJournal(f *testing.F) {
	line := func(row int, cells string) string { return strconv.Itoa(row) + "," + cells + "\n" }
	cells := `0.5,climb,within limits,1,2,3,4,5,,,6,7,8,9,,,0,`
	f.Add("")
	f.Add(line(0, cells) + line(3, cells) + line(3, cells))
	f.Add(line(5, cells) + line(0, strings.Replace(cells, "climb", `"cl""imb"`, 1)) + "1,0.5")
	f.Add(line(9, cells))
	f.Add(line(-1, cells))
	f.Add("\n\n" + line(1, cells))
	f.Add(line(2, strings.Replace(cells, "climb", "\"cl\nimb\"", 1)))
	f.Add("\"0\",\x00\n")
	m := Manifest{Rows: 6, Factors: []FactorNote{{Path: "a", Column: "a"}}}
	f.Fuzz(func(t *testing.T, part string) {
		there := newBitmap(m.Rows)
		var table strings.Builder
		out := csv.NewWriter(&table)
		order := InOrder{Pass: out.Write}
		err := readRows(strings.NewReader(part), partFile, &m, func(row int, cells []string) error {
			there.set(row)
			return order.Add(row, cells)
		})
		if errors.As(err, new(Unfit)) {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		for row := range m.Rows {
			if !there.has(row) {
				empty := make([]string, len(m.Columns()))
				empty[0] = strconv.Itoa(row)
				if err := order.Add(row, empty); err != nil {
					t.Fatal(err)
				}
			}
		}
		out.Flush()
		next := 0
		err = readRows(strings.NewReader(table.String()), RowsFile, &m, func(row int, _ []string) error {
			if row != next {
				t.Errorf("row %d stands where row %d belongs", row, next)
			}
			next++
			return nil
		})
		if err != nil || next != m.Rows {
			t.Errorf("%d rows, %v", next, err)
		}
	})
}
