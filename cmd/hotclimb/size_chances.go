package main

import (
	"context"
	"errors"
	"fmt"

	"github.com/jedib0t/go-pretty/v6/table"
	"hotclimb/sweep"
	"hotclimb/sweep/optimum"
	"hotclimb/sweep/uncertainty"
)

// chanceDraws is how often the doubtful numbers of a flight are drawn, at sizes or
// limits found. A chance of one half is then known within 7 % (90 % interval).
const chanceDraws = 128

// chanceRecord is the doubt of one flight, at sizes or limits found.
type chanceRecord struct {
	Case       string             `json:"case"`
	Draws      int                `json:"draws"`
	Failed     int                `json:"failed_draws"`
	Incomplete int                `json:"incomplete_draws"`
	Turned     int                `json:"turned_draws"`
	Limits     []limitDoubtRecord `json:"limits"`
}

// answer is the design to build, or the best that was found where none is.
func (z *sized) answer() *optimum.Design {
	if b := z.Sized.Build; b != nil {
		return &b.Design
	}
	return &z.Best
}

// draw draws the doubtful numbers of every case at the sizes found. A case
// without any has none.
func (z *sized) draw(ctx context.Context) error {
	levels := make([]sweep.Level, len(z.Factors))
	for i, x := range z.answer().X {
		levels[i].Number = x
	}
	z.spreads = make([]*uncertainty.FlightSpread, len(z.Cases))
	for k := range z.Cases {
		sc, err := sweep.Set(z.Cases[k].Scenario, z.Factors, levels)
		if err != nil {
			return err
		}
		z.spreads[k], err = uncertainty.OfFlight(ctx, sc, uncertainty.FlightSettings{
			Draws: chanceDraws, Seed: z.Seed, Workers: z.Workers, Sim: z.Sim, Flown: z.Flown,
		})
		if err != nil && !errors.Is(err, uncertainty.ErrNoDoubt) {
			return fmt.Errorf("case %s with its doubtful numbers drawn: %w", z.Cases[k].Name, err)
		}
	}
	return nil
}

// allFlights is how many flights were flown, draws among them.
func (z *sized) allFlights() int {
	n := z.Flights()
	for _, s := range z.spreads {
		if s != nil {
			n += 1 + s.Draws
		}
	}
	return n
}

// chances adds the chance to exceed each limit at the sizes found.
func (p *sizePage) chances() {
	var names []string
	var spreads []*uncertainty.FlightSpread
	for k, s := range p.spreads {
		if s != nil {
			names, spreads = append(names, p.Cases[k].Name), append(spreads, s)
		}
	}
	if spreads != nil {
		p.line("")
		p.page.chances("Chance to exceed a limit at these sizes", names, spreads)
	}
}

// chances adds the chance of some flights to exceed each limit.
func (p *page) chances(title string, names []string, spreads []*uncertainty.FlightSpread) {
	var rows []table.Row
	var notes []string
	for k, s := range spreads {
		row := table.Row{names[k], "-", "-", "-", chance(s.Least.Passed)}
		for i := range s.Margins {
			row[1+i] = chance(s.Margins[i].Passed)
		}
		rows = append(rows, row)
		if n := len(s.Failures); n > 0 {
			notes = append(notes, fmt.Sprintf("%s: %d of %d draws failed, as the first: %v", names[k], n, s.Draws, s.Failures[0].Err))
		}
		if s.Incomplete > 0 {
			notes = append(notes, fmt.Sprintf("%s: in %d of %d draws a leg did not reach its end", names[k], s.Incomplete, s.Draws))
		}
	}
	p.line("%s, with all doubtful numbers drawn %d", title, chanceDraws)
	p.line("times (its 90 %% interval):")
	p.table(1, table.Row{"", "coolant", "oil", "boiling", "any"}, rows)
	for _, n := range notes {
		p.item("%s", n)
	}
}

// chanceRecords are the chances for programs.
func (z *sized) chanceRecords() []chanceRecord {
	var list []chanceRecord
	for k, s := range z.spreads {
		if s != nil {
			list = append(list, chanceRecordOf(z.Cases[k].Name, s))
		}
	}
	return list
}

func chanceRecordOf(name string, s *uncertainty.FlightSpread) chanceRecord {
	r := chanceRecord{name, s.Draws, len(s.Failures), s.Incomplete, s.Turned, nil}
	for i := range s.Margins {
		r.Limits = append(r.Limits, limitDoubt(s.Margins[i].Limit, &s.Margins[i]))
	}
	r.Limits = append(r.Limits, limitDoubt(anyLimit, &s.Least))
	return r
}
