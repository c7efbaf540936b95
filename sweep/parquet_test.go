package sweep

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/parquet-go/parquet-go"
)

// The Parquet file, read back, has the cells of the table, in its order, with
// null for an empty number; written again, it has the same bytes.
func TestParquet(t *testing.T) {
	dir := t.TempDir()
	s := formula(2)
	m := manifestOf(s, nil)
	flyInto(t, dir, s, m, false, -1)
	if err := WriteParquet(dir, &m); err != nil {
		t.Fatal(err)
	}
	first := read(t, dir, ParquetFile)
	f, err := os.Open(filepath.Join(dir, ParquetFile))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	p, err := parquet.OpenFile(f, int64(len(first)))
	if err != nil {
		t.Fatal(err)
	}
	columns := m.Columns()
	for i, path := range p.Schema().Columns() {
		if path[0] != columns[i].Name {
			t.Errorf("column %d is %s, want %s", i, path[0], columns[i].Name)
		}
	}
	rows := parquet.NewReader(p)
	defer rows.Close()
	buffer := make([]parquet.Row, 1)
	err = EachRow(dir, &m, func(row int, cells []string) error {
		if n, err := rows.ReadRows(buffer); n != 1 || err != nil && !errors.Is(err, io.EOF) {
			return err
		}
		for i, v := range buffer[0] {
			if got := cellOf(v, columns[i].Kind); got != cells[i] {
				t.Errorf("row %d: %s is %q, want %q", row, columns[i].Name, got, cells[i])
			}
		}
		return nil
	})
	if err != nil || p.NumRows() != 2400 {
		t.Errorf("%d rows, %v", p.NumRows(), err)
	}
	if err := WriteParquet(dir, &m); err != nil || read(t, dir, ParquetFile) != first {
		t.Errorf("written again, it differs (%v)", err)
	}
}

// cellOf is a value as its cell in the table.
func cellOf(v parquet.Value, kind Kind) string {
	switch {
	case v.IsNull():
		return ""
	case kind == Text:
		return string(v.ByteArray())
	case kind == Whole:
		return strconv.FormatInt(v.Int64(), 10)
	}
	for _, digits := range []int{8, -1} { // of outcomes and of factors
		text := strconv.FormatFloat(v.Double(), 'g', digits, 64)
		if x, err := strconv.ParseFloat(text, 64); err == nil && x == v.Double() {
			return text
		}
	}
	return "no number of the table"
}
