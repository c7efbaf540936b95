package scenarios

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// VaryRange is what a path takes in a sweep or between which bounds a search
// moves it.
type VaryRange struct {
	Param  Param
	Lo, Hi float64   // least and greatest value, SI
	Values []float64 // the values in order, SI; nil for bounds alone
	Words  []string  // the words in order, for a parameter that is a word
}

// most is the greatest number of values of one path in a sweep.
const mostValues = 10000

// ParseVary reads what a path takes:
//
//	10 in^2..20 in^2:6       six values, evenly spaced, both ends included
//	10..20 in^2:6            one unit serves both ends
//	10 in^2, 12 in^2, 15 in^2   these values; one unit at the end serves all
//	coolant, oil             these words
//	10 in^2..20 in^2         bounds alone, for a search
//
// The values must be in the range of the path. They are taken as known.
func ParseVary(text string, p Param) (VaryRange, error) {
	v := VaryRange{Param: p}
	if !p.IsNumber() {
		return v, v.words(text)
	}
	lo, rest, isRange := strings.Cut(text, "..")
	if !isRange {
		return v, v.list(text)
	}
	hi, count, counted := strings.Cut(rest, ":")
	ends, err := p.values([]string{lo, hi})
	if err != nil {
		return v, err
	}
	v.Lo, v.Hi = ends[0], ends[1]
	if v.Lo >= v.Hi {
		return v, fmt.Errorf("%q does not rise: write LOW..HIGH", text)
	}
	if !counted {
		return v, nil
	}
	return v, v.space(strings.TrimSpace(count))
}

// space lays count values evenly between the bounds.
func (v *VaryRange) space(count string) error {
	n, err := strconv.Atoi(count)
	if err != nil || n < 2 || n > mostValues {
		return fmt.Errorf("%q is no number of values: write LOW..HIGH:COUNT with a count from 2 to %d", count, mostValues)
	}
	v.Values = make([]float64, n)
	for i := range v.Values {
		x := float64(i) / float64(n-1)
		v.Values[i] = v.Lo*(1-x) + v.Hi*x
	}
	return v.wholePieces()
}

// wholePieces refuses values that stand for a part of a piece.
func (v *VaryRange) wholePieces() error {
	if !v.Param.Whole {
		return nil
	}
	for i, x := range v.Values {
		v.Values[i] = math.Round(x)
		if math.Abs(x-v.Values[i]) > 1e-9 {
			return fmt.Errorf("%.4g is no whole number of pieces: write a COUNT or a list that gives whole ones", x)
		}
	}
	return nil
}

// list reads values separated by commas.
func (v *VaryRange) list(text string) error {
	values, err := v.Param.values(strings.Split(text, ","))
	if err != nil {
		return err
	}
	if len(values) > mostValues {
		return fmt.Errorf("%d values are too many: at most %d", len(values), mostValues)
	}
	v.Values, v.Lo, v.Hi = values, slices.Min(values), slices.Max(values)
	return v.wholePieces()
}

// words reads words separated by commas.
func (v *VaryRange) words(text string) error {
	for word := range strings.SplitSeq(text, ",") {
		word = strings.TrimSpace(word)
		if v.Param.Words != nil && !slices.Contains(v.Param.Words, word) {
			return fmt.Errorf("%q is not one of its words (%s)", word, knownWords(word, v.Param.Words))
		}
		v.Words = append(v.Words, word)
	}
	return nil
}

// values reads numbers of the parameter; those without a unit take that of the
// last one.
func (p Param) values(texts []string) ([]float64, error) {
	last, err := Parse(texts[len(texts)-1], p.Dimension)
	if err != nil {
		return nil, err
	}
	values := make([]float64, len(texts))
	for i, text := range texts {
		if _, err := strconv.ParseFloat(strings.TrimSpace(text), 64); err == nil {
			text += " " + last.Unit
		}
		n, err := Parse(text, p.Dimension)
		if err != nil {
			return nil, err
		}
		if message, hint := p.leaf().outside(n); message != "" {
			return nil, fmt.Errorf("%s (%s)", message, hint)
		}
		values[i] = n.Value
	}
	return values, nil
}
