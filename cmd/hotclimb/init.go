package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
	"hotclimb/scenarios"
)

const (
	usualFile  = "scenario.yaml"
	schemaFile = "scenario.schema.json"
)

// schemaLine tells editors which schema a scenario follows.
const schemaLine = "# yaml-language-server: $schema=" + schemaFile + "\n"

func (p *program) initCommand() *cobra.Command {
	var from string
	var force bool
	cmd := &cobra.Command{
		Use:   "init [FILE]",
		Short: "write a commented scenario to start from",
		Long: `Writes a commented starter scenario, or with --from a copy of a built-in one with
its comments. FILE is ` + usualFile + ` when it is not given. Beside it stands
` + schemaFile + `, from which editors complete and explain keys; it is written
anew each time. An existing FILE is kept unless --force is given.`,
		Example: examples(
			`hotclimb init`,
			`hotclimb init my_tug.yaml --from tug`,
		),
		Args: atMost(1),
		RunE: func(_ *cobra.Command, args []string) error {
			return p.init(file(args, usualFile), from, force)
		},
	}
	cmd.Flags().StringVar(&from, "from", "", "copy the built-in scenario of this `NAME`")
	cmd.Flags().BoolVar(&force, "force", false, "overwrite FILE")
	return cmd
}

// init writes a scenario and its schema.
func (p *program) init(path, from string, force bool) error {
	if _, ok := scenarios.Builtin(path); ok && from == "" {
		return badInputf("%s is the name of a built-in scenario; write --from %s to copy it, or give FILE another name", path, path)
	}
	text := scenarios.Starter()
	if from != "" {
		source, ok := scenarios.Builtin(from)
		if !ok {
			return badInputf("there is no built-in scenario %q (%s)", from, didYouMean(from, scenarios.BuiltinNames()))
		}
		text = source.Text
	}
	if !bytes.HasPrefix(text, []byte(strings.TrimSpace(schemaLine))) {
		text = append([]byte(schemaLine), text...)
	}
	if _, err := os.Lstat(path); err == nil && !force {
		return badInputf("%s exists and is kept; --force overwrites it", path)
	} else if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("cannot write %s: %w", path, reason(err))
	}
	schema, err := scenarios.Schema()
	if err != nil {
		return err
	}
	schemaPath := filepath.Join(filepath.Dir(path), schemaFile)
	for _, f := range []struct {
		path string
		text []byte
	}{{schemaPath, schema}, {path, text}} {
		if err := writeWhole(f.path, func(w io.Writer) error { _, err := w.Write(f.text); return err }); err != nil {
			return err
		}
	}
	_, err = fmt.Fprintf(p.out, "%s is written, and %s beside it for editors. Next: %s check %s\n", path, schemaFile, name, path)
	return err
}
