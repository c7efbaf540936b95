package calibrate

import (
	"fmt"
	"math"
)

const (
	// settledRate is the rate below which temperatures count as stabilised [K/s]:
	// 2 °F/min. Source: 14 CFR 25.1045; common practice for Part 23 (from memory).
	settledRate = 2 / 1.8 / 60
	// restRate is the least drift that a temperature is taken to have while other
	// things change: a tenth of settledRate (engineering judgement).
	restRate = settledRate / 10
	// coarsest is the resolution of a thermometer that shows whole °C [K]. One that
	// never changes, or by more only, is taken for such.
	coarsest = 1.0
	// airMove is the change of altitude that outside air must follow [m]: 2 K of the
	// standard atmosphere.
	airMove = 300
)

// judgeStuck refuses temperatures that stay exactly the same while others move. A
// thermometer of resolution r may show one value for r/restRate when it drifts
// slowly, 30 s for 0.1 °F, 5 min for 1 °F and 9 min for 1 °C; it is stuck when it rests for that
// long and for no less than Rest, and something that moves it has moved: the mean of
// the last third of the rest differs from that of the first third by
//
//	100 m of altitude, 3 m/s, 5 kW, 15 rad/s, 0.3 L/min of spray or 3 K of the other
//	fluid; for outside air, 300 m of altitude
//
// all engineering judgement. A sensor that sticks while nothing else moves is not
// found. Altitude, speed, power, rpm and spray are not judged: pilots hold them.
func (g *logReader) judgeStuck() {
	usual := g.log.usual()
	for _, k := range []int{outside, coolant, oil} {
		if g.log.values[k] == nil {
			continue
		}
		rest := max(g.log.set.Rest, g.log.resolution(k)/restRate)
		g.log.rests(k, usual, func(i, j int) {
			if g.log.times[j]-g.log.times[i] < rest || !g.log.moved(k, i, j) {
				return
			}
			v, _ := g.log.at(k, i)
			g.refuse(k, i, j+1, Stuck, fmt.Sprintf("stuck at %s for %.0f s", g.format(k, v), g.log.times[j]-g.log.times[i]))
		})
	}
}

// resolution is the least change between readings that follow each other [K].
func (l *Log) resolution(k int) float64 {
	least, last := math.Inf(1), math.NaN()
	for i := range l.times {
		v, ok := l.at(k, i)
		if !ok {
			continue
		}
		if change := math.Abs(v - last); change > 1e-4 && change < least {
			least = change
		}
		last = v
	}
	return min(least, coarsest)
}

// rests calls f with the first and last row of each run of the same reading. Runs
// do not reach over gaps.
func (l *Log) rests(k int, usual float64, f func(i, j int)) {
	first, last := -1, -1
	for i := range l.times {
		if _, ok := l.at(k, i); !ok {
			continue
		}
		if first >= 0 && (l.values[k][i] != l.values[k][last] || l.times[i]-l.times[last] > l.set.Gap*usual) {
			f(first, last)
			first = i
		}
		if first < 0 {
			first = i
		}
		last = i
	}
	if first >= 0 {
		f(first, last)
	}
}

// moved reports whether something that moves a thermometer has moved between two
// rows.
func (l *Log) moved(k, i, j int) bool {
	if k == outside {
		return l.drift(altitude, i, j) >= airMove
	}
	for other := range channels {
		if move := sensors[other].move; other != k && move > 0 && l.drift(other, i, j) >= move {
			return true
		}
	}
	return false
}

// drift is how far the mean of the last third of rows i to j is from that of the
// first third; 0 where there are no readings.
func (l *Log) drift(k, i, j int) float64 {
	third := (j - i + 1) / 3
	before, m := l.mean(k, i, i+third)
	after, n := l.mean(k, j+1-third, j+1)
	if m == 0 || n == 0 {
		return 0
	}
	return math.Abs(after - before)
}

// mean is the mean of the readings of rows i to before j, and their number.
func (l *Log) mean(k, i, j int) (mean float64, n int) {
	if l.values[k] == nil {
		return 0, 0
	}
	for ; i < j; i++ {
		if v, ok := l.at(k, i); ok {
			mean += v
			n++
		}
	}
	return mean / float64(max(n, 1)), n
}
