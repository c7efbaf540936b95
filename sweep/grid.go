package sweep

// grid is every combination of the values of its factors; the last factor
// changes fastest.
type grid struct {
	factors []Factor
	n       int
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

// Grid returns every combination of the values of the factors, of which there
// must be fewer than 2^53.
func Grid(factors []Factor) (Designs, error) {
	n := 1
	for _, f := range factors {
		n *= values(f)
	}
	return &grid{factors, n}, nil
}

func (g *grid) Len() int { return g.n }

func (g *grid) At(i int, levels []Level) {
	for k := len(g.factors) - 1; k >= 0; k-- {
		m := values(g.factors[k])
		levels[k] = level(g.factors[k], i%m)
		i /= m
	}
}
