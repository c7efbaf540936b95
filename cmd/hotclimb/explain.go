package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/agnivade/levenshtein"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// explain makes what the command line reader refuses bad input, and an unknown
// command a sentence with the nearest one.
func (p *program) explain(root *cobra.Command, args []string, err error) error {
	if err == nil || p.started {
		return err
	}
	if _, _, unknown := root.Find(args); unknown != nil {
		return unknownCommand(root, args)
	}
	return badInput{err}
}

// unknownCommand says that the first word that is no flag is no command.
func unknownCommand(root *cobra.Command, args []string) error {
	var known []string
	for _, c := range root.Commands() {
		if c.IsAvailableCommand() || c.Name() == "help" {
			known = append(known, c.Name())
		}
	}
	for _, word := range args {
		if !strings.HasPrefix(word, "-") {
			return badInputf("there is no command %q (%s)", word, didYouMean(word, known))
		}
	}
	return badInputf("no command is given (known: %s)", strings.Join(known, ", "))
}

// flagError turns an error of the flag reader into a sentence.
func flagError(cmd *cobra.Command, err error) error {
	var unknown *pflag.NotExistError
	if errors.As(err, &unknown) {
		var known []string
		cmd.Flags().VisitAll(func(f *pflag.Flag) { known = append(known, "--"+f.Name) })
		flag := "--" + unknown.GetSpecifiedName()
		if shorts := unknown.GetSpecifiedShortnames(); shorts != "" {
			flag = "-" + shorts
		}
		return badInputf("%s has no flag %s (%s)", cmd.CommandPath(), flag, didYouMean(flag, known))
	}
	var value *pflag.InvalidValueError
	if errors.As(err, &value) {
		return badInputf("--%s %q: %s", value.GetFlag().Name, value.GetValue(), wanted(value))
	}
	var missing *pflag.ValueRequiredError
	if errors.As(err, &missing) {
		return badInputf("--%s needs a value", missing.GetFlag().Name)
	}
	return badInput{err}
}

// wanted says what a flag takes.
func wanted(e *pflag.InvalidValueError) string {
	switch e.GetFlag().Value.Type() {
	case "int":
		return "must be a whole number"
	case "uint64":
		return "must be a whole number, not negative"
	case "float64":
		return "must be a number"
	case "bool":
		return "must be true or false"
	}
	return e.Unwrap().Error()
}

// atMost is a check of the number of arguments.
func atMost(n int) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) > n {
			return badInputf("%s takes one FILE; %q is one too many", cmd.CommandPath(), args[n])
		}
		return nil
	}
}

// didYouMean offers those of the known words that are nearest, or all of them when none is near.
func didYouMean(word string, known []string) string {
	var near []string
	least := 1 + len(word)/3
	for _, k := range known {
		d := levenshtein.ComputeDistance(word, k)
		if d < least {
			near, least = nil, d
		}
		if d == least {
			near = append(near, k)
		}
	}
	if near == nil {
		return "known: " + strings.Join(known, ", ")
	}
	return fmt.Sprintf("did you mean %s?", orList(near))
}
