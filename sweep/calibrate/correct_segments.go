package calibrate

import "math"

// SegmentKind is what a stretch of a record is.
type SegmentKind int

// The kinds of segment. One stretch may be both.
const (
	Climb   SegmentKind = iota // the altitude rises
	Settled                    // no fluid changes by 2 °F/min or more
)

func (k SegmentKind) String() string {
	if k == Settled {
		return "settled"
	}
	return "climb"
}

// Segment is a stretch of a record.
type Segment struct {
	Kind       SegmentKind
	First, End int     // rows First to before End
	From, To   float64 // times of the first and the last of these [s]

	Climb  float64              // mean rate of climb, by least squares [m/s]; 0 without altitudes
	Steep  float64              // the greatest size of a fluid's rate in a window of a settled segment [K/s]
	Fluids []Quantity           // those that were judged
	Means  map[Quantity]float64 // of the readings
}

// SegmentSettings says what counts as a segment. The zero value works.
type SegmentSettings struct {
	Window float64 // of least squares [s]; 0 means 60
	Rate   float64 // settled below this [K/s]; 0 means 2 °F/min, from the regulations
	Climb  float64 // climbing above this [m/s]; 0 means 1, about 200 ft/min
	Least  float64 // length of a segment [s]; 0 means 30
}

func (s SegmentSettings) orDefaults() SegmentSettings {
	s.Window = orDefault(s.Window, 60)
	s.Rate = orDefault(s.Rate, settledRate)
	s.Climb = orDefault(s.Climb, 1)
	s.Least = orDefault(s.Least, 30)
	return s
}

// Segments finds the climbs and the settled stretches of a record, by their start.
//
// A rate is the slope of the line through the readings within half a window before
// and after a row, by least squares. Windows reach over no gap and no end of the
// record, so that rows near those are in no segment, and have readings in half of
// their rows but one, five at least. In a row the altitude climbs when its rate there is
// above Climb, and the record is settled when the rates of all its fluids (coolant,
// oil) are below Rate; rows that follow each other make a segment. Where it begins
// or ends with a bend its bounds are wrong by up to half a window.
//
// A temperature that passes its highest has no rate there: with -b after +a it
// counts as settled for W·2·Rate/(1.5·(a+b)). Least keeps those out unless a+b is
// below 2.7 times Rate. Noise σ of readings every Δt seconds gives a rate the noise
// σ·√(12·Δt/W³): 0.002 K/s for 0.3 K at 1 Hz, an eighth of 2 °F/min.
//
// Sources: 2 °F/min is 14 CFR 25.1045, and by common practice Part 23 (from
// memory); window, least length and rate of climb are engineering judgement.
func Segments(l *Log, set SegmentSettings) []Segment {
	s := segmenter{Log: l, set: set.orDefaults()}
	s.gap = l.set.Gap * l.usual()
	for _, k := range []int{coolant, oil} {
		if l.values[k] != nil {
			s.fluids = append(s.fluids, k)
		}
	}
	s.walk()
	return s.found()
}

// segmenter finds segments.
type segmenter struct {
	*Log
	set    SegmentSettings
	gap    float64 // the longest interval that a window may have [s]
	fluids []int

	climbs, settled []stretch
}

// stretch is rows first to before end.
type stretch struct {
	first, end int
	steep      float64
}

// walk moves the window over the record.
func (s *segmenter) walk() {
	half := s.set.Window / 2
	first, end, gap := 0, 0, 0 // the window, and the row behind the last gap before its end
	for i := range s.times {
		for end < s.Len() && s.times[end] <= s.times[i]+half {
			if end > 0 && s.times[end]-s.times[end-1] > s.gap {
				gap = end
			}
			end++
		}
		for s.times[first] < s.times[i]-half {
			first++
		}
		if gap > first || !s.whole(i, first, end, half) {
			continue
		}
		if rate, ok := s.rate(altitude, first, end); ok && rate > s.set.Climb {
			s.climbs = join(s.climbs, stretch{i, i + 1, 0})
		}
		if steep, ok := s.steepest(first, end); ok && steep < s.set.Rate {
			s.settled = join(s.settled, stretch{i, i + 1, steep})
		}
	}
}

// whole reports whether the window around row i lies in the record but for an
// interval at each end.
func (s *segmenter) whole(i, first, end int, half float64) bool {
	usual := s.gap / s.Log.set.Gap
	return s.times[i]-s.times[first] >= half-1.5*usual && s.times[end-1]-s.times[i] >= half-1.5*usual
}

// join appends a stretch, or makes the last one longer when it follows that.
func join(all []stretch, s stretch) []stretch {
	if n := len(all); n > 0 && s.first == all[n-1].end {
		all[n-1].end = s.end
		all[n-1].steep = max(all[n-1].steep, s.steep)
		return all
	}
	return append(all, s)
}

// steepest is the greatest size of a fluid's rate in a window [K/s].
func (s *segmenter) steepest(first, end int) (steep float64, ok bool) {
	for _, k := range s.fluids {
		rate, ok := s.rate(k, first, end)
		if !ok {
			return 0, false
		}
		steep = max(steep, math.Abs(rate))
	}
	return steep, len(s.fluids) > 0
}

// rate is the slope of the line through the readings of rows first to before end,
// by least squares: Σ(t - t̄)(v - v̄)/Σ(t - t̄)².
func (l *Log) rate(k, first, end int) (rate float64, ok bool) {
	if l.values[k] == nil {
		return 0, false
	}
	n, t0, v0 := 0, 0.0, 0.0
	for i := first; i < end; i++ {
		if v, ok := l.at(k, i); ok {
			n++
			t0 += l.times[i]
			v0 += v
		}
	}
	if n < 5 || 2*n < end-first-1 {
		return 0, false
	}
	t0 /= float64(n)
	v0 /= float64(n)
	tt, tv := 0.0, 0.0
	for i := first; i < end; i++ {
		if v, ok := l.at(k, i); ok {
			t := l.times[i] - t0
			tt += t * t
			tv += t * (v - v0)
		}
	}
	return tv / tt, tt > 0
}

// found describes the stretches that are long enough.
func (s *segmenter) found() []Segment {
	var all []Segment
	climbs, settled := s.climbs, s.settled
	for len(climbs)+len(settled) > 0 {
		next, kind := stretch{}, Climb
		if len(settled) == 0 || len(climbs) > 0 && climbs[0].first <= settled[0].first {
			next, climbs = climbs[0], climbs[1:]
		} else {
			next, settled, kind = settled[0], settled[1:], Settled
		}
		from, to := s.times[next.first], s.times[next.end-1]
		if to-from >= s.set.Least-s.gap/s.Log.set.Gap {
			all = append(all, s.describe(kind, next))
		}
	}
	return all
}

// describe sums a stretch up.
func (s *segmenter) describe(kind SegmentKind, at stretch) Segment {
	seg := Segment{
		Kind: kind, First: at.first, End: at.end, From: s.times[at.first], To: s.times[at.end-1],
		Steep: at.steep, Means: map[Quantity]float64{},
	}
	for _, k := range s.fluids {
		seg.Fluids = append(seg.Fluids, sensors[k].quantity)
	}
	seg.Climb, _ = s.rate(altitude, at.first, at.end)
	for k := range channels {
		if mean, n := s.mean(k, at.first, at.end); n > 0 {
			seg.Means[sensors[k].quantity] = mean
		}
	}
	return seg
}
