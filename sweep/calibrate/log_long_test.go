package calibrate

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"runtime"
	"runtime/debug"
	"testing"
	"time"
)

// synthetic is a record of so many rows that exists only while it is read: climbs
// and descents, sampled ten times a second.
type synthetic struct {
	rows, row int
	rest      []byte
	bytes     int
}

func (s *synthetic) Read(p []byte) (int, error) {
	for len(s.rest) < len(p) && s.row <= s.rows {
		if s.row == 0 {
			s.rest = append(s.rest, "Time (s),Altitude (ft),IAS (kt),OAT (F),Coolant (F),Oil (F),RPM,Fuel,Volts,Note\n"...)
			s.row++
			continue
		}
		i := s.row
		climb := min(i%12000, 12000-i%12000)
		s.rest = fmt.Appendf(s.rest, "%d.%d,%d,%d.%d,%.1f,%.1f,%.1f,%d,12.3,13.8,\"a, b\"\n", i/10, i%10, 1000+climb, 85+i%3, i%10,
			80-0.0036*float64(climb), 180+0.005*float64(climb)+0.1*float64(i%4), 190+0.005*float64(climb)+0.1*float64(i%5), 2400+i%7)
		s.row++
	}
	if len(s.rest) == 0 {
		return 0, io.EOF
	}
	n := copy(p, s.rest)
	s.rest = append(s.rest[:0], s.rest[n:]...)
	s.bytes += n
	return n, nil
}

var syntheticColumns = ColumnMap{
	Time: {"Time (s)", "s"}, Altitude: {"Altitude (ft)", "ft"}, Speed: {"IAS (kt)", "kt"}, Outside: {"OAT (F)", "degF"},
	Coolant: {"Coolant (F)", "degF"}, Oil: {"Oil (F)", "degF"}, RPM: {"RPM", "rpm"},
}

// TestLargeLog reads 4 MB, or 100 MB when long studies are asked for. The record
// takes 4 bytes for each value and 12 more a row, and reading no more than two and a quarter times
// that at once (a slice grows by a quarter and both are there for a moment), with
// 4 MB for everything else.
func TestLargeLog(t *testing.T) {
	rows := 60_000
	if os.Getenv("HOTCLIMB_LONG") != "" {
		rows = 1_760_000
	}
	begin := time.Now()
	if _, err := io.Copy(io.Discard, &synthetic{rows: rows}); err != nil {
		t.Fatal(err)
	}
	making := time.Since(begin)
	source := &synthetic{rows: rows}
	peak := watchHeap()
	begin = time.Now()
	l, err := ReadLog(source, "", syntheticColumns, LogSettings{})
	took := time.Since(begin) - making
	most := peak()
	if err != nil {
		t.Fatal(err)
	}
	checkAccounts(t, l)
	if l.Len() != rows || len(l.Faults) > 0 {
		t.Errorf("%d rows of %d, faults %v", l.Len(), rows, l.Faults)
	}
	const perRow = 8 + 4 + 6*4 // time, line, and what six columns hold
	record := float64(perRow * rows)
	t.Logf("%.1f MB in %.2f s; %d bytes a row, %.1f MB of record, %.1f MB more at most while reading",
		1e-6*float64(source.bytes), took.Seconds(), perRow, 1e-6*record, 1e-6*most)
	if most > 2.25*record+4e6 {
		t.Errorf("reading took %.1f MB for a record of %.1f MB", 1e-6*most, 1e-6*record)
	}
}

// watchHeap returns a function that says by how much the heap in use has grown at
// most since [bytes].
func watchHeap() func() float64 {
	garbage := debug.SetGCPercent(10) // little garbage, so that the heap in use is near what is kept
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	before, most := m.HeapAlloc, m.HeapAlloc
	stop, done := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(done)
		for {
			select {
			case <-stop:
				return
			case <-time.After(20 * time.Millisecond):
				runtime.ReadMemStats(&m)
				most = max(most, m.HeapAlloc)
			}
		}
	}()
	return func() float64 {
		close(stop)
		<-done
		debug.SetGCPercent(garbage)
		return float64(most - before)
	}
}

// BenchmarkReadLog reads 60,000 rows.
func BenchmarkReadLog(b *testing.B) {
	text, err := io.ReadAll(&synthetic{rows: 60_000})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		if _, err := ReadLog(bytes.NewReader(text), "", syntheticColumns, LogSettings{}); err != nil {
			b.Fatal(err)
		}
	}
}
