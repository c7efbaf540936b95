package sweep

import (
	"fmt"
	"math"
	"strings"
	"sync"
	"testing"

	"hotclimb/scenarios"
)

// numberAt, piecesAt and wordAt are parameters without a scenario.
func numberAt(path string) scenarios.Param {
	return scenarios.Param{Path: path, Dimension: &scenarios.Dimension{}}
}

func piecesAt(path string) scenarios.Param {
	p := numberAt(path)
	p.Whole = true
	return p
}

func wordAt(path string) scenarios.Param { return scenarios.Param{Path: path} }

// mixedFactors are factors of every sort.
var mixedFactors = []Factor{
	{Param: numberAt("a"), Lo: 10, Hi: 20},
	{Param: numberAt("b"), Lo: 1, Hi: 3, Values: []float64{1, 3, 2}},
	{Param: wordAt("c"), Words: []string{"coolant", "oil"}},
	{Param: piecesAt("d"), Lo: 2, Hi: 6},
}

func mustDesigns(t testing.TB, kind string, factors []Factor, points int, seed uint64) Designs {
	t.Helper()
	d, err := NewDesigns(kind, factors, points, seed)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// designText is design i as text.
func designText(d Designs, i, factors int) string {
	levels := make([]Level, factors)
	d.At(i, levels)
	return fmt.Sprint(levels)
}

// TestDrawnLevels: values, words and whole numbers come equally often, bounds
// are kept and filled.
func TestDrawnLevels(t *testing.T) {
	const n = 600 // a multiple of 3, 2 and 5
	for _, kind := range []string{LatinDesign, SobolDesign} {
		d := mustDesigns(t, kind, mixedFactors, n, 3)
		count := map[string]int{}
		least, most := math.Inf(1), math.Inf(-1)
		levels := make([]Level, len(mixedFactors))
		for i := range d.Len() {
			d.At(i, levels)
			least, most = min(least, levels[0].Number), max(most, levels[0].Number)
			for k, l := range levels[1:] {
				count[fmt.Sprint(mixedFactors[k+1].Param.Path, l.Number, l.Word)]++
			}
		}
		if least < 10 || least > 10.02 || most > 20 || most < 19.98 {
			t.Errorf("%s: a from %g to %g", kind, least, most)
		}
		if len(count) != 3+2+5 {
			t.Errorf("%s: levels %v", kind, count)
		}
		for level, times := range count {
			want := map[byte]int{'b': n / 3, 'c': n / 2, 'd': n / 5}[level[0]]
			// the strata of a Latin hypercube share out exactly; 600 Sobol
			// points are 512, spread to within 1, and the first 88 of the next
			if kind == LatinDesign && times != want || math.Abs(float64(times-want)) > 8 {
				t.Errorf("%s: level %s %d times, want %d", kind, level, times, want)
			}
		}
	}
}

// TestDesignsByNumber: a design follows from its number, in any order and by
// several goroutines at once, and differs with the seed.
func TestDesignsByNumber(t *testing.T) {
	const n = 500
	for _, kind := range []string{LatinDesign, SobolDesign} {
		forward := make([]string, n)
		d := mustDesigns(t, kind, mixedFactors, n, 9)
		for i := range n {
			forward[i] = designText(d, i, len(mixedFactors))
		}
		again := mustDesigns(t, kind, mixedFactors, n, 9)
		var wait sync.WaitGroup
		for worker := range 4 {
			wait.Go(func() {
				for i := n - 1 - worker; i >= 0; i -= 4 {
					if got := designText(again, i, len(mixedFactors)); got != forward[i] {
						t.Errorf("%s: design %d is %s, then %s", kind, i, forward[i], got)
					}
				}
			})
		}
		wait.Wait()
		same := 0
		other := mustDesigns(t, kind, mixedFactors, n, 10)
		for i := range n {
			if designText(other, i, len(mixedFactors)) == forward[i] {
				same++
			}
		}
		if same > 0 {
			t.Errorf("%s: %d of %d designs are the same with another seed", kind, same, n)
		}
	}
}

// TestGridOrder: the last factor changes fastest.
func TestGridOrder(t *testing.T) {
	d := mustDesigns(t, GridDesign, mixedFactors[1:3], 0, 0)
	var got []string
	for i := range d.Len() {
		got = append(got, designText(d, i, 2))
	}
	want := "[{1 } {0 coolant}] [{1 } {0 oil}] [{3 } {0 coolant}] [{3 } {0 oil}] [{2 } {0 coolant}] [{2 } {0 oil}]"
	if strings.Join(got, " ") != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// TestWholeNumbersOnly: bounds that are no whole numbers are kept from within.
func TestWholeNumbersOnly(t *testing.T) {
	d := mustDesigns(t, SobolDesign, []Factor{{Param: piecesAt("louvers"), Lo: 2.5, Hi: 4.9}}, 64, 1)
	seen := map[string]bool{}
	for i := range d.Len() {
		seen[designText(d, i, 1)] = true
	}
	if len(seen) != 2 || !seen["[{3 }]"] || !seen["[{4 }]"] {
		t.Errorf("%v, want 3 and 4", seen)
	}
}

func TestDesignFaults(t *testing.T) {
	wide := make([]Factor, SobolDimensions+1)
	for i := range wide {
		wide[i] = mixedFactors[0]
	}
	many := Factor{Param: numberAt("m"), Lo: 0, Hi: 1, Values: make([]float64, 10000)}
	for _, row := range []struct {
		kind    string
		factors []Factor
		points  int
		want    string
	}{
		{GridDesign, nil, 0, "nothing varies: give at least one path and what it takes, as PATH=LOW..HIGH:COUNT"},
		{SobolDesign, nil, 1, "nothing varies: give at least one path and what it takes, as PATH=LOW..HIGH:COUNT"},
		{GridDesign, mixedFactors, 0, "a: has no values for a grid: write LOW..HIGH:COUNT, or a list separated by commas"},
		{GridDesign, []Factor{many, many, many}, 0, "the grid has more than 1000000000 designs: take fewer values, or draw points (latin_hypercube, sobol)"},
		{GridDesign, []Factor{many, many, many, many, many, many}, 0, "the grid has more than 1000000000 designs: take fewer values, or draw points (latin_hypercube, sobol)"},
		{LatinDesign, mixedFactors, 0, "0 points: take 1 to 1000000000"},
		{SobolDesign, mixedFactors, 1000000001, "1000000001 points: take 1 to 1000000000"},
		{SobolDesign, []Factor{{Param: wordAt("w")}}, 1, "w: has no words to draw from: write a list separated by commas"},
		{LatinDesign, []Factor{{Param: piecesAt("n"), Lo: 2.2, Hi: 2.8}}, 1, "n: counts pieces, and no whole number lies from 2.2 to 2.8: widen the bounds"},
		{SobolDesign, wide, 1, "257 dimensions: a Sobol sequence here has 1 to 256"},
		{"spiral", mixedFactors, 1, `design "spiral" is not known: take grid, latin_hypercube or sobol`},
	} {
		_, err := NewDesigns(row.kind, row.factors, row.points, 1)
		if err == nil || err.Error() != row.want {
			t.Errorf("%s: %v, want %s", row.kind, err, row.want)
		}
	}
}

// TestDesignWords: the file takes the kinds and no other word.
func TestDesignWords(t *testing.T) {
	tug, _ := scenarios.Builtin("tug")
	for kind, good := range map[string]bool{GridDesign: true, LatinDesign: true, SobolDesign: true, "spiral": false} {
		_, err := scenarios.Load(tug, scenarios.Source{Name: "over.yaml", Text: []byte("sweep: {design: " + kind + "}")})
		if (err == nil) != good {
			t.Errorf("%s: %v", kind, err)
		}
	}
}

func BenchmarkDesigns(b *testing.B) {
	factors := make([]Factor, 10)
	for i := range factors {
		factors[i] = mixedFactors[0]
	}
	for _, kind := range []string{LatinDesign, SobolDesign} {
		b.Run(kind, func(b *testing.B) {
			d := mustDesigns(b, kind, factors, 1_000_000, 1)
			levels := make([]Level, len(factors))
			b.ReportAllocs()
			for i := 0; b.Loop(); i++ {
				d.At(i%1_000_000, levels)
			}
		})
	}
}

// TestNoAllocation: asking for a design takes no memory.
func TestNoAllocation(t *testing.T) {
	levels := make([]Level, len(mixedFactors))
	for _, kind := range []string{LatinDesign, SobolDesign} {
		d := mustDesigns(t, kind, mixedFactors, 1000, 1)
		if n := testing.AllocsPerRun(100, func() { d.At(777, levels) }); n != 0 {
			t.Errorf("%s: %g allocations", kind, n)
		}
	}
}
