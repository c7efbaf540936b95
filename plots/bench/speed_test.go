package bench

import (
	"encoding/json"
	"fmt"
	"html/template"
	"net/http/httptest"
	"testing"

	"hotclimb/sim"
)

// BenchmarkMove is a slider that moves: every request is a new state of all cases,
// beside one that is pinned. The whole goes from the request to the bytes of the
// answer. Its parts, one after the other: setting and building all cases, flying
// them on one core, drawing the cowl of the one that is shown, writing the answer.
func BenchmarkMove(b *testing.B) {
	for _, c := range []struct{ name, shown, path, format string }{
		{"tug", "hot_tow", "exits.belly.area", "%.4f in^2"},
		{"rotary", "hot_climb", "exits.aft_ring.area", "%.4f in^2"},
		{"rotary", "hot_climb", "day.temperature", "%.4f degF"},
	} {
		b.Run(c.name+"/"+c.path, func(b *testing.B) {
			s, err := newServer(builtin(b, c.name))
			if err != nil {
				b.Fatal(err)
			}
			n := 0
			next := func() *request {
				n++
				value := fmt.Sprintf(c.format, 80+0.01*float64(n))
				return &request{Case: c.shown, Edits: []Edit{{Path: c.path, Value: value, Case: c.shown}}, Pinned: []Edit{}}
			}
			b.Run("whole", func(b *testing.B) { benchmarkWhole(b, s, next) })
			b.Run("set", func(b *testing.B) { benchmarkSet(b, s, next) })
			b.Run("fly", func(b *testing.B) { benchmarkFly(b, s, next) })
			b.Run("draw", func(b *testing.B) { benchmarkDraw(b, s, next) })
			b.Run("write", func(b *testing.B) { benchmarkWrite(b, s, next) })
		})
	}
}

func benchmarkWhole(b *testing.B, s *server, next func() *request) {
	b.ReportAllocs()
	h, bytes := s.handler(), 0
	for b.Loop() {
		body, err := json.Marshal(next())
		if err != nil {
			b.Fatal(err)
		}
		w := httptest.NewRecorder()
		h.ServeHTTP(w, asking("POST", "/fly", string(body)))
		if w.Code != 200 {
			b.Fatal(w.Body)
		}
		bytes = w.Body.Len()
	}
	b.ReportMetric(float64(bytes), "B/answer")
}

func benchmarkSet(b *testing.B, s *server, next func() *request) {
	b.ReportAllocs()
	for b.Loop() {
		mustAsk(b, s, next())
	}
}

func benchmarkFly(b *testing.B, s *server, next func() *request) {
	b.ReportAllocs()
	shown, st := mustAsk(b, s, next())
	for b.Loop() {
		for i, k := range st.cases {
			set := sim.Settings{}
			if i == shown {
				set.Sample = sampleInterval
			}
			if _, err := sim.Run(b.Context(), k.plant, set); err != nil {
				b.Fatal(err)
			}
		}
	}
}

func benchmarkDraw(b *testing.B, s *server, next func() *request) {
	b.ReportAllocs()
	shown, now := mustFly(b, s, next())
	for b.Loop() {
		s.drawings = newKept[template.HTML](mostDrawings)
		if s.cowl(now.cases[shown], now.flown[shown].result) == "" {
			b.Fatal("no drawing")
		}
	}
}

func benchmarkWrite(b *testing.B, s *server, next func() *request) {
	b.ReportAllocs()
	shown, now := mustFly(b, s, next())
	_, before := mustFly(b, s, next())
	for b.Loop() {
		w := httptest.NewRecorder()
		status, value := s.answer(now, before, shown)
		reply(w, status, value)
		if w.Code != 200 {
			b.Fatal(w.Body)
		}
	}
}

// mustAsk is the number of the case that a request shows, and the state it asks for.
func mustAsk(b *testing.B, s *server, q *request) (int, *state) {
	shown, st, faults := s.asked(b.Context(), q.Case, q.Edits)
	if len(faults) > 0 {
		b.Fatal(faults)
	}
	return shown, st
}

// mustFly is mustAsk, flown.
func mustFly(b *testing.B, s *server, q *request) (int, *flownState) {
	shown, st := mustAsk(b, s, q)
	now, err := s.fly(b.Context(), st, shown)
	if err != nil {
		b.Fatal(err)
	}
	return shown, now
}
