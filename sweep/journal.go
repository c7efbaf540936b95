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
)

// Journal is the folder of a sweep. The manifest is written first. Each row is
// appended to a part file, in one write, as soon as it is finished, so that a
// process that ends in any way loses none of them; the system itself may lose
// the last ones when the power fails, and they are flown again. When all rows
// are there they are written in order, whole, and the part file is removed.
//
// A lock on the part file keeps a second process out (see lock); it vanishes
// with its process.
type Journal struct {
	dir      string
	manifest Manifest
	columns  []Column
	part     *os.File // nil when finished
	there    bitmap   // positions of the rows that were there when it was opened
	count    int      // of rows that are there
	line     bytes.Buffer
	csv      *csv.Writer
}

// OpenJournal opens the folder of a sweep, an existing one or a new one.
// Unfinished work in it is continued with resume, and else refused. So is a
// folder that holds another sweep. Refusals are of type Unfit.
func OpenJournal(dir string, s *Study, m Manifest, resume bool) (*Journal, error) {
	j := &Journal{dir: dir, manifest: m, columns: s.Columns()}
	j.csv = csv.NewWriter(&j.line)
	fresh, err := j.judge(resume)
	if err != nil {
		return nil, err
	}
	if j.Finished() {
		return j, j.dropPart()
	}
	if fresh {
		if err := m.write(dir); err != nil {
			return nil, err
		}
	}
	if err := j.open(); err != nil {
		return nil, err
	}
	return j, nil
}

// judge says whether the folder is free; it is an error when it is taken.
func (j *Journal) judge(resume bool) (fresh bool, err error) {
	old, err := ReadManifest(j.dir)
	if errors.Is(err, fs.ErrNotExist) {
		for _, name := range []string{RowsFile, partFile} {
			if exists(filepath.Join(j.dir, name)) {
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
	if !resume && !exists(filepath.Join(j.dir, RowsFile)) {
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
func (j *Journal) open() (err error) {
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
	own, err := j.part.Stat()
	if err != nil {
		return fmt.Errorf("cannot read %s: %w", path, Reason(err))
	}
	if named, err := os.Stat(path); err != nil || !os.SameFile(own, named) || j.Finished() {
		return Unfit{fmt.Sprintf("another process has just finished the sweep in %s", j.dir)}
	}
	if err := j.sweepUp(); err != nil {
		return err
	}
	if err := cutTornLine(j.part, own.Size()); err != nil {
		return fmt.Errorf("cannot mend %s: %w", path, Reason(err))
	}
	return j.find()
}

// sweepUp removes what an ended process left half written.
func (j *Journal) sweepUp() error {
	for _, name := range []string{RowsFile, ParquetFile} {
		left, err := filepath.Glob(filepath.Join(j.dir, "."+name+".*"))
		if err != nil {
			continue // the folder has a name that is a bad pattern
		}
		for _, path := range left {
			if err := os.Remove(path); err != nil {
				return fmt.Errorf("cannot remove %s: %w", path, Reason(err))
			}
		}
	}
	return nil
}

// cutTornLine cuts off what stands behind the last line break.
func cutTornLine(f *os.File, size int64) error {
	block := make([]byte, 1<<16)
	for end := size; end > 0; {
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
	_ = j.csv.Write(Cells(j.columns, r)) // a buffer takes everything
	j.csv.Flush()
	if _, err := j.part.Write(j.line.Bytes()); err != nil {
		return fmt.Errorf("cannot write %s: %w", j.part.Name(), Reason(err))
	}
	j.count++
	return nil
}

// Finish writes all rows in order and closes the journal.
func (j *Journal) Finish() error {
	if j.part == nil {
		return nil
	}
	path := filepath.Join(j.dir, RowsFile)
	if err := WriteWhole(path, j.write); err != nil {
		return errors.Join(err, j.Close())
	}
	return errors.Join(j.Close(), j.dropPart())
}

// dropPart removes the part file of a finished sweep, if it is still there.
func (j *Journal) dropPart() error {
	path := filepath.Join(j.dir, partFile)
	if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("cannot remove %s: %w", path, Reason(err))
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
	if missing := j.manifest.Len() - order.Passed(); missing > 0 {
		return fmt.Errorf("%d rows are missing", missing)
	}
	out.Flush()
	return out.Error()
}

// Close closes the journal; what is in it stays.
func (j *Journal) Close() error {
	if j.part == nil {
		return nil
	}
	err := j.part.Close()
	if j.part = nil; err != nil {
		return fmt.Errorf("cannot close %s: %w", filepath.Join(j.dir, partFile), Reason(err))
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
