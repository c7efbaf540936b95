package bench

import (
	"fmt"
	"net/http/httptest"
	"testing"
)

// BenchmarkMove is a slider that moves: every request is a new state of all cases,
// beside one that is pinned, from the request to the bytes of the answer.
func BenchmarkMove(b *testing.B) {
	for _, c := range []struct{ name, shown, path, format string }{
		{"tug", "hot_tow", "exits.belly.area", "%.4f in^2"},
		{"rotary", "hot_climb", "exits.aft_ring.area", "%.4f in^2"},
		{"rotary", "hot_climb", "day.temperature", "%.4f degF"},
	} {
		b.Run(c.name+"/"+c.path, func(b *testing.B) {
			h := handler(b, builtin(b, c.name))
			n := 0
			for b.Loop() {
				n++
				value := fmt.Sprintf(c.format, 80+0.01*float64(n))
				body := fmt.Sprintf(`{"case":%q,"edits":[{"path":%q,"value":%q,"case":%q}],"pinned":[]}`, c.shown, c.path, value, c.shown)
				w := httptest.NewRecorder()
				h.ServeHTTP(w, asking("POST", "/fly", body))
				if w.Code != 200 {
					b.Fatal(w.Body)
				}
			}
		})
	}
}
