package calibrate

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
)

// longestLine is the most bytes of a line that are kept; a longer one is skipped.
const longestLine = 1 << 16

// lineReader cuts a file into lines that end in LF, CR LF or CR. It keeps one.
type lineReader struct {
	in     *bufio.Reader
	number int // of the line read last, from 1
	line   []byte
	long   bool // the line read last was longer than longestLine
}

// newLineReader skips a byte order mark of UTF-8 and refuses those of UTF-16.
func newLineReader(r io.Reader) (*lineReader, error) {
	in := bufio.NewReaderSize(r, 1<<16)
	start, err := in.Peek(3)
	if err != nil && !errors.Is(err, io.EOF) {
		return nil, err
	}
	switch {
	case bytes.HasPrefix(start, []byte{0xff, 0xfe}), bytes.HasPrefix(start, []byte{0xfe, 0xff}):
		return nil, fmt.Errorf("the file is UTF-16; save it as UTF-8")
	case bytes.HasPrefix(start, []byte{0xef, 0xbb, 0xbf}):
		_, err = in.Discard(3)
		return &lineReader{in: in}, err
	}
	return &lineReader{in: in}, nil
}

// next returns the next line without its end, or io.EOF. It stays until the next
// call.
func (l *lineReader) next() ([]byte, error) {
	l.line, l.long = l.line[:0], false
	for begun := false; ; begun = true {
		if _, err := l.in.Peek(1); err != nil {
			if errors.Is(err, io.EOF) && begun {
				l.number++
				return l.line, nil
			}
			return nil, err
		}
		part, _ := l.in.Peek(l.in.Buffered())
		end := lineEnd(part)
		l.keep(part[:end])
		if end == len(part) {
			if _, err := l.in.Discard(end); err != nil {
				return nil, err
			}
			continue
		}
		l.number++
		return l.line, l.skipEnd(end, part[end])
	}
}

// skipEnd discards a line of so many bytes and its end.
func (l *lineReader) skipEnd(length int, sign byte) error {
	if _, err := l.in.Discard(length + 1); err != nil || sign != '\r' {
		return err
	}
	if after, _ := l.in.Peek(1); len(after) == 1 && after[0] == '\n' {
		_, err := l.in.Discard(1)
		return err
	}
	return nil
}

// lineEnd is where the first CR or LF stands, or else the length.
func lineEnd(b []byte) int {
	for i, c := range b {
		if c == '\n' || c == '\r' {
			return i
		}
	}
	return len(b)
}

// keep appends a part to the line as long as it is not too long.
func (l *lineReader) keep(part []byte) {
	room := longestLine - len(l.line)
	l.long = l.long || len(part) > room
	l.line = append(l.line, part[:min(len(part), room)]...)
}
