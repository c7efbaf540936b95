package main

import (
	"context"
	"io"
	"strings"

	"github.com/spf13/cobra"
)

// The name and the version that results carry.
const (
	name    = "hotclimb"
	version = "1.0.0"
)

// program is one call of the command: everything but its context and its
// arguments.
type program struct {
	out *screen
	err *screen
}

// app is the whole program. It returns the exit status.
func app(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	p := &program{out: newScreen(stdout), err: newScreen(stderr)}
	root := p.root()
	root.SetArgs(append([]string{}, args...)) // nil would mean those of the process
	root.SetOut(stdout)
	root.SetErr(stderr)
	return p.conclude(explain(root, args, root.ExecuteContext(ctx)))
}

// root is the command tree.
func (p *program) root() *cobra.Command {
	root := &cobra.Command{
		Use:   name,
		Short: "Will it stay cool on a hot day?",
		Long: `hotclimb flies the cooling of a home-built aircraft with a liquid-cooled engine
through a hot climb, and says what coolant and oil do, minute by minute, and how
far both stay from their limits. ` + "\n\n" + strings.Join(cautions, "\n"),
		Example: examples(
			`hotclimb run`,
			`hotclimb init first.yaml`,
			`hotclimb check first.yaml`,
			`hotclimb run first.yaml --out first`,
		),
		Version:       version,
		SilenceErrors: true,
		SilenceUsage:  true,
	}
	root.SetVersionTemplate("{{.Name}} {{.Version}}\n")
	root.SetFlagErrorFunc(flagError)
	root.AddCommand(p.initCommand(), p.checkCommand(), p.runCommand())
	return root
}

// examples indents the lines of an example.
func examples(lines ...string) string { return "  " + strings.Join(lines, "\n  ") }
