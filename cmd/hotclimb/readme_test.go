package main

import (
	"bytes"
	"context"
	"os"
	"regexp"
	"strings"
	"testing"
)

// fenced finds the blocks of code in the README: their language and text.
var fenced = regexp.MustCompile("(?ms)^```(\\w*)\n(.*?)^```$")

// named finds the name of its file in the first line of a scenario.
var named = regexp.MustCompile(`^# ([a-z_]+\.yaml)\n`)

// dots stand in a sample of the README for lines left out.
const dots = "...\n"

// TestReadme runs every command of the README as printed, one after the other in
// an empty folder, beside the overlays that are printed there, and holds that the
// samples of output are what is printed.
func TestReadme(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	blocks := fenced.FindAllStringSubmatch(string(readme), -1)
	for _, block := range blocks {
		if block[1] != "yaml" {
			continue
		}
		file := named.FindStringSubmatch(block[2])
		if file == nil {
			t.Fatalf("a scenario in the README does not say its file:\n%s", block[2])
		}
		if err := os.WriteFile(file[1], []byte(block[2]), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	ran, shown, printed := 0, 0, ""
	for _, block := range blocks {
		switch block[1] {
		case "sh":
			for line := range strings.Lines(block[2]) {
				line, _, _ = strings.Cut(strings.Replace(line, "go run ./cmd/hotclimb", name, 1), "  #")
				if strings.HasPrefix(line, name+" ") {
					printed += runReadme(t, line)
					ran++
				}
			}
		case "":
			for part := range strings.SplitSeq(block[2], dots) {
				if !strings.Contains(printed, part) {
					t.Errorf("the README shows what no command before it prints:\n%s", part)
				}
			}
			shown++
		}
	}
	if ran < 15 || shown < 6 {
		t.Errorf("only %d commands and %d samples were found", ran, shown)
	}
}

// runReadme runs one command and returns what it prints.
func runReadme(t *testing.T, line string) string {
	t.Helper()
	args := words(strings.ReplaceAll(line, "'", `"`))
	var stdout, stderr bytes.Buffer
	status := app(context.Background(), args[1:], &stdout, &stderr)
	if status != exitDone && status != exitOverLimit {
		t.Errorf("%s: exit status %d\n%s", line, status, &stderr)
	}
	return stdout.String()
}
