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
var fenced = regexp.MustCompile("(?ms)^```(\\w+)\n(.*?)^```$")

// TestReadmeCommands runs every command of the README as printed, one after the
// other in an empty folder, beside the overlay that is printed there.
func TestReadmeCommands(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	var commands []string
	for _, block := range fenced.FindAllStringSubmatch(string(readme), -1) {
		switch block[1] {
		case "yaml":
			if err := os.WriteFile("winter.yaml", []byte(block[2]), 0o644); err != nil {
				t.Fatal(err)
			}
		case "sh":
			commands = append(commands, strings.Split(strings.TrimSpace(block[2]), "\n")...)
		}
	}
	ran := 0
	for _, line := range commands {
		line, _, _ = strings.Cut(strings.Replace(line, "go run ./cmd/hotclimb", name, 1), "  #")
		if strings.HasPrefix(line, name+" ") {
			runReadme(t, line)
			ran++
		}
	}
	if ran < 8 {
		t.Errorf("only %d commands were found", ran)
	}
}

func runReadme(t *testing.T, line string) {
	t.Helper()
	args := words(strings.ReplaceAll(line, "'", `"`))
	var stdout, stderr bytes.Buffer
	status := app(context.Background(), args[1:], &stdout, &stderr)
	if status != exitDone && status != exitOverLimit {
		t.Errorf("%s: exit status %d\n%s", line, status, &stderr)
	}
}

// The sample of the output that the README shows is what is printed.
func TestReadmeSample(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(readme), "\n```\nhot_tow - ")
	sample, _, found := strings.Cut("hot_tow - "+rest, "```")
	if !found {
		t.Fatal("the README shows no output")
	}
	var stdout bytes.Buffer
	app(context.Background(), []string{"run", "--case", "hot_tow"}, &stdout, &bytes.Buffer{})
	if !strings.Contains(stdout.String(), sample) {
		t.Errorf("the README shows\n%sbut this is printed\n%s", sample, &stdout)
	}
}
