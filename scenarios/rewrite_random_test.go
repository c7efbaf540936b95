package scenarios

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"go.yaml.in/yaml/v3"
	"pgregory.net/rapid"
)

// writings are the forms in which a file that is to be rewritten may come.
var writings = map[string]func(string) string{
	"as filed": func(text string) string { return text },
	"commented": func(text string) string {
		n := 0
		text = regexp.MustCompile(`(?m)$`).ReplaceAllStringFunc(text, func(string) string { n++; return fmt.Sprintf("  # c%d.", n) })
		return strings.TrimSuffix(text, fmt.Sprintf("  # c%d.", n))
	},
	"with windows' line ends": func(text string) string { return "\ufeff" + strings.ReplaceAll(text, "\n", "\r\n") },
	"without a last line end": func(text string) string { return strings.TrimSuffix(text, "\n") },
	"braces over lines": func(text string) string {
		n := 0
		return regexp.MustCompile(`(?m)^[^#{}\n]*\{[^{}\n]*\}`).ReplaceAllStringFunc(text, func(line string) string {
			key, pairs, _ := strings.Cut(line, "{")
			return key + "{" + regexp.MustCompile(`, `).ReplaceAllStringFunc(pairs, func(string) string {
				n++
				return fmt.Sprintf(", # c%d.\n                 ", n)
			})
		})
	},
	"all in braces": func(text string) string {
		var doc yaml.Node
		if yaml.Unmarshal([]byte(text), &doc) != nil {
			return text
		}
		withoutComments(doc.Content[0])
		doc.Content[0].Style = yaml.FlowStyle
		braces, err := yaml.Marshal(doc.Content[0])
		if err != nil {
			return text
		}
		return string(braces)
	},
}

func withoutComments(n *yaml.Node) {
	n.HeadComment, n.LineComment, n.FootComment = "", "", ""
	for _, c := range n.Content {
		withoutComments(c)
	}
}

// rewriteFiles are the texts of scenario files by name.
func rewriteFiles(t testing.TB) map[string]string {
	t.Helper()
	files := map[string]string{"good": good, "starter": string(Starter())}
	for _, name := range BuiltinNames() {
		source, _ := Builtin(name)
		files[name] = string(source.Text)
	}
	for _, name := range []string{"scenarios/highwing", "script/small"} {
		text, err := os.ReadFile("../testdata/" + name + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		files[name] = string(text)
	}
	return files
}

// TestRewriteRandom holds, for every form of writing, that a rewritten file has
// the cases of WithCaseSettings and all comments of the old one, and that only
// lines go on which something set stood.
func TestRewriteRandom(t *testing.T) {
	fewer(t, "12")
	files := rewriteFiles(t)
	names := sortedKeys(files)
	forms := sortedKeys(writings)
	accepted, refused := 0, 0
	rapid.Check(t, func(rt *rapid.T) {
		form := rapid.SampledFrom(forms).Draw(rt, "form")
		if rewriteOnce(rt, writings[form](files[rapid.SampledFrom(names).Draw(rt, "file")])) {
			accepted++
		} else {
			refused++
		}
	})
	t.Logf("%d accepted, %d refused", accepted, refused)
	if refused > accepted {
		t.Errorf("too few are accepted: %d of %d", accepted, accepted+refused)
	}
}

// rewriteOnce rewrites a file with settings drawn; false when they have faults.
func rewriteOnce(rt *rapid.T, file string) bool {
	sc, err := Load(Source{Text: []byte(file)})
	if err != nil {
		rt.Fatal(err)
	}
	list := drawSettings(rt, all(rt, sc), 3)
	if _, err := sc.WithCaseSettings(list); err != nil {
		var faults Faults
		if _, again := Rewrite([]byte(file), list); !errors.As(again, &faults) || again.Error() != err.Error() {
			rt.Errorf("%v, want %v", again, err)
		}
		return false
	}
	text := rewritten(rt, file, list)
	for _, comment := range regexp.MustCompile(`#.*`).FindAllString(file, -1) {
		if strings.Count(text, strings.TrimSpace(comment)) < strings.Count(file, strings.TrimSpace(comment)) {
			rt.Errorf("%q is lost in\n%s", comment, changedLines(file, text))
		}
	}
	if alien := alienLines(sc, list, file, text); alien != "" && file[0] != '{' {
		rt.Errorf("%v changes %q:\n%s", list, alien, changedLines(file, text))
	}
	return true
}

// alienLines are lines that are changed though nothing that is set, or excluded
// by it, stands on them. A new key goes into braces.
func alienLines(sc *Scenario, list []CaseSetting, from, to string) string {
	var keys []string
	for _, s := range list {
		steps, _, _ := resolve(s.Path)
		leaf := steps[len(steps)-1].field
		keys = append(keys, leaf.key)
		for _, rival := range leaf.rivals {
			keys = append(keys, rival.key)
		}
	}
	if sc.Fit != nil {
		keys = append(keys, "fit:", "- ", "paths:")
	}
	changes := changedLines(from, to)
	var alien strings.Builder
	for line := range strings.Lines(changes) {
		has := func(key string) bool { return strings.Contains(line, key) }
		if line[0] == '-' && !slices.ContainsFunc(keys, has) && !widened(line[1:], changes) {
			alien.WriteString(line)
		}
	}
	return alien.String()
}

// widened says that one of the lines that come is a line with something put in.
func widened(line, changes string) bool {
	for c := range strings.Lines(changes) {
		n := 0
		for n < len(line) && n+1 < len(c) && line[n] == c[n+1] {
			n++
		}
		if c[0] == '+' && strings.HasSuffix(c[n+1:], line[n:]) {
			return true
		}
	}
	return false
}

// fewer lowers the number of draws of a slow test, unless one is asked for.
func fewer(t *testing.T, draws string) {
	t.Helper()
	if f := flag.Lookup("rapid.checks"); os.Getenv("HOTCLIMB_LONG") == "" && f.Value.String() == f.DefValue {
		if err := flag.Set(f.Name, draws); err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { _ = flag.Set(f.Name, f.DefValue) })
	}
}
