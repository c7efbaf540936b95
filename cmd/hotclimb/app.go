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
	version = "0.1.0"
)

// program is one call of the command: everything but its context and its
// arguments.
type program struct {
	out     *screen
	err     *screen
	started bool // the command line was understood
}

// app is the whole program. It returns the exit status.
func app(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	p := &program{out: newScreen(stdout), err: newScreen(stderr)}
	root := p.root()
	root.SetArgs(append([]string{}, args...)) // nil would mean those of the process
	root.SetOut(stdout)
	root.SetErr(stderr)
	return p.conclude(p.explain(root, args, root.ExecuteContext(ctx)))
}

// root is the command tree.
func (p *program) root() *cobra.Command {
	root := &cobra.Command{
		Use:   name,
		Short: "Will it stay cool on a hot day?",
		Long: `hotclimb flies the cooling of a home-built aircraft with a liquid-cooled engine
through a hot climb, and says what coolant and oil do, minute by minute, and how
far both stay from their limits.`,
		Example: examples(
			`hotclimb run`,
			`hotclimb init first.yaml`,
			`hotclimb check first.yaml`,
			`hotclimb run first.yaml --out first`,
		),
		Version:       version,
		SilenceErrors: true,
		SilenceUsage:  true,

		PersistentPreRun: func(*cobra.Command, []string) { p.started = true },
	}
	root.CompletionOptions.HiddenDefaultCmd = true
	root.SetVersionTemplate("{{.Name}} {{.Version}}\n")
	root.SetFlagErrorFunc(flagError)
	root.SetHelpCommand(helpCommand())
	root.AddCommand(
		p.initCommand(),
		p.checkCommand(),
		p.runCommand(),
		p.sweepCommand(),
		p.limitsCommand(),
		p.rankCommand(),
		p.sizeCommand(),
		p.correctCommand(),
		p.fitCommand(),
		p.compareCommand(),
		p.nextCommand(),
		p.reportCommand(),
		p.serveCommand(),
	)
	return root
}

// helpCommand shows the help of a command; an unknown one is bad input.
func helpCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "help [COMMAND]",
		Short: "show the help of a command",
		RunE: func(cmd *cobra.Command, args []string) error {
			about, _, err := cmd.Root().Find(args)
			if err != nil {
				return unknownCommand(cmd.Root(), args)
			}
			return about.Help()
		},
	}
}

// examples indents the lines of an example.
func examples(lines ...string) string { return "  " + strings.Join(lines, "\n  ") }
