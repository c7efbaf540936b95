package main

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"hotclimb/plots/report"
	"hotclimb/scenarios"
)

// Parts that may be left out of a report.
const (
	rankPart   = "rank"
	sizePart   = "size"
	limitsPart = "limits"
	testsPart  = "tests"
)

// partWords are the words of --without.
var partWords = []string{rankPart, sizePart, limitsPart, testsPart}

// reporting is a report in the making.
type reporting struct {
	file  string
	flown *flightsFinding
	parts []*part
}

// part is one study of a report.
type part struct {
	word  string // for --without
	title string
	finding
	why []string // sentences on why nothing was found; then there is no finding
}

// prepareReport loads a scenario and prepares all that is asked of it. What a part
// lacks is said in it; the error is what is wrong with the whole.
func (f *reportFlags) prepareReport(ctx context.Context, file string) (*reporting, error) {
	filed, err := f.read(file)
	if err != nil {
		return nil, err
	}
	c := f.common
	c.inHand, c.out = filed, ""
	r := &reporting{file: file}
	if r.flown, err = newFlightsFinding(&c, file); err != nil {
		return nil, err
	}
	for _, prepare := range preparations(r.flown.of.scenario) {
		if slices.Contains(f.without, prepare.word) {
			continue
		}
		q := &part{word: prepare.word, title: prepare.title}
		if prepare.lacks != "" {
			q.why = []string{prepare.lacks}
		} else if found, err := prepare.with(ctx, &c, file); err != nil {
			q.why = sentences(err)
		} else {
			q.finding = found
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		r.parts = append(r.parts, q)
	}
	return r, nil
}

// preparation is how a part is prepared.
type preparation struct {
	word, title string
	lacks       string // why it cannot be, "" when it can
	with        func(context.Context, *common, string) (finding, error)
}

// preparations are those of a scenario, in the order of the report.
func preparations(sc *scenarios.Scenario) []preparation {
	list := []preparation{
		{rankPart, "Which change buys most", "",
			func(_ context.Context, c *common, file string) (finding, error) { return newRankFinding(c, file) }},
		{sizePart, "How large the openings must be", noSection(sc.Size == nil, "size", "no openings were sought"),
			func(_ context.Context, c *common, file string) (finding, error) { return newSizeFinding(c, file) }},
		{limitsPart, "What the pilot must know", "",
			func(_ context.Context, c *common, file string) (finding, error) { return newLimitsFinding(c, file) }},
	}
	if len(sc.Tests) == 0 {
		return list
	}
	list = append(list,
		preparation{testsPart, "Test flights: was it the change?", "",
			func(ctx context.Context, c *common, file string) (finding, error) {
				return newCompareFinding(ctx, c, file)
			}},
		preparation{testsPart, "Test flights corrected to a hot day", "",
			func(ctx context.Context, c *common, file string) (finding, error) {
				return newCorrectFinding(ctx, c, file)
			}})
	if sc.Fit == nil {
		return list
	}
	return append(list, preparation{testsPart, "What the test flights teach about the numbers", "",
		func(ctx context.Context, c *common, file string) (finding, error) { return newFitFinding(ctx, c, file) }})
}

// noSection says what a scenario without a section comes without.
func noSection(missing bool, section, so string) string {
	if !missing {
		return ""
	}
	return fmt.Sprintf("The scenario has no section %s, so %s.", section, so)
}

// sentences are those of an error, one for each fault.
func sentences(err error) []string {
	var faults scenarios.Faults
	if !errors.As(err, &faults) {
		return []string{oneLine(err)}
	}
	var list []string
	for _, f := range faults {
		list = append(list, f.Error())
	}
	return list
}

// steps is about how many steps all parts take.
func (r *reporting) steps() int {
	n := r.flown.flights()
	for _, q := range r.parts {
		if q.finding != nil {
			n += q.flights()
		}
	}
	return n
}

// find does all the flying. A part that fails says so in its place.
func (r *reporting) find(ctx context.Context, step func()) error {
	if err := r.flown.find(ctx, step); err != nil {
		return err
	}
	for _, q := range r.parts {
		if q.finding == nil {
			continue
		}
		err := q.find(ctx, step)
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err != nil {
			q.finding, q.why = nil, sentences(err)
		}
	}
	return nil
}

// section is what a part has to say.
func (q *part) section() (report.Section, error) {
	s := report.Section{Title: q.title}
	if q.finding == nil {
		s.Blocks = q.excuse()
		return s, nil
	}
	var err error
	if s.Blocks, err = q.blocks(); err != nil {
		return s, fmt.Errorf("%s: %w", strings.ToLower(q.title), err)
	}
	return s, nil
}

// excuse says why nothing was found.
func (q *part) excuse() []report.Block {
	if len(q.why) == 1 {
		return []report.Block{report.Note(q.why[0])}
	}
	return []report.Block{report.Note("This could not be done:"), report.List(q.why...)}
}
