package calibrate

import "math"

// segments finds the climbs and the settled stretches of the record, in times
// since it began. First and End count rows of the log, or readings by hand by time.
func (r *Record) segments(set SegmentSettings) []Segment {
	if r.Log == nil {
		return r.handSegments(set)
	}
	var list []Segment
	start := r.Log.Time(r.First)
	for _, s := range Segments(r.Log, set) {
		if s.From, s.To = s.From-start, s.To-start; s.To > 0 && s.From < r.End {
			s.From, s.To = max(s.From, 0), min(s.To, r.End)
			list = append(list, s)
		}
	}
	return list
}

// handSegments are those of readings by hand. Between two readings the altitude
// climbs when it rises by more than Climb, and the record is settled when every
// fluid that is read changes by less than Rate, on the line through its readings;
// intervals that follow each other make a segment. A settled one lasts until the noise
// of two readings makes their rate doubtful by no more than Rate: two that are alike
// by chance, or on either side of a highest, do not settle a record.
func (r *Record) handSegments(set SegmentSettings) []Segment {
	set = set.orDefaults()
	h := &handSegmenter{r: r, s: r.span()}
	for c, k := range circuits {
		h.s.each(k, func(_ int, t, v float64) { h.fluids[c].add(t, v) })
	}
	rates := h.rates()
	var list []Segment
	for _, kind := range []SegmentKind{Climb, Settled} {
		first := -1
		for i := 0; i <= len(rates); i++ {
			is := i < len(rates) && (kind == Climb && rates[i].climb > set.Climb || kind == Settled && rates[i].steep < set.Rate)
			switch {
			case is && first < 0:
				first = i
			case !is && first >= 0:
				if seg := h.describe(kind, first, i, rates); seg.To-seg.From >= h.least(kind, set) {
					list = append(list, seg)
				}
				first = -1
			}
		}
	}
	return list
}

// handSegmenter finds segments in readings by hand.
type handSegmenter struct {
	r      *Record
	s      span
	fluids [2]series
}

// least is how long a segment lasts [s]. The rate between two readings of noise σ that
// are Δt apart is doubtful by √2·σ/Δt.
func (h *handSegmenter) least(kind SegmentKind, set SegmentSettings) float64 {
	if kind == Climb {
		return set.Least
	}
	noise := 0.0
	for c := range h.fluids {
		if h.fluids[c].known() {
			noise = max(noise, h.r.Gauge(c).Noise.Value)
		}
	}
	return max(set.Least, math.Sqrt2*noise/set.Rate)
}

// handRate is how fast things change between two readings.
type handRate struct {
	climb float64 // [m/s]
	steep float64 // greatest size of a fluid's rate [K/s]; +Inf when one is not known
}

// rates are those between every two readings.
func (h *handSegmenter) rates() []handRate {
	var list []handRate
	for i := h.s.first; i+1 < h.s.end; i++ {
		a, b := h.time(i), h.time(i+1)
		rate := handRate{climb: (h.r.altitude.at(b) - h.r.altitude.at(a)) / (b - a)}
		for c := range h.fluids {
			s := &h.fluids[c]
			switch {
			case !s.known():
			case a < s.t[0] || b > s.t[len(s.t)-1]:
				rate.steep = math.Inf(1)
			default:
				rate.steep = max(rate.steep, math.Abs(s.at(b)-s.at(a))/(b-a))
			}
		}
		list = append(list, rate)
	}
	return list
}

func (h *handSegmenter) time(i int) float64 { return h.s.Time(i) - h.s.Time(h.s.first) }

// describe sums up the intervals first to before end.
func (h *handSegmenter) describe(kind SegmentKind, first, end int, rates []handRate) Segment {
	seg := Segment{
		Kind: kind, First: h.s.first + first, End: h.s.first + end + 1,
		From: h.time(h.s.first + first), To: h.time(h.s.first + end), Means: map[Quantity]float64{},
	}
	seg.Climb = (h.r.altitude.at(seg.To) - h.r.altitude.at(seg.From)) / (seg.To - seg.From)
	for c, k := range circuits {
		if !h.fluids[c].known() {
			continue
		}
		seg.Fluids = append(seg.Fluids, sensors[k].quantity)
		seg.Means[sensors[k].quantity] = h.fluids[c].mean(seg.From, seg.To)
	}
	if kind == Settled {
		for _, rate := range rates[first:end] {
			seg.Steep = max(seg.Steep, rate.steep)
		}
	}
	return seg
}
