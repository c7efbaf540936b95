package sweep

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// Journal is the folder of a sweep. The manifest is written first. Each row is
// appended to a part file, in one write, as soon as it is finished, so that a
// process that ends in any way loses none of them; the system itself may lose
// the last ones when the power fails, and they are flown again. When all rows
// are there they are written in order, whole.
//
// A lock on the part file keeps a second process out (see lock) until the
// journal is closed; it vanishes with its process. Closing the journal of a
// finished sweep removes the part file.
type Journal struct {
	dir      string
	manifest Manifest
	columns  []Column
	part     *os.File // nil when closed
	there    bitmap   // positions of the rows that were there when it was opened
	count    int      // of rows that are there
	cells    []string // of the row being added, and its line
	line     bytes.Buffer
	csv      *csv.Writer
}

// OpenJournal opens the folder of a sweep, an existing one or a new one.
// Unfinished work in it is continued with resume, and else refused. So is a
// folder that holds another sweep. Refusals are of type Unfit.
func OpenJournal(dir string, s *Study, m Manifest, resume bool) (*Journal, error) {
	j := &Journal{dir: dir, manifest: m, columns: s.Columns()}
	j.csv = csv.NewWriter(&j.line)
	if _, err := j.judge(resume); err != nil {
		return nil, err
	}
	if err := j.open(resume); err != nil {
		return nil, err
	}
	return j, nil
}

// judge says whether the folder is free; it is an error when it is taken.
func (j *Journal) judge(resume bool) (fresh bool, err error) {
	old, err := ReadManifest(j.dir)
	if errors.Is(err, fs.ErrNotExist) {
		for _, name := range []string{RowsFile, partFile} {
			// An empty part file is one that a process ended behind.
			if f, err := os.Lstat(filepath.Join(j.dir, name)); err == nil && (name == RowsFile || f.Size() > 0) {
				return false, Unfit{fmt.Sprintf("%s holds %s but no %s: name another folder", j.dir, name, ManifestFile)}
			}
		}
		return true, nil
	}
	if err != nil {
		return false, err
	}
	if what := j.manifest.difference(old); what != "" {
		return false, Unfit{fmt.Sprintf("%s holds a sweep that differs in %s: name another folder, or empty this one", j.dir, what)}
	}
	if !resume && !j.Finished() {
		return false, Unfit{fmt.Sprintf("%s holds an unfinished sweep: add --resume to go on with it, or name another folder", j.dir)}
	}
	return false, nil
}

// Finished says that all rows are there, in order.
func (j *Journal) Finished() bool { return exists(filepath.Join(j.dir, RowsFile)) }

func exists(path string) bool {
	_, err := os.Lstat(path)
	return err == nil
}

// open opens the part file, makes sure that no other process is at it, and
// finds the rows that are there.
func (j *Journal) open(resume bool) (err error) {
	path := filepath.Join(j.dir, partFile)
	if j.part, err = os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_APPEND, 0o644); err != nil {
		return fmt.Errorf("cannot open %s: %w", path, Reason(err))
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, j.part.Close())
		}
	}()
	if err := lock(j.part); err != nil {
		return Unfit{fmt.Sprintf("another process is at work in %s: wait for it, or name another folder", j.dir)}
	}
	if !j.InPlace() {
		return Unfit{fmt.Sprintf("another process has just finished the sweep in %s", j.dir)}
	}
	return j.begin(resume)
}

// begin does what only the process that holds the lock may do: another one may
// have been here since the folder was judged.
func (j *Journal) begin(resume bool) error {
	fresh, err := j.judge(resume)
	if err != nil {
		return err
	}
	if err := sweepUp(j.dir); err != nil {
		return err
	}
	if fresh {
		if err := j.manifest.write(j.dir); err != nil {
			return err
		}
	}
	if j.Finished() {
		return nil
	}
	if err := cutTornLine(j.part); err != nil {
		return fmt.Errorf("cannot mend %s: %w", j.part.Name(), Reason(err))
	}
	return j.find()
}

// InPlace says that the part file is still where it was opened. When it was
// moved, removed or replaced, what is written to it is not found again.
func (j *Journal) InPlace() bool {
	own, err := j.part.Stat()
	if err != nil {
		return false
	}
	named, err := os.Stat(j.part.Name())
	return err == nil && os.SameFile(own, named)
}

// sweepUp removes what ended processes left half written in a folder.
func sweepUp(dir string) error {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return fmt.Errorf("cannot read %s: %w", dir, Reason(err))
	}
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") || !strings.HasSuffix(e.Name(), halfWritten) {
			continue
		}
		path := filepath.Join(dir, e.Name())
		if err := os.Remove(path); err != nil {
			return fmt.Errorf("cannot remove %s: %w", path, Reason(err))
		}
	}
	return nil
}

// cutTornLine cuts off what stands behind the last line break.
func cutTornLine(f *os.File) error {
	info, err := f.Stat()
	if err != nil {
		return err
	}
	block := make([]byte, 1<<16)
	for end := info.Size(); end > 0; {
		start := max(end-int64(len(block)), 0)
		b := block[:end-start]
		if _, err := f.ReadAt(b, start); err != nil {
			return err
		}
		if i := bytes.LastIndexByte(b, '\n'); i >= 0 {
			return f.Truncate(start + int64(i) + 1)
		}
		end = start
	}
	return f.Truncate(0)
}

// find notes which rows are there.
func (j *Journal) find() error {
	j.there, j.count = newBitmap(j.manifest.Len()), 0
	return j.read(func(row int, _ []string) error {
		if j.there.set(j.manifest.shard().position(row)) {
			j.count++
		}
		return nil
	})
}

// read reads the rows of the part file, in the order in which they were
// finished.
func (j *Journal) read(each func(row int, cells []string) error) error {
	if _, err := j.part.Seek(0, io.SeekStart); err != nil {
		return fmt.Errorf("cannot read %s: %w", j.part.Name(), Reason(err))
	}
	return readRows(j.part, j.part.Name(), &j.manifest, each)
}

// Has says that a row was there when the journal was opened.
func (j *Journal) Has(row int) bool { return j.there.has(j.manifest.shard().position(row)) }

// Count is how many rows are there now.
func (j *Journal) Count() int { return j.count }

// Add appends a row that was not there.
func (j *Journal) Add(r *Row) error {
	j.line.Reset()
	j.cells = appendCells(j.cells[:0], j.columns, r)
	_ = j.csv.Write(j.cells) // a buffer takes everything
	j.csv.Flush()
	if !j.InPlace() {
		return j.lost()
	}
	if _, err := j.part.Write(j.line.Bytes()); err != nil {
		return fmt.Errorf("cannot write %s: %w", j.part.Name(), Reason(err))
	}
	j.count++
	return nil
}

// lost is the error of a part file that is not in place.
func (j *Journal) lost() error {
	return fmt.Errorf("cannot write %s: it was moved, removed or replaced", j.part.Name())
}

// Finish writes all rows in order.
func (j *Journal) Finish() error {
	if !j.InPlace() {
		return j.lost()
	}
	if err := WriteWhole(filepath.Join(j.dir, RowsFile), j.write); err != nil {
		return err
	}
	if err := j.part.Truncate(0); err != nil { // a lock, now
		return fmt.Errorf("cannot empty %s: %w", j.part.Name(), Reason(err))
	}
	return nil
}

// write writes all rows in order.
func (j *Journal) write(w io.Writer) error {
	out := csv.NewWriter(w)
	if err := out.Write(Names(j.columns)); err != nil {
		return err
	}
	order := InOrder{Shard: j.manifest.shard(), Pass: out.Write}
	if err := j.read(order.Add); err != nil {
		return err
	}
	if missing := j.manifest.Len() - order.next; missing > 0 {
		return fmt.Errorf("%d rows are missing", missing)
	}
	out.Flush()
	return out.Error()
}

// Close closes the journal; the rows stay.
func (j *Journal) Close() error {
	if j.part == nil {
		return nil
	}
	path := j.part.Name()
	err := j.part.Close()
	if j.part = nil; err != nil {
		return fmt.Errorf("cannot close %s: %w", path, Reason(err))
	}
	if !j.Finished() {
		return nil
	}
	if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("cannot remove %s: %w", path, Reason(err))
	}
	return nil
}

// bitmap is a set of small numbers.
type bitmap []uint64

func newBitmap(n int) bitmap { return make(bitmap, (n+63)/64) }

func (b bitmap) has(i int) bool { return b[i/64]>>(i%64)&1 == 1 }

// set adds a number; false when it is in already.
func (b bitmap) set(i int) bool {
	if b.has(i) {
		return false
	}
	b[i/64] |= 1 << (i % 64)
	return true
}
