package sweep

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
)

// EachRow reads the finished rows in a folder, in order, and hands their cells
// over; the cells are overwritten after each returns.
func EachRow(dir string, m *Manifest, each func(row int, cells []string) error) error {
	t, err := openTable(dir, m)
	if err != nil {
		return err
	}
	defer t.file.Close()
	for range m.Len() {
		row, cells, err := t.next()
		if err != nil {
			return err
		}
		if err := each(row, cells); err != nil {
			return err
		}
	}
	return t.end()
}

// tableReader reads the finished rows of a folder and makes sure that each is
// there, in order.
type tableReader struct {
	file  *os.File
	csv   *csv.Reader
	shard Shard
	read  int // rows
}

// openTable opens the finished rows of a folder and reads their header.
func openTable(dir string, m *Manifest) (*tableReader, error) {
	path := filepath.Join(dir, RowsFile)
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("cannot read %s: %w", path, Reason(err))
	}
	t := &tableReader{file: f, csv: newReader(f, m), shard: m.shard()}
	header, err := t.csv.Read()
	if err == nil && !slices.Equal(header, Names(m.Columns())) {
		err = errors.New("its columns are not those of " + ManifestFile)
	}
	if err != nil {
		return nil, errors.Join(t.damaged(err), f.Close())
	}
	return t, nil
}

// next reads a row.
func (t *tableReader) next() (int, []string, error) {
	cells, err := t.csv.Read()
	if err == io.EOF {
		err = fmt.Errorf("it ends after %d rows", t.read)
	}
	if err != nil {
		return 0, nil, t.damaged(err)
	}
	row := t.shard.Row(t.read)
	if cells[0] != strconv.Itoa(row) {
		return 0, nil, t.damaged(fmt.Errorf("row %s stands where row %d belongs", cells[0], row))
	}
	t.read++
	return row, cells, nil
}

// end makes sure that nothing follows.
func (t *tableReader) end() error {
	if _, err := t.csv.Read(); err != io.EOF {
		return t.damaged(fmt.Errorf("something stands behind its %d rows", t.read))
	}
	return nil
}

func (t *tableReader) damaged(err error) error {
	return Unfit{fmt.Sprintf("%s is damaged: %v: remove it and sweep again", t.file.Name(), err)}
}

func newReader(r io.Reader, m *Manifest) *csv.Reader {
	c := csv.NewReader(bufio.NewReaderSize(r, 1<<16))
	c.FieldsPerRecord = len(m.Columns())
	c.ReuseRecord = true
	return c
}

// readRows reads rows without a header, in any order, from what has a name.
func readRows(r io.Reader, name string, m *Manifest, each func(row int, cells []string) error) error {
	c := newReader(r, m)
	c.ReuseRecord = false
	for line := 1; ; line++ {
		cells, err := c.Read()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return Unfit{fmt.Sprintf("%s is damaged (%v): remove it and sweep again", name, err)}
		}
		row, err := strconv.Atoi(cells[0])
		if err != nil || cells[0] != strconv.Itoa(row) || row >= m.Rows || !m.shard().Has(row) {
			return Unfit{fmt.Sprintf("%s is damaged (line %d: %q is none of its rows): remove it and sweep again", name, line, cells[0])}
		}
		if err := each(row, cells); err != nil {
			return err
		}
	}
}
