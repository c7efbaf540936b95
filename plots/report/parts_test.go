package report_test

import (
	"encoding/xml"
	"io"
	"slices"
	"strings"
	"testing"
)

// part is an element of a page.
type part struct {
	name       string
	attributes map[string]string
	within     []string // names of the elements around it
	text       string   // of its own and of all within it
}

// parts reads the elements of a page in the order of their beginnings, and
// fails when they do not nest.
func parts(t *testing.T, page string) []*part {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(page))
	d.Strict = false
	d.AutoClose = []string{"meta"}
	d.Entity = xml.HTMLEntity
	var all, open []*part
	for {
		token, err := d.Token()
		if err == io.EOF {
			if len(open) > 0 {
				t.Fatalf("%s is not closed", open[len(open)-1].name)
			}
			return all
		}
		if err != nil {
			t.Fatal(err)
		}
		switch token := token.(type) {
		case xml.StartElement:
			p := &part{name: token.Name.Local, attributes: map[string]string{}}
			for _, a := range token.Attr {
				p.attributes[a.Name.Local] = a.Value
			}
			for _, o := range open {
				p.within = append(p.within, o.name)
			}
			all, open = append(all, p), append(open, p)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			for _, o := range open {
				o.text += string(token)
			}
		}
	}
}

// named are the elements of a name.
func named(list []*part, name string) []*part {
	return slices.DeleteFunc(slices.Clone(list), func(p *part) bool { return p.name != name })
}
