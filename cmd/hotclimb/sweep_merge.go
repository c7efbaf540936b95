package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"
	"hotclimb/scenarios"
	"hotclimb/sweep"
)

func (p *program) mergeCommand() *cobra.Command {
	var out string
	var parquet bool
	cmd := &cobra.Command{
		Use:   "merge DIR...",
		Short: "join the shards of a sweep",
		Long: `Joins the folders that sweep --shard I/N has written into one, which then holds
the same table as the sweep in one. Every shard must be there once, finished, and
of the same sweep, flown by the same build of the program. Of a DIR without a
sweep the folders in it are taken. The sweep without --shard then adds its charts,
with --resume.`,
		Example: examples(
			`hotclimb sweep seaplane --out part_0 --shard 0/2`,
			`hotclimb sweep seaplane --out part_1 --shard 1/2`,
			`hotclimb sweep merge part_0 part_1 --out joined`,
			`hotclimb sweep seaplane --out joined --resume`,
		),
		RunE: func(_ *cobra.Command, args []string) error { return p.merge(args, out, parquet) },
	}
	cmd.Flags().SortFlags = false
	cmd.Flags().Var((*folder)(&out), "out", "write the whole sweep into the folder `DIR`")
	cmd.Flags().BoolVar(&parquet, "parquet", false, "also write DIR/sweep.parquet")
	return cmd
}

// merge joins the shards of a sweep.
func (p *program) merge(dirs []string, out string, parquet bool) error {
	switch {
	case len(dirs) == 0:
		return badInputf("sweep merge needs the folders of the shards, as in hotclimb sweep merge part_0 part_1 --out joined")
	case out == "":
		return badInputf("sweep merge needs a folder to write to: add --out DIR")
	}
	dirs = shardFolders(dirs)
	if err := os.MkdirAll(out, 0o755); err != nil {
		return fmt.Errorf("cannot make the folder %s: %w", out, reason(err))
	}
	m, err := sweep.Merge(dirs, out)
	if err != nil {
		return asBadInput(err)
	}
	if err := copyScenario(dirs[0], out); err != nil {
		return err
	}
	if parquet {
		if err := sweep.WriteParquet(out, m); err != nil {
			return asBadInput(err)
		}
	}
	if _, err := fmt.Fprintf(p.out, "%s of %s joined in %s\n", counted(m.Rows, "row"), counted(len(dirs), "shard"), filepath.Join(out, sweep.RowsFile)); err != nil {
		return fmt.Errorf("cannot write the result: %w", reason(err))
	}
	return nil
}

// shardFolders are some folders, with those inside that hold a sweep in place of
// one that holds none itself.
func shardFolders(dirs []string) []string {
	var list []string
	for _, dir := range dirs {
		inside := sweepsIn(dir)
		if holdsSweep(dir) || len(inside) == 0 {
			inside = []string{dir}
		}
		list = append(list, inside...)
	}
	return list
}

// sweepsIn are the folders in a folder that hold a sweep.
func sweepsIn(dir string) []string {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil // reading the sweep itself says why
	}
	var list []string
	for _, e := range entries {
		if path := filepath.Join(dir, e.Name()); holdsSweep(path) {
			list = append(list, path)
		}
	}
	return list
}

func holdsSweep(dir string) bool {
	_, err := os.Lstat(filepath.Join(dir, sweep.ManifestFile))
	return err == nil
}

// copyScenario copies the scenario of a shard, and the logs that it names, into
// another folder. What is not there is left out: the rows do not need it.
func copyScenario(from, to string) error {
	path := filepath.Join(from, writtenScenario)
	if err := copyWhole(path, filepath.Join(to, writtenScenario)); err != nil {
		return err
	}
	sc, err := scenarios.LoadFile(path, nil)
	if err != nil {
		return nil
	}
	return writeAll(to, logsOf(sc))
}

// copyWhole copies a file. One that is not there is left out.
func copyWhole(from, to string) error {
	f, err := os.Open(from)
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("cannot read %s: %w", from, reason(err))
	}
	defer f.Close()
	return writeWhole(to, func(w io.Writer) error {
		_, err := io.Copy(w, f)
		return err
	})
}
