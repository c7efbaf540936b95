package sweep

import (
	"fmt"
	"io"
	"path/filepath"
	"strconv"

	"github.com/parquet-go/parquet-go"
)

// rowGroup is how many rows stand together in a Parquet file, and are held in
// memory while it is written.
const rowGroup = 1 << 14

// WriteParquet writes the finished rows of a folder as a Parquet file beside
// them: the same columns in the same order, with null for an empty number.
func WriteParquet(dir string, m *Manifest) error {
	return WriteWhole(filepath.Join(dir, ParquetFile), func(w io.Writer) error {
		columns := m.Columns()
		out := parquet.NewWriter(w, parquet.NewSchema("sweep", newTable(columns)),
			parquet.MaxRowsPerRowGroup(rowGroup), parquet.Compression(&parquet.Snappy),
			parquet.CreatedBy(m.Tool.Name, m.Tool.Version, ""))
		rows := []parquet.Row{make(parquet.Row, len(columns))}
		err := EachRow(dir, m, func(_ int, cells []string) error {
			for i, c := range columns {
				v, err := c.value(cells[i])
				if err != nil {
					return fmt.Errorf("row %s: %s: %w", cells[0], c.Name, err)
				}
				defined := 0
				if c.Kind == Number && !v.IsNull() {
					defined = 1
				}
				rows[0][i] = v.Level(0, defined, i)
			}
			_, err := out.WriteRows(rows)
			return err
		})
		if err != nil {
			return err
		}
		return out.Close()
	})
}

// value is a cell as a Parquet value.
func (c Column) value(cell string) (parquet.Value, error) {
	switch {
	case c.Kind == Text:
		return parquet.ByteArrayValue([]byte(cell)), nil
	case c.Kind == Whole:
		n, err := strconv.ParseInt(cell, 10, 64)
		return parquet.Int64Value(n), err
	case cell == "":
		return parquet.NullValue(), nil
	}
	x, err := strconv.ParseFloat(cell, 64)
	return parquet.DoubleValue(x), err
}

// table is a group of columns in the order given; parquet.Group sorts them.
type table struct {
	parquet.Group
	fields []parquet.Field
}

func newTable(columns []Column) *table {
	t := &table{Group: parquet.Group{}}
	for _, c := range columns {
		t.Group[c.Name] = c.node()
	}
	byName := map[string]parquet.Field{}
	for _, f := range t.Group.Fields() {
		byName[f.Name()] = f
	}
	for _, c := range columns {
		t.fields = append(t.fields, byName[c.Name])
	}
	return t
}

// Fields are the columns.
func (t *table) Fields() []parquet.Field { return t.fields }

// node is the type of a column.
func (c Column) node() parquet.Node {
	switch c.Kind {
	case Whole:
		return parquet.Int(64)
	case Number:
		return parquet.Optional(parquet.Leaf(parquet.DoubleType))
	}
	return parquet.String()
}
