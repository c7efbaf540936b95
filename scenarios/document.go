package scenarios

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"regexp"
	"sort"
	"strconv"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"
)

// largestFile is the size of a file beyond which it is no scenario, bytes.
const largestFile = 4 << 20

// parseDocument reads the one YAML document of a file. What it returns is a
// mapping; without one it tells a fault.
func (r *reader) parseDocument(file []byte) *yaml.Node {
	if !r.readable(file) {
		return nil
	}
	var doc, second yaml.Node
	d := yaml.NewDecoder(bytes.NewReader(file))
	switch err := d.Decode(&doc); {
	case errors.Is(err, io.EOF) || err == nil && isNull(doc.Content[0]):
		r.tell(1, 1, "", "the file is empty", "hotclimb init writes one to start from")
		return nil
	case err != nil:
		r.tellSyntax(file, err)
		return nil
	}
	if err := d.Decode(&second); err == nil {
		r.tell(second.Line, second.Column, "", "a second document starts here", "keep one scenario in a file and remove the line ---")
	} else if !errors.Is(err, io.EOF) {
		r.tellSyntax(file, err)
		return nil
	}
	if top := doc.Content[0]; top.Kind == yaml.MappingNode {
		return top
	}
	r.tell(1, 1, "", "the file is no scenario", "it must hold sections such as aircraft: and engine:")
	return nil
}

// readable checks what the YAML reader would complain about without a place.
func (r *reader) readable(file []byte) bool {
	if len(file) > largestFile {
		r.tell(1, 1, "", fmt.Sprintf("the file is too big: %d bytes, at most %d", len(file), largestFile), "")
		return false
	}
	switch {
	case bytes.HasPrefix(file, []byte("\xff\xfe")), bytes.HasPrefix(file, []byte("\xfe\xff")):
		r.tell(1, 1, "", "the file is UTF-16 text", "save it as UTF-8")
		return false
	case bytes.IndexByte(file, 0) >= 0:
		r.tell(1, 1, "", "the file is no text", "a scenario is a text file; hotclimb init writes one to start from")
		return false
	}
	before := len(r.faults)
	line := 0
	for text := range bytes.Lines(bytes.TrimPrefix(file, []byte("\ufeff"))) {
		line++
		r.readableLine(text, line)
	}
	return len(r.faults) == before
}

// readableLine tells the first thing in a line that is no text.
func (r *reader) readableLine(line []byte, number int) {
	indent := true
	column := 0
	for rest := line; len(rest) > 0; {
		c, size := utf8.DecodeRune(rest)
		column++
		switch {
		case c == utf8.RuneError && size == 1:
			r.tell(number, column, "", "this character is not UTF-8", "save the file as UTF-8")
			return
		case c == '\t' && indent:
			r.tell(number, column, "", "a tab cannot indent", "use spaces")
			return
		case c < ' ' && c != '\t' && c != '\n' && c != '\r', c == 0x7f, c >= 0x80 && c < 0xa0 && c != 0x85, c == '\ufeff', c == '\ufffe', c == '\uffff':
			r.tell(number, column, "", fmt.Sprintf("control character %U", c), "remove it")
			return
		case c != ' ':
			indent = false
		}
		rest = rest[size:]
	}
}

var (
	syntaxLine    = regexp.MustCompile(`^line (\d+): `)
	unknownAnchor = regexp.MustCompile(`^unknown anchor '(.*)' referenced`)
)

// plainer says what the YAML reader complains about most in plain words.
var plainer = strings.NewReplacer(
	"mapping values are not allowed in this context", "a colon stands where none can stand, as in a text without quotes",
	"did not find expected key", "it is not in line with the keys above",
	"did not find expected ',' or '}'", "a { is not closed or a comma is missing",
	"did not find expected ',' or ']'", "a [ is not closed or a comma is missing",
	"did not find expected '-' indicator", "it is not in line with the items above",
	"found unexpected end of stream", "a quote is not closed",
	"could not find expected ':'", "a colon is missing",
)

// tellSyntax passes on a complaint of the YAML reader.
func (r *reader) tellSyntax(file []byte, err error) {
	message := strings.TrimPrefix(err.Error(), "yaml: ")
	if m := unknownAnchor.FindStringSubmatch(message); m != nil {
		before, _, _ := bytes.Cut(file, []byte("*"+m[1]))
		r.tell(1+bytes.Count(before, []byte("\n")), 1, "", anchors, writeOut)
		return
	}
	line := 1
	if m := syntaxLine.FindStringSubmatch(message); m != nil {
		line, _ = strconv.Atoi(m[1])
		message = message[len(m[0]):]
	}
	line = min(max(line, 1), 1+bytes.Count(file, []byte("\n")))
	if len(file) <= searched {
		line = unreadableFrom(file)
	}
	message = plainer.Replace(message)
	r.tell(line, 1, "", "this cannot be read as YAML: "+message, "look at indentation, colons and quotes here and on the line above")
}

// searched is the size of a file, in bytes, up to which the line of a fault is
// searched for; beyond, that would take seconds.
const searched = 1 << 17

// unreadableFrom is the first line with which a file cannot be read as YAML any
// more, where the file up to the line before can. The YAML reader itself may
// name the line on which a section starts, or the last line of the file.
func unreadableFrom(file []byte) int {
	ends := []int{}
	for i, c := range file {
		if c == '\n' {
			ends = append(ends, i+1)
		}
	}
	ends = append(ends, len(file))
	return 1 + sort.Search(len(ends)-1, func(i int) bool {
		d := yaml.NewDecoder(bytes.NewReader(file[:ends[i]]))
		for {
			var document yaml.Node
			if err := d.Decode(&document); err != nil {
				return !errors.Is(err, io.EOF)
			}
		}
	})
}

const (
	anchors  = "anchors (&name), aliases (*name) and merge keys (<<) are not used in scenario files"
	writeOut = "write the value out"
)

func isNull(n *yaml.Node) bool { return n.Kind == yaml.ScalarNode && n.ShortTag() == "!!null" }
