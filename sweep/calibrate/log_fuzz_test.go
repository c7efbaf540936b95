package calibrate

import (
	"bytes"
	"math"
	"testing"
)

// FuzzReadLog reads any bytes as a record: reading never panics, accounts for
// every line, and keeps no number that a sensor cannot
// have.
func FuzzReadLog(f *testing.F) {
	for _, seed := range []string{
		flightOf(20, nil), flightOf(20, cell(2, 5, 8, "")), flightOf(20, cell(2, 5, 5, "250")), flightOf(20, cell(0, 5, 5, "500")),
		"\ufeffTime;Altitude;Coolant\r\ns;ft;°F\r\n23:59:59,5;1000;180,5\r\n00:00:00;1001;\"180,6\"\r\n",
		"Time\tAltitude\tCoolant\r2026-07-04T10:00:00Z\t1\t2\r2026-07-04 10:00:01\t1\t2\r",
		"Time,Altitude,Coolant\n59:59,1,2\n0:00,1,2\n1:2:3,,\n::,\"\n", "Time,Altitude,Coolant,\xb0\n1,2,3\n\x00\n#\n\n1,\"a\"b\n",
		"0,1,2", "Time,Altitude,Coolant\n0,1e9999,-\n1,--,0x1\n", "Time,Altitude,Coolant\nTime,Altitude,Coolant\n",
		"Time|Altitude|Coolant\n1|1,234|5\n",
		"Time,Altitude,Coolant\n-1e308,1,180\n1e308,1,180\n",
	} {
		f.Add([]byte(seed), false)
		f.Add([]byte(seed), true)
	}
	numbered := ColumnMap{Time: {"#1", ""}, Altitude: {"#2", "ft"}, Coolant: {"#3", "degF"}}
	f.Fuzz(func(t *testing.T, text []byte, byNumber bool) {
		columns := plain
		if byNumber {
			columns = numbered
		}
		l, err := ReadLog(bytes.NewReader(text), "", columns, LogSettings{})
		if head, bad := ReadLogHead(bytes.NewReader(text)); bad == nil {
			GuessColumns(head.Header, head.Units)
		}
		if err != nil {
			if err.Error() == "" {
				t.Fatal("refused without a word")
			}
			return
		}
		checkAccounts(t, l)
		for i := range l.Len() {
			if v, ok := l.Value(Coolant, i); ok && !(v >= -40.001 && v <= 200.001) || math.IsInf(l.Time(i), 0) {
				t.Errorf("row %d has %v at %v s", i, v, l.Time(i))
			}
		}
		Segments(l, SegmentSettings{})
	})
}
