package sweep

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// shardsOf flies formula in three shards and returns their folders.
func shardsOf(t *testing.T) []string {
	t.Helper()
	dirs := make([]string, 3)
	for i := range dirs {
		dirs[i] = t.TempDir()
		s := formula(2)
		if n := flyInto(t, dirs[i], s, manifestOf(s, &Shard{i, 3}), false, -1); n != 800 {
			t.Errorf("shard %d has %d rows, want 800", i, n)
		}
	}
	return dirs
}

func TestMergedShardsAreTheWhole(t *testing.T) {
	whole, joined := t.TempDir(), t.TempDir()
	s := formula(1)
	flyInto(t, whole, s, manifestOf(s, nil), false, -1)
	dirs := shardsOf(t)
	m, err := Merge([]string{dirs[2], dirs[0], dirs[1]}, joined)
	if err != nil || m.Rows != 2400 || m.Shard != nil {
		t.Fatalf("%+v, %v", m, err)
	}
	for _, file := range []string{RowsFile, ManifestFile} {
		if read(t, joined, file) != read(t, whole, file) {
			t.Errorf("%s has other bytes", file)
		}
	}
	write(t, filepath.Join(joined, ".sweep.csv.1"+halfWritten), "row")
	if _, err := Merge(dirs, joined); err != nil || namesIn(t, joined) != "sweep.csv sweep.json" {
		t.Errorf("merged again: %v; left in the folder: %s", err, namesIn(t, joined))
	}
}

func TestMergeRefuses(t *testing.T) {
	dirs := shardsOf(t)
	s := formula(1)
	fly := func(change func(*Manifest), shard *Shard, most int) string {
		dir := t.TempDir()
		m := manifestOf(s, shard)
		change(&m)
		flyInto(t, dir, s, m, false, most)
		return dir
	}
	same := func(*Manifest) {}
	whole := fly(same, nil, -1)
	unfinished := fly(same, &Shard{2, 3}, 7)
	foreign := fly(func(m *Manifest) { m.Scenario.SHA256 = "def" }, &Shard{2, 3}, -1)
	rebuilt := fly(func(m *Manifest) { m.Build = "another" }, &Shard{2, 3}, -1)
	ofTwo := fly(same, &Shard{0, 2}, -1)
	damaged := fly(same, &Shard{2, 3}, -1)
	path := filepath.Join(damaged, RowsFile)
	lines := strings.SplitAfter(read(t, path), "\n")
	lines[7], lines[8] = lines[8], lines[7]
	short := fly(same, &Shard{2, 3}, -1)
	write(t, path, strings.Join(lines, ""))
	write(t, filepath.Join(short, RowsFile), strings.Join(lines[:5], ""))
	long := fly(same, &Shard{2, 3}, -1)
	write(t, filepath.Join(long, RowsFile), read(t, long, RowsFile)+lines[3])
	other := fly(func(m *Manifest) { m.Seed = 7 }, nil, -1)
	half := fly(same, nil, 7)
	ofNone := fly(same, &Shard{2, 3}, -1)
	write(t, filepath.Join(ofNone, ManifestFile), `{"shard": {"index": 0, "of": 0}}`)
	tests := []struct {
		name string
		dirs []string
		out  string
		says string
	}{
		{"missing", dirs[:2], "", "shard 2/3 is missing: name its folder, or fly it with --shard 2/3"},
		{"doubled", []string{dirs[0], dirs[1], dirs[0], dirs[2]}, "", "both hold shard 0/3: name each once"},
		{"foreign", []string{dirs[0], dirs[1], foreign}, "", "hold sweeps that differ in the scenario"},
		{"of another build", []string{dirs[0], dirs[1], rebuilt}, "", "hold sweeps that differ in the build of the program"},
		{"of two", []string{dirs[0], dirs[1], ofTwo}, "", "holds a shard of 3, "},
		{"unfinished", []string{dirs[0], dirs[1], unfinished}, "", "is not finished: go on with it with --resume"},
		{"whole", []string{whole}, "", "holds a whole sweep, not a shard"},
		{"of none", []string{ofNone}, "", "does not tell what was swept"},
		{"nothing", []string{t.TempDir()}, "", "holds no sweep: name folders that sweep --shard has written"},
		{"rows exchanged", []string{dirs[0], dirs[1], damaged}, "", "is damaged: row 23 stands where row 20 belongs"},
		{"rows missing", []string{dirs[0], dirs[1], short}, "", "is damaged: it ends after 4 rows"},
		{"rows too many", []string{dirs[0], dirs[1], long}, "", "is damaged: something stands behind its 800 rows"},
		{"into another", dirs, other, "holds a sweep that differs in the seed"},
		{"into an unfinished", dirs, half, "holds an unfinished sweep"},
	}
	for _, test := range tests {
		if test.out == "" {
			test.out = t.TempDir()
		}
		_, err := Merge(test.dirs, test.out)
		if !errors.As(err, new(Unfit)) || !strings.Contains(err.Error(), test.says) {
			t.Errorf("%s: %v, want %s", test.name, err, test.says)
		}
		if strings.HasPrefix(test.name, "rows") {
			if _, err := os.Stat(filepath.Join(test.out, RowsFile)); err == nil {
				t.Errorf("%s: a table was written", test.name)
			}
		}
	}
}
