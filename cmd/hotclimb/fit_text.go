package main

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"hotclimb/plots"
	"hotclimb/scenarios"
	"hotclimb/sweep/calibrate"
)

// fitPage is a result of fit in the making.
type fitPage struct {
	*page
	*fitted
}

// writeText writes the result for people, as a screen can show it.
func (z *fitted) writeText(w io.Writer, s *screen) error {
	p := &fitPage{&page{screen: s, units: z.units}, z}
	p.line("%s", p.paint(bold, z.scenario.Title))
	p.line("")
	p.numbers()
	p.moved()
	p.together()
	p.blind()
	p.residuals()
	p.line("")
	p.hazards()
	p.cautions(false)
	_, err := w.Write(p.Bytes())
	return err
}

// hazards adds the cautions of the flights that are proposed.
func (p *fitPage) hazards() {
	var kinds []calibrate.Hazard
	proposes := false
	for _, a := range p.advised[:min(len(p.advised), mostBlind)] {
		proposes = proposes || a.title != ""
		kinds = append(kinds, a.hazards...)
	}
	if !proposes {
		return
	}
	p.testFlights("watched, and the temperature at which you break off agreed on before.",
		func(h calibrate.Hazard) bool { return slices.Contains(kinds, h) })
}

// paragraph adds a sentence, indented and cut to the width of tables.
func (p *fitPage) paragraph(indent, format string, args ...any) {
	if p.told != nil {
		p.told.sentence(fmt.Sprintf(format, args...))
		return
	}
	for _, line := range broken(fmt.Sprintf(format, args...), lineWidth-len(indent)) {
		p.line("%s%s", indent, line)
	}
}

// numbers adds the table of what was found.
func (p *fitPage) numbers() {
	p.heads("%s sharpened by %s of %s: %s", p.paint(bold, counted(len(p.Numbers), "number")), counted(p.readingCount(), "reading"),
		counted(len(p.set.records), "flight record"), strings.Join(p.dated(), ", "))
	var rows []table.Row
	for i := range p.Numbers {
		n := &p.Numbers[i]
		rows = append(rows, table.Row{
			n.Param.Path, p.number(n, n.Before, n.Doubt), p.number(n, n.After, n.Left),
			fmt.Sprintf("%.0f %%", 100*n.Sharpened()), fmt.Sprintf("%+.1f", n.Moved()),
		})
	}
	p.table(1, table.Row{"", "before", "after", "doubt left", "moved"}, rows)
	p.item("±: one standard deviation; moved: in doubts before")
	if p.loss != "squares" {
		p.item("loss: %s, readings far out count less than their square", p.loss)
	}
	if n := len(p.Others); n > 0 {
		p.paragraph("  ", "%s kept as filed. The doubts above take them as known.", otherNumbers(n))
	}
}

func otherNumbers(n int) string {
	if n == 1 {
		return "1 other doubtful number is"
	}
	return fmt.Sprintf("%d other doubtful numbers are", n)
}

// number is a value with its doubt in the unit of the scenario.
func (p *fitPage) number(n *calibrate.SharpNumber, value, doubt float64) string {
	return plots.Pretty(scenarios.Number{Value: value, Doubt: doubt, Unit: n.Unit}.Format(n.Param.Dimension))
}

// farMove is from how many doubts before a number counts as moved far: 1 in 20
// does where all is well.
const farMove = 2.0

// moved adds the numbers that went far or rest at a bound.
func (p *fitPage) moved() {
	var far, held []string
	for i := range p.Numbers {
		n := &p.Numbers[i]
		if math.Abs(n.Moved()) > farMove {
			far = append(far, fmt.Sprintf("%s moved by %.1f of its doubt before", n.Param.Path, math.Abs(n.Moved())))
		}
		if n.Bound != 0 {
			held = append(held, fmt.Sprintf("%s rests %s, %s", n.Param.Path, heldAt(n), p.number(n, n.After, 0)))
		}
	}
	if len(far)+len(held) == 0 {
		return
	}
	p.line("")
	if len(far) > 0 {
		p.paragraph("", "%s: it was known less well than its doubt said, or the model lacks something and blames this.", andList(far))
	}
	if len(held) > 0 {
		p.paragraph("", "%s: the readings would go on beyond it, and its doubt is not to be trusted.", andList(held))
	}
}

func heldAt(n *calibrate.SharpNumber) string {
	return map[int]string{-1: "at its least value", 1: "at its greatest value"}[n.Bound]
}

// strongly is from which size on correlations are listed, at most mostPairs.
const (
	strongly  = 0.5
	mostPairs = 12
)

// together adds the numbers whose doubts go together.
func (p *fitPage) together() {
	var pairs [][2]int
	rho := func(pair [2]int) float64 { return p.Correlation.At(pair[0], pair[1]) }
	for k := range p.Numbers {
		for j := range k {
			if pair := [2]int{j, k}; math.Abs(rho(pair)) > strongly {
				pairs = append(pairs, pair)
			}
		}
	}
	if len(pairs) == 0 {
		return
	}
	slices.SortStableFunc(pairs, func(a, b [2]int) int { return cmp.Compare(math.Abs(rho(b)), math.Abs(rho(a))) })
	var rows []table.Row
	for _, pair := range pairs {
		rows = append(rows, table.Row{p.Numbers[pair[0]].Param.Path, p.Numbers[pair[1]].Param.Path, fmt.Sprintf("%+.2f", rho(pair))})
	}
	p.line("")
	p.heads("Doubts that go together now:")
	more := len(rows) - mostPairs
	p.table(2, table.Row{"", "", "correlation"}, rows[:min(len(rows), mostPairs)])
	if more > 0 {
		p.line("  and %d more%s", more, p.flag("--format json has all"))
	}
}

// mostBlind is how many of the ways in which numbers go together unseen are told.
const mostBlind = 3

// blind adds what the flights cannot tell apart.
func (p *fitPage) blind() {
	if len(p.Blind) == 0 {
		return
	}
	p.line("")
	p.line("What these flights cannot tell apart, what matters most for the hot climb first:")
	for i := range p.Blind[:min(len(p.Blind), mostBlind)] {
		p.paragraph("  ", "%s", p.inseparable(&p.Blind[i]))
		a := p.advised[i]
		if a.title == "" {
			p.paragraph("    ", "No flight that next would propose helps much.")
			continue
		}
		p.paragraph("    ", "Fly once: %s. It would leave %.0f %% of that doubt.", a.title, 100*a.after/a.now)
		if a.caution != "" {
			p.paragraph("    ", "Caution: %s", a.caution)
		}
	}
	if more := len(p.Blind) - mostBlind; more > 0 {
		p.line("  and %d more%s", more, p.flag("--format json has all"))
	}
}

// inseparable says in words which numbers stand in for each other and how.
func (p *fitPage) inseparable(b *calibrate.BlindSpot) string {
	var ways [2][]string // those that go the way of the first, and those against it
	for i, k := range b.Numbers {
		way := 0
		if b.Ways[i]*b.Ways[0] < 0 {
			way = 1
		}
		ways[way] = append(ways[way], inWords(p.Numbers[k].Param.Path))
	}
	all := "The " + andList(slices.Concat(ways[0], ways[1])) + " cannot be separated by these flights: "
	how := "all up, or all down"
	switch with, against := len(ways[0]), len(ways[1]); {
	case with == 2 && against == 0:
		how = "both up, or both down"
	case with == 1 && against == 1:
		how = "one up, the other down"
	case against == 1:
		how = "the last down, the others up"
	case with == 1:
		how = "the first up, the others down"
	case against > 0:
		how = fmt.Sprintf("the first %d up, the others down", with)
	}
	if !b.Whole {
		how += ", and others a little"
	}
	return all + how + ", and the gauges read the same."
}
