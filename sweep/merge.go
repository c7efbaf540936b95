package sweep

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"
)

// Merge joins the finished shards of one sweep, each in its folder, into another
// folder: the same bytes as those of the sweep in one. Shards that are missing,
// unfinished, there twice or of another sweep are refused with an Unfit.
func Merge(dirs []string, out string) (*Manifest, error) {
	parts, whole, err := arrange(dirs)
	if err != nil {
		return nil, err
	}
	old, err := ReadManifest(out)
	switch {
	case err == nil && whole.difference(old) != "":
		return nil, Unfit{fmt.Sprintf("%s holds a sweep that differs in %s: name another folder, or empty this one", out, whole.difference(old))}
	case err == nil && exists(filepath.Join(out, partFile)):
		return nil, Unfit{fmt.Sprintf("%s holds an unfinished sweep: name another folder", out)}
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return nil, err
	}
	if err := errors.Join(sweepUp(out), whole.write(out)); err != nil {
		return nil, err
	}
	return whole, WriteWhole(filepath.Join(out, RowsFile), func(w io.Writer) error { return join(w, parts, whole) })
}

// folder is a shard in its folder.
type folder struct {
	dir      string
	manifest *Manifest
}

// arrange puts the folders in the order of their shards.
func arrange(dirs []string) ([]folder, *Manifest, error) {
	var parts []folder
	var whole *Manifest
	for _, dir := range dirs {
		m, err := readShard(dir)
		if err != nil {
			return nil, nil, err
		}
		own := *m
		own.Shard = nil
		if whole == nil {
			whole, parts = &own, make([]folder, m.Shard.Of)
		}
		if what := whole.difference(&own); what != "" {
			return nil, nil, Unfit{fmt.Sprintf("%s and %s hold sweeps that differ in %s", dirs[0], dir, what)}
		}
		if m.Shard.Of != len(parts) {
			return nil, nil, Unfit{fmt.Sprintf("%s holds a shard of %d, %s one of %d", dirs[0], len(parts), dir, m.Shard.Of)}
		}
		part := &parts[m.Shard.Index]
		if part.manifest != nil {
			return nil, nil, Unfit{fmt.Sprintf("%s and %s both hold shard %d/%d: name each once", part.dir, dir, m.Shard.Index, m.Shard.Of)}
		}
		*part = folder{dir, m}
	}
	for i, part := range parts {
		if part.manifest == nil {
			return nil, nil, Unfit{fmt.Sprintf("shard %d/%d is missing: name its folder, or fly it with --shard %d/%d", i, len(parts), i, len(parts))}
		}
	}
	return parts, whole, nil
}

// readShard reads the manifest of a finished shard.
func readShard(dir string) (*Manifest, error) {
	m, err := ReadManifest(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, Unfit{fmt.Sprintf("%s holds no sweep: name folders that sweep --shard has written", dir)}
	case err != nil:
		return nil, err
	case m.Shard == nil:
		return nil, Unfit{fmt.Sprintf("%s holds a whole sweep, not a shard", dir)}
	case !exists(filepath.Join(dir, RowsFile)):
		return nil, Unfit{fmt.Sprintf("the sweep in %s is not finished: go on with it with --resume", dir)}
	}
	return m, nil
}

// join writes the rows of all shards in order.
func join(w io.Writer, parts []folder, whole *Manifest) error {
	tables := make([]*tableReader, len(parts))
	for i, p := range parts {
		t, err := openTable(p.dir, p.manifest)
		if err != nil {
			return err
		}
		defer t.file.Close()
		tables[i] = t
	}
	out := csv.NewWriter(w)
	if err := out.Write(Names(whole.Columns())); err != nil {
		return err
	}
	for row := range whole.Rows {
		_, cells, err := tables[row%len(tables)].next()
		if err != nil {
			return err
		}
		if err := out.Write(cells); err != nil {
			return err
		}
	}
	for _, t := range tables {
		if err := t.end(); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}
