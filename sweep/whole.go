package sweep

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// halfWritten ends the names of the temporary files of WriteWhole.
const halfWritten = ".half_written"

// WriteWhole writes a file that appears whole or not at all: into a temporary
// file beside it that takes its name when everything has reached the disk.
func WriteWhole(path string, write func(io.Writer) error) (err error) {
	defer func() {
		if err != nil {
			err = fmt.Errorf("cannot write %s: %w", path, Reason(err))
		}
	}()
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*"+halfWritten)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, os.Remove(f.Name()))
		}
	}()
	if err := errors.Join(write(f), f.Sync(), f.Chmod(0o644), f.Close()); err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}

// Reason is what the system says, without the name of the file it says it of.
func Reason(err error) error {
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &path):
		return path.Err
	case errors.As(err, &link):
		return link.Err
	}
	return err
}
