package report

import (
	"strconv"
	"strings"
	"unicode"
)

// anchors are the names that links on a page lead to; each is used once.
type anchors map[string]bool

// of returns a new anchor in the words of a title.
func (a anchors) of(title string) string {
	words := strings.FieldsFunc(strings.ToLower(title), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r)
	})
	name := strings.Join(words, "-")
	if name == "" {
		name = "part"
	}
	id := name
	for n := 2; a[id]; n++ {
		id = name + "-" + strconv.Itoa(n)
	}
	a[id] = true
	return id
}
