package bench

import (
	"net/http/httptest"
	"strings"
	"testing"
)

// refused are bodies that are no requests, and their status.
var refused = map[string]struct {
	body string
	want int
}{
	"nothing":          {"", 400},
	"cut short":        {`{"case":"hot","edits":[{"path":"exits.belly.ar`, 400},
	"no object":        {`[]`, 400},
	"a word":           {`hello`, 400},
	"number for case":  {`{"case":1}`, 400},
	"text for edits":   {`{"edits":"exits.belly.area"}`, 400},
	"number for value": {`{"edits":[{"path":"exits.belly.area","value":0.05}]}`, 400},
	"not a number":     {`{"edits":[{"path":"exits.belly.area","value":NaN}]}`, 400},
	"infinity":         {`{"case":"hot","edits":[],"pinned":Infinity}`, 400},
	"unknown field":    {`{"edits":[],"file":"/etc/passwd"}`, 400},
	"unknown in edit":  {`{"edits":[{"path":"exits.belly.area","value":"1 in^2","doubt":"1 in^2"}]}`, 400},
	"two requests":     {`{}{}`, 400},
	"tail":             {`{} x`, 400},
	"deep":             {`{"edits":` + strings.Repeat("[", 20000), 400},
	"deep and closed":  {`{"edits":` + strings.Repeat("[", 20000) + strings.Repeat("]", 20000) + `}`, 400},
	"neither":          {`{"edits":[{"value":"1 in^2"}]}`, 400},
	"empty edit":       {`{"edits":[{}]}`, 400},
	"both":             {`{"edits":[{"path":"exits.belly.area","change":"wide"}]}`, 400},
	"value of change":  {`{"edits":[{"change":"wide","value":"1 in^2"}]}`, 400},
	"case of change":   {`{"edits":[{"change":"wide","case":"hot"}]}`, 400},
	"bad pinned":       {`{"pinned":[{}]}`, 400},
	"too many":         {`{"edits":[` + strings.Repeat(`{"change":"wide"},`, mostEdits) + `{"change":"wide"}]}`, 400},
	"too long":         {`{"case":"` + strings.Repeat("x", mostBytes) + `"}`, 413},
	"long tail":        {`{}` + strings.Repeat(" ", mostBytes), 413},
}

func TestRefused(t *testing.T) {
	h := handler(t, smallBench(t))
	for name, c := range refused {
		w := serve(h, asking("POST", "/fly", c.body))
		if w.Code != c.want || !strings.HasPrefix(w.Body.String(), `{"error":"The request`) {
			t.Errorf("%s: status %d, want %d: %s", name, w.Code, c.want, w.Body)
		}
	}
}

func TestContentType(t *testing.T) {
	h := handler(t, smallBench(t))
	for kind, want := range map[string]int{
		"application/json": 200, "application/json; charset=utf-8": 200, "Application/JSON": 200,
		"": 415, "text/plain": 415, "application/x-www-form-urlencoded": 415, "multipart/form-data; boundary=x": 415,
		"application/jsonp": 415, "text/plain; application/json": 415, "application/json, text/plain": 415,
	} {
		r := asking("POST", "/fly", "{}")
		r.Header.Set("Content-Type", kind)
		if w := serve(h, r); w.Code != want {
			t.Errorf("%q: status %d, want %d", kind, w.Code, want)
		}
	}
}

// FuzzRequest: whatever the body, the answer is one of those that are foreseen.
func FuzzRequest(f *testing.F) {
	for _, c := range refused {
		if len(c.body) < 1000 {
			f.Add(c.body)
		}
	}
	f.Add(`{"case":"hot","edits":[{"path":"exits.belly.area","value":"90 in^2"},{"change":"wide"}],"pinned":[]}`)
	f.Add(`{"case":"cool","edits":[{"path":"day.temperature","value":"-400 degF","case":"hot"}],"pinned":null}`)
	f.Add(`{"edits":[{"path":"flight.legs.climb.to_altitude","value":"1e99 ft"}]}`)
	f.Add(`{"edits":[{"path":"cases.hot.day.temperature","value":"50 degC"},{"path":"exchangers.cooler.serves","value":"coolant"}]}`)
	h := handler(f, smallBench(f))
	f.Fuzz(func(t *testing.T, body string) {
		w := httptest.NewRecorder()
		h.ServeHTTP(w, asking("POST", "/fly", body))
		switch w.Code {
		case 200, 400, 413, 422:
		default:
			t.Errorf("%q: status %d: %s", body, w.Code, w.Body)
		}
	})
}
