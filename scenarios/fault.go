package scenarios

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/agnivade/levenshtein"
)

// Fault is one thing wrong with a scenario, with the place where it stands.
type Fault struct {
	File    string // "" when it does not come from a file
	Line    int    // from 1; 0 without a file
	Column  int    // in characters, from 1; 0 without a file
	Path    string // of the number, word or section; "" for the file as a whole
	Message string // what is wrong
	Hint    string // what would be right, may be empty

	rank int // of the file, in the order given
}

// Error prints the fault as file:line:column: path: what is wrong (hint).
func (f Fault) Error() string {
	var b strings.Builder
	if f.File != "" {
		fmt.Fprintf(&b, "%s:%d:%d: ", f.File, f.Line, f.Column)
	}
	if f.Path != "" {
		b.WriteString(f.Path + ": ")
	}
	b.WriteString(f.Message)
	if f.Hint != "" {
		b.WriteString(" (" + f.Hint + ")")
	}
	return b.String()
}

// Faults are all the things wrong with a scenario, in the order of the files.
type Faults []Fault

// Error prints one fault a line.
func (fs Faults) Error() string {
	lines := make([]string, len(fs))
	for i, f := range fs {
		lines[i] = f.Error()
	}
	return strings.Join(lines, "\n")
}

// inOrder returns the faults sorted by place, each once.
func (fs Faults) inOrder() Faults {
	slices.SortStableFunc(fs, func(a, b Fault) int {
		return cmp.Or(cmp.Compare(a.rank, b.rank), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
	seen := map[Fault]bool{}
	return slices.DeleteFunc(fs, func(f Fault) bool {
		again := seen[f]
		seen[f] = true
		return again
	})
}

// err is nil when there are no faults.
func (fs Faults) err() error {
	if len(fs) == 0 {
		return nil
	}
	return fs.inOrder()
}

// position is a place in one of the files.
type position struct {
	file         string
	rank         int
	line, column int
}

// positions says where each path stands, in the last file that sets it.
type positions map[string]position

// at is where a path stands, or else the nearest section around it.
func (p positions) at(path string) position {
	for {
		if found, ok := p[path]; ok || path == "" {
			return found
		}
		path = parent(path)
	}
}

// fault is a fault at a path.
func (p positions) fault(path, message, hint string) Fault {
	at := p.at(path)
	return Fault{at.file, at.line, at.column, path, message, hint, at.rank}
}

// badPaths are paths with a fault. The consequences of a fault are not told.
type badPaths map[string]bool

// hides says that a path is bad, holds something bad or stands in something
// bad.
func (b badPaths) hides(path string) bool {
	for bad := range b {
		if inside(bad, path) || inside(path, bad) {
			return true
		}
	}
	return false
}

// touches says that something in one of the sections is bad.
func (b badPaths) touches(sections ...string) bool {
	for _, section := range sections {
		if b.hides(section) {
			return true
		}
	}
	return false
}

// inside says that a path is a section or stands in it.
func inside(path, section string) bool {
	return path == section || len(path) > len(section) && path[:len(section)] == section && path[len(section)] == '.'
}

// parent is a path without its last part.
func parent(path string) string {
	return path[:max(0, strings.LastIndexByte(path, '.'))]
}

// join appends a key to a path.
func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

// nearest returns the candidate most like word, "" when none is near.
func nearest(word string, candidates []string) string {
	best, least := "", 2+len(word)/3
	if len(word) > 200 {
		return ""
	}
	for _, c := range candidates {
		if d := levenshtein.ComputeDistance(word, c); d < least {
			best, least = c, d
		}
	}
	return best
}

// didYouMean is the hint that offers the nearest candidate, or all of them
// when they are few.
func didYouMean(word string, candidates []string) string {
	if near := nearest(word, candidates); near != "" {
		return "did you mean " + near + "?"
	}
	if len(candidates) == 0 || len(candidates) > 12 {
		return ""
	}
	return "known: " + strings.Join(candidates, ", ")
}
