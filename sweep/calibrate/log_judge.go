package calibrate

import (
	"fmt"
	"math"
	"slices"

	"hotclimb/scenarios"
)

// format prints a value in SI in the unit of its column.
func (g *logReader) format(k int, v float64) string {
	return scenarios.Format(v, g.log.Columns[sensors[k].quantity].Unit, sensors[k].dimension)
}

// sampler keeps up to 4096 of the values it sees, evenly spaced.
type sampler struct {
	kept       []float64
	seen, step int
}

func (s *sampler) add(v float64) {
	if s.step == 0 {
		s.step = 1
	}
	if s.seen%s.step == 0 {
		if len(s.kept) == 4096 {
			for i := range 2048 {
				s.kept[i] = s.kept[2*i]
			}
			s.kept = s.kept[:2048]
			s.step *= 2
		}
		if s.seen%s.step == 0 {
			s.kept = append(s.kept, v)
		}
	}
	s.seen++
}

// quantile returns the value that a share of the values lies below; NaN when there
// are none.
func (s *sampler) quantile(share float64) float64 {
	if len(s.kept) == 0 {
		return math.NaN()
	}
	sorted := slices.Clone(s.kept)
	slices.Sort(sorted)
	return sorted[int(share*float64(len(sorted)-1))]
}

// judgeUnits warns of columns whose unit is not the one that the file says, and of
// temperatures that make sense in another unit only. Fluids of a warm engine have
// 50 to 150 °C and outside air -45 to 50 °C (engineering judgement); of the fluids
// the 90th percentile is judged, for engines start cold, and only if power, where
// it is known, was above 10 kW for a tenth of the time. An outside temperature in
// °C that is taken for °F makes sense, too, and is not found.
func (g *logReader) judgeUnits() {
	for k := range channels {
		if g.index[k] < 0 {
			continue
		}
		unit := g.log.Columns[sensors[k].quantity].Unit
		if g.said[k] != "" {
			said, err := scaleOf(g.said[k], sensors[k].dimension)
			if err == nil && !said.like(g.wants[k]) {
				g.doubtUnit(k, fmt.Sprintf("the file says %s, and it is read as %s", g.said[k], unit))
			}
		}
	}
	atPower := g.index[power] < 0 || !(g.sample[power].quantile(0.9) < 10e3)
	if atPower {
		g.judgeThermometer(coolant, 0.9, 50, 150)
		g.judgeThermometer(oil, 0.9, 50, 150)
	}
	g.judgeThermometer(outside, 0.5, -45, 50)
}

// like reports whether two scales agree but for rounding.
func (s scale) like(o scale) bool {
	return math.Abs(s.factor-o.factor) <= 1e-6*math.Abs(o.factor) && math.Abs(s.zero-o.zero) <= 1e-6*(1+math.Abs(o.zero))
}

func (g *logReader) doubtUnit(k int, message string) {
	first, last := 0, 0
	if n := g.log.Len(); n > 0 {
		first, last = g.log.Line(0), g.log.Line(n-1)
	}
	g.faults.add(-1, Fault{Line: first, Last: last, Column: g.titles[k], Kind: DoubtedUnit, Message: message})
}

// judgeThermometer warns when a quantile is not between lo and hi [°C], and would
// be in another unit.
func (g *logReader) judgeThermometer(k int, share, lo, hi float64) {
	v := g.sample[k].quantile(share)
	if !(v < lo || v > hi) {
		return
	}
	written := (v - g.wants[k].zero) / g.wants[k].factor
	for _, other := range []string{"degC", "degF", "K"} {
		s, err := scaleOf(other, sensors[k].dimension)
		if is := s.of(written); err == nil && !s.like(g.wants[k]) && is >= lo && is <= hi {
			g.doubtUnit(k, fmt.Sprintf("readings of about %.0f look like %s and are read as %s", written, other,
				g.log.Columns[sensors[k].quantity].Unit))
			return
		}
	}
}

// judgeGaps reports intervals longer than Gap usual ones.
func (g *logReader) judgeGaps() {
	l, usual := g.log, g.log.usual()
	for i := 1; i < l.Len(); i++ {
		if interval := l.times[i] - l.times[i-1]; interval > l.set.Gap*usual {
			g.faults.add(-1, Fault{Line: l.Line(i - 1), Last: l.Line(i), Column: g.titles[clock], Kind: Gap,
				Message: fmt.Sprintf("no row for %.4g s, and %.3g s are usual", interval, usual)})
		}
	}
}

// judgeSpikes refuses readings that cannot be true beside those before and after.
//
// A reading that is further from the last good one than it can get in the time
// (see channel.reach) begins a spike when the readings come back within Spike seconds, or the record ends
// before; all until then are refused. When they stay, the shorter level is the
// spike if it lasted less than Spike seconds, and otherwise the change is reported
// as a jump and both levels are used.
func (g *logReader) judgeSpikes() {
	for k := range channels {
		if g.log.values[k] != nil && sensors[k].rate > 0 {
			g.spikes(k)
		}
	}
}

func (g *logReader) spikes(k int) {
	l := g.log
	good, begin := -1, -1 // the last good reading, and the first of its level
	for i := 0; i < l.Len(); i++ {
		if _, ok := l.at(k, i); !ok {
			continue
		}
		if good < 0 {
			begin, good = i, i
			continue
		}
		allowed := sensors[k].reach(l.times[i] - l.times[good])
		if l.change(k, good, i) <= allowed {
			good = i
			continue
		}
		back := g.returns(k, good, i, allowed)
		switch {
		case back > 0:
			end := ", but not for long"
			if back == l.Len() {
				end = ", and the record ends"
			}
			g.refuse(k, i, back, Spike, g.leap(k, good, i)+end)
			i = back - 1
			continue
		case l.times[good]-l.times[begin] <= l.set.Spike:
			g.refuse(k, begin, good+1, Spike, g.leap(k, good, i)+" and stays there")
		default:
			line := l.Line(i)
			g.faults.add(-1, Fault{Line: line, Last: line, Column: g.titles[k], Kind: Jump, Message: g.leap(k, good, i) + " and stays there"})
		}
		begin, good = i, i
	}
}

// leap says how a reading changes.
func (g *logReader) leap(k, from, to int) string {
	a, _ := g.log.at(k, from)
	b, _ := g.log.at(k, to)
	return fmt.Sprintf("goes from %s to %s in %.3g s", g.format(k, a), g.format(k, b), g.log.times[to]-g.log.times[from])
}

// change is how far two readings are apart.
func (l *Log) change(k, i, j int) float64 {
	return math.Abs(float64(l.values[k][i]) - float64(l.values[k][j]))
}

// returns is the first row after i whose reading is back at that of row good, the
// number of rows when the record ends before, or -1 when Spike seconds pass before.
func (g *logReader) returns(k, good, i int, allowed float64) int {
	l := g.log
	for j := i + 1; j < l.Len(); j++ {
		if l.times[j]-l.times[i] > l.set.Spike {
			return -1
		}
		if l.change(k, good, j) <= allowed { // false where there is no reading
			return j
		}
	}
	return l.Len()
}

// refuse drops the readings of rows from i to before j, and tells why.
func (g *logReader) refuse(k, i, j int, kind FaultKind, message string) {
	l, rows := g.log, 0
	f := Fault{Column: g.titles[k], Kind: kind, Message: message}
	for ; i < j; i++ {
		if _, ok := l.at(k, i); !ok {
			continue
		}
		if rows == 0 {
			f.Line = l.Line(i)
		}
		rows++
		f.Last = l.Line(i)
		l.values[k][i] = missing
	}
	f.Rows = rows
	g.faults.add(-1, f)
}
