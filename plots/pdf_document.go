package plots

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"io"
	"strings"
)

// pdfDocument is a file of numbered objects, the first the catalog and the fifth
// the information on the document.
type pdfDocument struct{ objects [][]byte }

// add adds an object and returns its number.
func (d *pdfDocument) add(text string) int {
	d.objects = append(d.objects, []byte(text))
	return len(d.objects)
}

// addStream adds data, compressed, with entries for its dictionary.
func (d *pdfDocument) addStream(entries string, data []byte) error {
	var b bytes.Buffer
	z := zlib.NewWriter(&b)
	if _, err := z.Write(data); err != nil {
		return err
	}
	if err := z.Close(); err != nil {
		return err
	}
	d.add(fmt.Sprintf("<< /Length %d /Filter /FlateDecode %s>>\nstream\n%s\nendstream", b.Len(), entries, b.String()))
	return nil
}

// write writes the file with its table of places.
func (d *pdfDocument) write(w io.Writer) error {
	var b bytes.Buffer
	b.WriteString("%PDF-1.7\n%\xE2\xE3\xCF\xD3\n")
	places := make([]int, len(d.objects))
	for i, object := range d.objects {
		places[i] = b.Len()
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", i+1, object)
	}
	table := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(places)+1)
	for _, at := range places {
		fmt.Fprintf(&b, "%010d 00000 n \n", at)
	}
	fmt.Fprintf(&b, "trailer\n<< /Size %d /Root 1 0 R /Info 5 0 R >>\nstartxref\n%d\n%%%%EOF\n", len(places)+1, table)
	_, err := w.Write(b.Bytes())
	return err
}

// pdfText is a text string in UTF-16, as names and titles want it.
func pdfText(text string) string {
	var b strings.Builder
	b.WriteString("<FEFF")
	for _, u := range utf16Of(printable(text)) {
		fmt.Fprintf(&b, "%04X", u)
	}
	return b.String() + ">"
}
