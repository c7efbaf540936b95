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
anew each time. The logs of flights that a built-in scenario has are written
there, too. An existing FILE or log is kept unless --force is given.`,
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
	cmd.Flags().BoolVar(&force, "force", false, "overwrite FILE and logs")
	return cmd
}

// init writes a scenario, its schema and the logs of its flights.
func (p *program) init(path, from string, force bool) error {
	if _, ok := scenarios.Builtin(path); ok && from == "" {
		return badInputf("%s is the name of a built-in scenario; write --from %s to copy it, or give FILE another name", path, path)
	}
	text, logs, err := template(from, filepath.Dir(path))
	if err != nil {
		return err
	}
	if there, err := exists(path); err != nil {
		return err
	} else if there && !force {
		return badInputf("%s exists and is kept; --force overwrites it", path)
	}
	schema, err := scenarios.Schema()
	if err != nil {
		return err
	}
	files := []outFile{{filepath.Join(filepath.Dir(path), schemaFile), writes(schema)}}
	told := ""
	for _, log := range logs {
		there, err := exists(log.name)
		if err != nil {
			return err
		}
		if there && !force {
			told += fmt.Sprintf("%s was there and is kept; --force overwrites it.\n", log.name)
			continue
		}
		told += fmt.Sprintf("%s is the log of one of its flights.\n", log.name)
		files = append(files, log)
	}
	if err := writeAll("", append(files, outFile{path, writes(text)})); err != nil {
		return err
	}
	_, err = fmt.Fprintf(p.out, "%s is written, and %s beside it for editors. Next: %s check %s\n%s", path, schemaFile, name, path, told)
	return err
}

// writes writes a text.
func writes(text []byte) func(io.Writer) error {
	return func(w io.Writer) error { _, err := w.Write(text); return err }
}

// exists reports whether there is a file.
func exists(path string) (bool, error) {
	_, err := os.Lstat(path)
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	if err != nil {
		return false, fmt.Errorf("cannot write %s: %w", path, reason(err))
	}
	return true, nil
}

// template is the text of the starter, or of the built-in scenario of a name with
// the logs of its flights as they lie in a folder.
func template(from, folder string) (text []byte, logs []outFile, err error) {
	text = scenarios.Starter()
	if from != "" {
		source, ok := scenarios.Builtin(from)
		if !ok {
			return nil, nil, badInputf("there is no built-in scenario %q (%s)", from, didYouMean(from, scenarios.BuiltinNames()))
		}
		text = source.Text
		if logs, err = builtinLogs(source, folder); err != nil {
			return nil, nil, err
		}
	}
	if !bytes.HasPrefix(text, []byte(strings.TrimSpace(schemaLine))) {
		text = append([]byte(schemaLine), text...)
	}
	return text, logs, nil
}

// builtinLogs are the logs of the flights of a built-in scenario, in a folder.
func builtinLogs(source scenarios.Source, folder string) ([]outFile, error) {
	sc, err := scenarios.Load(source)
	if err != nil {
		return nil, err
	}
	var logs []outFile
	for _, t := range sc.Tests {
		if t.Log != "" {
			logs = append(logs, outFile{filepath.Join(folder, t.Log), func(w io.Writer) error { return copyLog(w, sc, t) }})
		}
	}
	return logs, nil
}
