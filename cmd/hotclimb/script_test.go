package main

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){name: main})
}

const scripts = "../../testdata/script"

// TestScripts runs the text archives. Each finds small.yaml, a scenario with a
// case within limits and one over a limit, in its folder.
func TestScripts(t *testing.T) {
	small, err := os.ReadFile(filepath.Join(scripts, "small.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:                 scripts,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		UpdateScripts:       os.Getenv("UPDATE_SCRIPTS") != "",
		Setup: func(env *testscript.Env) error {
			return os.WriteFile(filepath.Join(env.WorkDir, "small.yaml"), small, 0o644)
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"exits": exits, "mask": mask},
	})
}

// exits STATUS COMMAND... runs a command and compares its exit status.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits STATUS COMMAND...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	var failed *exec.ExitError
	if err := ts.Exec(args[1], args[2:]...); errors.As(err, &failed) {
		got = failed.ExitCode()
	} else {
		ts.Check(err)
	}
	if got != want {
		ts.Fatalf("exit status %d, want %d", got, want)
	}
}

var (
	builds  = regexp.MustCompile(`"build": "[^"]*"`)
	hashes  = regexp.MustCompile(`"[0-9a-f]{64}"`)
	numbers = regexp.MustCompile(`(: |,)-?[0-9][-+.e0-9]*`)
)

// mask FROM TO copies a result with # in place of every number, the hash, the
// version and the build.
func mask(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: mask FROM TO")
	}
	text := hashes.ReplaceAllString(ts.ReadFile(args[0]), `"#"`)
	text = strings.ReplaceAll(text, strconv.Quote(version), `"#"`)
	text = builds.ReplaceAllString(text, `"build": "#"`)
	text = numbers.ReplaceAllString(text, "${1}#")
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), []byte(text), 0o644))
}
