package main

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"hotclimb/plots"
	"hotclimb/sim"
	"hotclimb/sweep"
	"hotclimb/sweep/optimum"
	"hotclimb/sweep/uncertainty"
)

// writeText writes the limits for people, as a screen can show them.
func (o *limitsOutcome) writeText(w io.Writer, s *screen) error {
	p := &page{screen: s, units: o.units}
	p.line("%s", p.paint(bold, o.scenario.Title))
	p.line("")
	p.climbLimits(o)
	p.line("")
	p.unlimitedMeans()
	p.cautions(o.table.Spray != nil)
	_, err := w.Write(p.Bytes())
	return err
}

// climbLimits adds all that was found of a climb.
func (p *page) climbLimits(o *limitsOutcome) {
	t := o.table
	title := t.Case
	if t.Title != "" {
		title += " - " + t.Title
	}
	p.line("%s: limits of the climb, leg %s", p.paint(bold, title), t.Leg)
	p.unlimited(t)
	p.keptDoubt(o)
	p.line("")
	p.ceilings(t)
	p.line("")
	p.slowest(t)
	if t.Spray != nil {
		p.line("")
		p.sprayLimits(t.Spray)
	}
	if len(o.others) > 0 {
		p.line("")
		p.line("  Other cases with a climb%s: %s", p.flag("--case"), strings.Join(o.others, ", "))
	}
}

// unlimited adds the answer for the climb as filed.
func (p *page) unlimited(t *optimum.LimitTable) {
	filed := &t.Filed
	head, at, rest := ceilingWords(p.units, &t.Own)
	p.item("%s%s", strings.ToUpper(head), p.paint(bold, at)+rest)
	if t.Spray != nil {
		p.item("That is without spray, of which more below.")
	}
	switch leg, before := t.Elsewhere(); {
	case leg == "":
	case before:
		p.item("Just above that the limit is passed before the climb begins, in leg %s:", leg)
		p.goesOn("another climb speed does not help.")
	default:
		p.item("Just above that the limit is passed after the climb, in leg %s.", leg)
	}
	colours := map[sim.Status]colour{sim.WithinLimits: green, sim.Caution: yellow, sim.OverLimit: red}
	p.item("On the day of the file, %s, as filed: %s, margin %s (%s)", temperature.Show(p.units, filed.Temperature),
		p.paint(colours[filed.Status], strings.ToUpper(string(filed.Status))), difference.Show(p.units, filed.Margin), filed.By)
}

// ceilingWords are up to which temperature a climb is unlimited, in three parts: the
// words before the temperature, the temperature and the rest.
func ceilingWords(u plots.Units, l *optimum.LimitRow) (head, at, rest string) {
	degrees := temperature.Show(u, l.Temperature)
	where := fmt.Sprintf(" at %s from %s", airspeed.Show(u, l.Speed), height.Show(u, l.Elevation))
	switch l.Bound {
	case optimum.Found:
		return "unlimited up to ", degrees, where + "; then " + limiter(l.By)
	case optimum.Hotter:
		return "unlimited", "", where + ": no limit up to " + degrees
	case optimum.Colder:
		return "never unlimited", "", where + ": " + limiter(l.By) + " even at " + degrees
	}
	return "no climb", "", where + ": " + l.Trouble
}

// unlimitedMeans says what is meant by that.
func (p *page) unlimitedMeans() {
	p.line("Unlimited: the whole flight of the case, as filed to its top, passes no limit of")
	p.line("coolant or oil and does not boil. The speeds are for cooling; they say nothing of")
	p.line("the stall.")
}

// keptDoubt says what is kept on top.
func (p *page) keptDoubt(o *limitsOutcome) {
	t := o.table
	if t.Doubt == 0 {
		return
	}
	p.item("All but that is with %s of doubt kept on top of every margin.", deviations(t.Doubt))
	if s := t.Own.Spread; s != nil {
		parts := []string{
			"coolant " + difference.Show(p.units, s.Circuits[sweep.Coolant]), "oil " + difference.Show(p.units, s.Circuits[sweep.Oil]),
		}
		if s.Boil > 0 {
			parts = append(parts, "boiling "+difference.Show(p.units, s.Boil))
		}
		p.item("One is, for the climb as filed, %s.", strings.Join(parts, ", "))
	}
	if o.spread != nil {
		p.line("")
		p.chances("Chance to exceed a limit at "+temperature.Show(p.units, t.Own.Temperature),
			[]string{t.Case}, []*uncertainty.FlightSpread{o.spread})
	}
}

// limiter says what limits.
func limiter(by string) string {
	switch by {
	case optimum.ByBoiling:
		return "the coolant boils"
	case optimum.ByClimb:
		return "the aircraft does not reach the end of a leg"
	case optimum.ByStall:
		return "the aircraft cannot fly"
	case optimum.ByFault:
		return "a flight cannot be computed"
	}
	return by + " limits"
}

// ceilings adds the table of highest temperatures and of minutes above them.
func (p *page) ceilings(t *optimum.LimitTable) {
	d := difference.In(p.units)
	header := table.Row{"limited by", "field " + height.In(p.units).Name, "climb " + airspeed.In(p.units).Name,
		"up to " + temperature.In(p.units).Name, "top min"}
	for _, step := range t.Above {
		header = append(header, "+"+d.Number(step))
	}
	var rows []table.Row
	for i := range t.Rows {
		r := &t.Rows[i]
		row := table.Row{rowLimiter(r.By), height.In(p.units).Number(r.Elevation), airspeed.In(p.units).Number(r.Speed),
			p.highest(&r.Ceiling), minutesOf(r.ClimbTime)}
		for k := range t.Above {
			row = append(row, minutesAbove(r, k))
		}
		rows = append(rows, row)
	}
	p.heads("  Highest field temperature for an unlimited climb, the minutes it takes, and\n"+
		"  on days hotter than that by so many %s the minutes of climb to the limit:", d.Name)
	p.line("")
	p.table(1, header, rows)
	for _, by := range []string{optimum.ByClimb, optimum.ByStall, optimum.ByFault} {
		if slices.ContainsFunc(t.Rows, func(r optimum.LimitRow) bool { return r.By == by }) {
			p.item("%s: %s", rowLimiter(by), limiter(by))
		}
	}
	if slices.ContainsFunc(t.Rows, passedBefore) {
		p.item("0.0: the limit is passed before the climb begins")
	}
}

// passedBefore says that on a hotter day the limit is passed before the climb.
func passedBefore(r optimum.LimitRow) bool {
	return slices.ContainsFunc(r.Above, func(a optimum.TimeAbove) bool { return a.Time == 0 })
}

// rowLimiter is what limits a row, in one or two words.
func rowLimiter(by string) string {
	switch by {
	case optimum.ByClimb:
		return "no top"
	case optimum.ByStall:
		return "too slow"
	case optimum.ByFault:
		return "no answer"
	}
	return by
}

// highest prints a highest temperature.
func (p *page) highest(c *optimum.Ceiling) string {
	text := temperature.In(p.units).Number(c.Temperature)
	switch c.Bound {
	case optimum.Hotter:
		return "above " + text
	case optimum.Colder:
		return "below " + text
	case optimum.NoClimb:
		return "none"
	}
	return text
}

// minutesAbove prints the minutes of one step above the highest temperature.
func minutesAbove(r *optimum.LimitRow, step int) string {
	if step >= len(r.Above) {
		return "-"
	}
	return minutesOf(r.Above[step].Time)
}

// minutesOf prints a time as minutes to a tenth, rounded down; - when unknown.
func minutesOf(seconds float64) string {
	if math.IsNaN(seconds) {
		return "-"
	}
	return fmt.Sprintf("%.1f", math.Floor(seconds/6)/10)
}

// slowest adds the slowest safe climb speeds.
func (p *page) slowest(t *optimum.LimitTable) {
	without := ""
	if t.Spray != nil {
		without = ", without spray"
	}
	p.line("  Slowest safe climb in the air of the day of the file%s:", without)
	for i := range t.Slowest {
		s := &t.Slowest[i]
		p.item("%10s, %8s:  %s", height.Show(p.units, s.Elevation), temperature.Show(p.units, s.Temperature), p.slowClimb(s))
	}
}

func (p *page) slowClimb(s *optimum.SlowClimb) string {
	speed := airspeed.Show(p.units, s.Speed)
	switch {
	case math.IsNaN(s.Speed):
		return "no speed looked at climbs to the top"
	case s.Bound == optimum.SlowestNone:
		return fmt.Sprintf("none: %s even at %s, the fastest looked at", limiter(s.By), speed)
	case s.Bound == optimum.SlowestAny:
		return speed + " or slower: every speed looked at is safe"
	}
	return fmt.Sprintf("%s; below that %s", speed, limiter(s.By))
}
