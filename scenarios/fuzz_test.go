package scenarios

import "testing"

// FuzzParse reads any text as any kind: it never panics, and what it accepts
// prints as a text that reads as the same numbers.
func FuzzParse(f *testing.F) {
	kind := func(d *Dimension) (i uint8) {
		for i = range uint8(len(dimensions)) {
			if dimensions[i] == d {
				return i
			}
		}
		return 0
	}
	for _, c := range accepted {
		f.Add(c.text, kind(c.d))
	}
	for _, c := range refused {
		f.Add(c.text, kind(c.d))
	}
	f.Fuzz(func(t *testing.T, text string, i uint8) {
		d := dimensions[int(i)%len(dimensions)]
		n, err := Parse(text, d)
		if err != nil {
			if err.Error() == "" {
				t.Fatalf("%q is refused without a word", text)
			}
			return
		}
		_ = n.Format(d)
		printed := n.Exact(d)
		again, err := Parse(printed, d)
		if err != nil {
			t.Fatalf("%q prints as %q: %v", text, printed, err)
		}
		if !sameNumber(n, again, d) {
			t.Fatalf("%q is %.17g ± %.17g, prints as %q and reads as %.17g ± %.17g",
				text, n.Value, n.Doubt, printed, again.Value, again.Doubt)
		}
	})
}
