package calibrate

import (
	"bytes"
	"fmt"
	"math"
	"time"
)

// timeShape is a way to write the time.
type timeShape int

const (
	bareTime   timeShape = iota // a number
	shortClock                  // minutes:seconds
	longClock                   // hours:minutes:seconds
	dateTime                    // an ISO 8601 date and time of day
)

// period is after how many seconds a clock of this shape starts again.
func (s timeShape) period() float64 {
	switch s {
	case shortClock:
		return 3600
	case longClock:
		return 24 * 3600
	}
	return 0
}

// likeFirst reports whether times of this shape follow those of the first one.
// An elapsed time may grow from minutes:seconds into hours:minutes:seconds.
func (s timeShape) likeFirst(first timeShape) bool {
	return s == first || s.period() > 0 && first.period() > 0
}

// moment is a time as written: seconds since midnight, or since whatever a bare
// number counts from, or a date.
type moment struct {
	shape   timeShape
	seconds float64
	date    time.Time
}

// readMoment reads a time of any shape. Bare numbers are in the given unit.
func readMoment(cell []byte, decimal byte, unit scale) (moment, error) {
	switch {
	case len(cell) > 10 && cell[4] == '-' && cell[7] == '-':
		return readDate(cell)
	case bytes.IndexByte(cell, ':') >= 0:
		return readClock(cell)
	}
	x, err := readNumber(cell, decimal)
	if err != nil || math.Abs(x) > 1e15 {
		return moment{}, fmt.Errorf("%.40q is not a time", cell)
	}
	return moment{shape: bareTime, seconds: unit.of(x)}, nil
}

// readClock reads 5:09, 17:05:09 or 17:05:09.250. A fraction may have a comma.
func readClock(cell []byte) (moment, error) {
	wrong := fmt.Errorf("%.40q is not a time such as 5:09 or 17:05:09", cell)
	whole, fraction, err := cutFraction(cell)
	if err != nil {
		return moment{}, wrong
	}
	parts := bytes.Split(whole, []byte{':'})
	if len(parts) > 3 {
		return moment{}, wrong
	}
	total := 0
	for i, part := range parts {
		n, ok := readDigits(part)
		if !ok || i > 0 && (n > 59 || len(part) != 2) {
			return moment{}, wrong
		}
		total = 60*total + n
	}
	shape := shortClock
	if len(parts) == 3 {
		shape = longClock
	}
	return moment{shape: shape, seconds: float64(total) + fraction}, nil
}

// cutFraction cuts a decimal fraction off the end of a clock time.
func cutFraction(cell []byte) (whole []byte, fraction float64, err error) {
	i := bytes.IndexAny(cell, ".,")
	if i < 0 {
		return cell, 0, nil
	}
	digits := append([]byte("0."), cell[i+1:]...)
	fraction, err = readNumber(digits, '.')
	if err == nil && (len(digits) == 2 || bytes.ContainsAny(digits, "eE+-")) {
		err = fmt.Errorf("no digits")
	}
	return cell[:i], fraction, err
}

// readDigits reads a whole number of one to four digits.
func readDigits(text []byte) (n int, ok bool) {
	for _, c := range text {
		if c < '0' || c > '9' {
			return 0, false
		}
		n = 10*n + int(c-'0')
		if n > 9999 {
			return 0, false
		}
	}
	return n, len(text) > 0
}

// readDate reads an ISO 8601 date and time of day, with or without its zone; a
// space may stand for the T. Without a zone it is taken as UTC.
func readDate(cell []byte) (moment, error) {
	layout := "2006-01-02T15:04:05"
	if cell[10] == ' ' {
		layout = "2006-01-02 15:04:05"
	}
	if bytes.ContainsAny(cell[11:], "Z+-") {
		layout += "Z07:00"
	}
	t, err := time.Parse(layout, string(cell))
	if err != nil {
		return moment{}, fmt.Errorf("%.40q is not a date and time such as 2026-07-04T17:05:09", cell)
	}
	return moment{shape: dateTime, date: t}, nil
}

// timeline turns times as written into seconds since the first one.
type timeline struct {
	first   moment
	begun   bool
	wrapped float64 // what restarts of the clock have added [s]
}

// since returns the time [s] of m since the first moment. A clock that falls has
// passed its end when less than 1/24 of its period would then lie between (an
// hour for hours:minutes:seconds, 2.5 min for minutes:seconds); otherwise the
// time goes backwards. last is the time of the row before.
func (l *timeline) since(m moment, last float64) (t float64, wraps bool, err error) {
	if !l.begun {
		l.first, l.begun = m, true
		return 0, false, nil
	}
	if !m.shape.likeFirst(l.first.shape) {
		return 0, false, fmt.Errorf("the time is written in another way than in the first row")
	}
	if m.shape == dateTime {
		whole := m.date.Unix() - l.first.date.Unix()
		return float64(whole) + 1e-9*float64(m.date.Nanosecond()-l.first.date.Nanosecond()), false, nil
	}
	t = m.seconds - l.first.seconds + l.wrapped
	if period := m.shape.period(); period > 0 && t <= last && t+period > last && t+period-last <= period/24 {
		l.wrapped += period
		return t + period, true, nil
	}
	return t, false, nil
}
