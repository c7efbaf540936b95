package sweep

import (
	"errors"
	"fmt"
)

// errNothingVaries is the error of designs without factors.
var errNothingVaries = errors.New("nothing varies: give at least one path and what it takes, as PATH=LOW..HIGH:COUNT")

// grid is every combination of the values of its factors; the last factor
// changes fastest.
type grid struct {
	factors []Factor
	n       int
}

// Grid returns every combination of the values of the factors.
func Grid(factors []Factor) (Designs, error) {
	if len(factors) == 0 {
		return nil, errNothingVaries
	}
	n := 1
	for _, f := range factors {
		m := values(f)
		if m == 0 {
			return nil, fmt.Errorf("%s: has no values for a grid: write LOW..HIGH:COUNT, or a list separated by commas", f.Param.Path)
		}
		if n > mostPoints/m {
			return nil, fmt.Errorf("the grid has more than %d designs: take fewer values, or draw points (%s, %s)", mostPoints, LatinDesign, SobolDesign)
		}
		n *= m
	}
	return &grid{factors, n}, nil
}

// values is how many values or words a factor takes.
func values(f Factor) int { return max(len(f.Values), len(f.Words)) }

// level is value i of a factor.
func level(f Factor, i int) Level {
	if f.Words != nil {
		return Level{Word: f.Words[i]}
	}
	return Level{Number: f.Values[i]}
}

func (g *grid) Len() int { return g.n }

func (g *grid) At(i int, levels []Level) {
	for k := len(g.factors) - 1; k >= 0; k-- {
		m := values(g.factors[k])
		levels[k] = level(g.factors[k], i%m)
		i /= m
	}
}
