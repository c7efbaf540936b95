package main

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
)

// reportMark stands in the head of every report.
const reportMark = "cooling report</title>"

// mayOverwrite refuses to overwrite a file that is no report.
func mayOverwrite(path string) error {
	in, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return badInputf("cannot write %s: %w", path, reason(err))
	}
	defer func() { _ = in.Close() }() // it was only read
	head := make([]byte, 4096)
	n, err := io.ReadFull(in, head)
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) && !errors.Is(err, io.EOF) {
		return badInputf("cannot write %s: %w", path, reason(err))
	}
	if !bytes.Contains(head[:n], []byte(reportMark)) {
		return badInputf("%s is there and is no report; name a folder with --out", path)
	}
	return nil
}
