package main

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"testing"
)

func TestWriteWhole(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "file.txt")
	put := func(text string) func(io.Writer) error {
		return func(w io.Writer) error { _, err := io.WriteString(w, text); return err }
	}
	for _, text := range []string{"first", "second"} {
		if err := writeWhole(path, put(text)); err != nil {
			t.Fatal(err)
		}
		if got, err := os.ReadFile(path); err != nil || string(got) != text {
			t.Errorf("read %q, %v", got, err)
		}
	}
	info, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	if info.Mode().Perm() != 0o644 {
		t.Errorf("mode %v", info.Mode())
	}

	broken := errors.New("half way")
	err = writeWhole(path, func(w io.Writer) error { return errors.Join(put("third, in pa")(w), broken) })
	if !errors.Is(err, broken) {
		t.Errorf("a failed write gives %v", err)
	}
	if got, err := os.ReadFile(path); err != nil || string(got) != "second" {
		t.Errorf("after a failed write the file holds %q, %v", got, err)
	}
	if err := writeWhole(dir, put("over a folder")); err == nil {
		t.Error("a folder was overwritten")
	}
	if entries, err := os.ReadDir(dir); err != nil || len(entries) != 1 {
		t.Errorf("left behind: %v, %v", entries, err)
	}
}
