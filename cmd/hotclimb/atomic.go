package main

import (
	"io"

	"hotclimb/sweep"
)

// writeWhole writes a file that appears whole or not at all.
func writeWhole(path string, write func(io.Writer) error) error { return sweep.WriteWhole(path, write) }

// reason is what the system says, without the name of the file it says it of.
func reason(err error) error { return sweep.Reason(err) }
