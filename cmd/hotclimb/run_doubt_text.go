package main

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"hotclimb/sweep"
	"hotclimb/sweep/uncertainty"
)

// spread adds how far the flight of a case spreads by its doubts.
func (p *page) spread(f *flown) {
	s := f.spread
	if s == nil {
		return
	}
	t, d := temperature.In(p.units), difference.In(p.units)
	between := func(u unit, lo, hi float64) string { return u.Number(lo) + " to " + u.Number(hi) }
	var rows []table.Row
	for i := range s.Margins {
		m := &s.Margins[i]
		name, peak := m.Limit, "-"
		if i < len(s.Peaks) {
			k := &s.Peaks[i]
			name, peak = channelName(k.Channel), between(t, k.Low, k.High)
		}
		rows = append(rows, spreadRow(name, peak, d, m))
	}
	rows = append(rows, spreadRow("any limit", "-", d, &s.Least))
	p.line("")
	p.line("  With %s drawn within their doubts %d times: 5 to 95 %% of the draws,", counted(len(s.Doubts.Params), "number"), s.Draws)
	p.line("  one standard deviation, and the chance to exceed the limit (its 90 %% interval):")
	p.table(1, table.Row{"", "peak " + t.Name, "margin " + d.Name, "± " + d.Name, "over limit"}, rows)
	if n := len(s.Failures); n > 0 {
		p.line("  %d of %d draws failed, as the first: %v", n, s.Draws, s.Failures[0].Err)
	}
	if s.Turned > 0 {
		p.line("  %d of %d draws cannot be as drawn; all their numbers were taken as far on the", s.Turned, s.Draws)
		p.line("  other side of what the file has.")
	}
	if s.Incomplete > 0 {
		p.line("  In %d of %d draws a leg did not reach its end.", s.Incomplete, s.Draws)
	}
}

func spreadRow(name, peak string, d unit, m *uncertainty.MarginSpread) table.Row {
	return table.Row{name, peak, d.Number(m.Low) + " to " + d.Number(m.High), d.Number(m.Deviation), chance(m.Passed)}
}

// leastShare is that of the variance below which a number is not listed.
const leastShare = 0.01

// sources adds where the doubt of the least margins comes from.
func (p *page) sources(d *doubt) {
	if d == nil {
		return
	}
	d.each(func(s source) {
		p.line("")
		p.note(s.sentence())
		var rows []table.Row
		for i := range s.Shares {
			if k := &s.Shares[i]; k.Total.Value >= leastShare {
				rows = append(rows, table.Row{s.shareName(k), percent(k.First.Value), chance(k.Total)})
			}
		}
		if s.Deviation > 0 {
			p.table(1, table.Row{"share of the variance", "alone", "in all"}, rows)
		}
		if s.Dropped > 0 {
			p.line("  %d of %d points count nothing, as a flight of theirs failed.", s.Dropped, s.Points)
		}
	})
	if len(d.sources) > 0 {
		p.line("  In all is with its 90 %% interval. Alone is known less well, and may come out")
		p.line("  above it.")
	}
	p.line("")
	p.line("Status and exit status are those of the flights with all numbers as they stand.")
}

// shareName is what a share belongs to, on a line: of many that go together the
// one that does most, by slopes, stands for all.
func (s *caseSource) shareName(k *uncertainty.Share) string {
	switch n := len(k.Inputs); {
	case k.Name == uncertainty.AllOthers:
		return fmt.Sprintf("the other %d", n)
	case n > 2:
		first := slices.MaxFunc(k.Inputs, func(a, b int) int { return cmp.Compare(s.steepness(a), s.steepness(b)) })
		return fmt.Sprintf("%s and %d more, together", s.Doubts.Params[first].Path, n-1)
	case n > 1:
		return k.Name + ", together"
	}
	return k.Name
}

// steepness is how much a number alone does to the margins of the sensors [K].
func (s *caseSource) steepness(input int) float64 {
	by := s.Slopes.By[input]
	return max(math.Abs(by[sweep.Coolant]), math.Abs(by[sweep.Oil]))
}

// mostNamed is how many numbers a sentence names.
const mostNamed = 3

// sentence says in words where the doubt of a margin comes from.
func (s source) sentence() string {
	of := fmt.Sprintf("the doubt of the %s margin in %s", s.Limit, s.name)
	if s.Deviation == 0 {
		return "No doubtful number moves the " + s.Limit + " margin in " + s.name + "."
	}
	var parts []string
	sum := 0.0
	for i := range s.Shares {
		k := &s.Shares[i]
		if len(parts) == mostNamed || sum >= 0.5 {
			break
		}
		if k.Name == uncertainty.AllOthers || k.Total.Value < leastShare {
			continue
		}
		name := k.Name
		if len(k.Inputs) > 1 {
			name += " together, as their correlations tie them"
		}
		parts = append(parts, fmt.Sprintf("%s (%s)", name, percent(k.Total.Value)))
		sum += k.Total.Value
	}
	switch {
	case parts == nil:
		return "T" + of[1:] + " comes from many numbers, none of which does much."
	case sum < 0.5:
		return "T" + of[1:] + " comes from many numbers; most do " + andList(parts) + "."
	}
	return "Most of " + of + " comes from " + andList(parts) + "."
}

// andList joins words as in a, b and c.
func andList(words []string) string {
	last := len(words) - 1
	if last <= 0 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:last], ", ") + " and " + words[last]
}
