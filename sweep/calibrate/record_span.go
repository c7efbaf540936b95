package calibrate

import (
	"cmp"
	"fmt"
	"maps"
	"slices"

	"hotclimb/scenarios"
)

// moments are the rows of a record: of a log, or readings by hand by time.
type moments interface {
	Len() int
	Time(i int) float64                  // [s]
	Line(i int) int                      // of the log; 0 by hand
	value(k, i int) (v float64, ok bool) // of a channel
}

// byHand are readings by hand, by time.
type byHand []*scenarios.TestPoint

func (h byHand) Len() int           { return len(h) }
func (h byHand) Time(i int) float64 { return h[i].Time.Value }
func (h byHand) Line(int) int       { return 0 }

func (h byHand) value(k, i int) (float64, bool) {
	p := h[i]
	n := map[int]scenarios.Number{
		altitude: p.Altitude.Number, speed: p.Speed.Number, outside: p.Outside.Number, power: p.Power.Number,
		coolant: p.Coolant.Number, oil: p.Oil.Number,
	}[k]
	return n.Value, n.Known
}

// momentsOf are those of a test, of its log when it has one.
func momentsOf(t *scenarios.Test, log *Log) moments {
	if log != nil {
		return log
	}
	return byHand(slices.SortedFunc(maps.Values(t.Points), func(a, b *scenarios.TestPoint) int {
		return cmp.Compare(a.Time.Value, b.Time.Value)
	}))
}

// span is a record in the making: moments first to before end, in times since
// the first.
type span struct {
	moments
	first, end int
}

// each calls fn for every reading of a channel.
func (s span) each(k int, fn func(i int, t, v float64)) {
	for i := s.first; i < s.end; i++ {
		if v, ok := s.value(k, i); ok {
			fn(i, s.Time(i)-s.Time(s.first), v)
		}
	}
}

// read leaves out what stands before every circuit that is read at all has been
// read, and what stands after the last such reading.
func (s span) read() span {
	read := span{s.moments, s.first, s.first}
	for _, k := range circuits {
		first, end := -1, s.first
		s.each(k, func(i int, _, _ float64) {
			if end = i + 1; first < 0 {
				first = i
			}
		})
		read.first, read.end = max(read.first, first), max(read.end, end)
	}
	return read
}

// span is that of the record.
func (r *Record) span() span { return span{momentsOf(r.Test, r.Log), r.First, r.end} }

// broken is the longest interval without a row that a record flies over [s]. Nobody
// knows how the aircraft was flown in a longer one, or whether its engine ran, and
// temperatures settle in it: engineering judgement.
const broken = 300.0

// unbroken is the longest part of a log without such an interval. The others are
// told. Readings by hand may be as far apart as they like.
func (r *Record) unbroken(s span) span {
	if r.Log == nil {
		return s
	}
	best, first := span{s.moments, s.first, s.first}, s.first
	for i := s.first + 1; i <= s.end; i++ {
		if i < s.end && s.Time(i)-s.Time(i-1) <= broken {
			continue
		}
		if best.end == best.first || s.Time(i-1)-s.Time(first) > s.Time(best.end-1)-s.Time(best.first) {
			best.first, best.end = first, i
		}
		first = i
	}
	r.leaves(s, s.first, best.first)
	r.leaves(s, best.end, s.end)
	return best
}

// leaves notes rows that are not part of the record.
func (r *Record) leaves(s span, first, end int) {
	if first < end {
		r.Notes = append(r.Notes, fmt.Sprintf("lines %d-%d are left out: more than %.0f s without a row part them from the longest stretch of the log; to use them, give them a log and a test of their own",
			s.Line(first), s.Line(end-1), broken))
	}
}

// tooShort says that a record has too few readings and, of a log, why.
func (r *Record) tooShort() error {
	why := ""
	if r.Log != nil {
		why = firstFault(r.Log.Faults)
	}
	return fmt.Errorf("test %s: fewer than two readings of a fluid's temperature%s; give more", r.Name, why)
}
