package bench

import (
	"net/http"
	"strings"
	"testing"
)

// TestHosts: only names of this computer that nobody else can give out are served,
// so that no site can have its own name point here.
func TestHosts(t *testing.T) {
	h := handler(t, smallBench(t))
	for host, want := range map[string]int{
		"localhost": 200, "localhost:8317": 200, "LocalHost:80": 200,
		"127.0.0.1": 200, "127.0.0.1:1": 200, "[::1]": 200, "[::1]:8317": 200,
		"": 403, ":8317": 403, "example.com": 403, "example.com:8317": 403,
		"localhost.example.com": 403, "127.0.0.1.example.com": 403, "127.0.0.1.nip.io:8317": 403,
		"localhost@example.com": 403, "example.com@localhost": 403, "user:pass@localhost:8317": 403,
		"localhost:80:80": 403, "localhost:": 403, "localhost:99999": 403, "localhost:80@evil.example": 403, "localhost:-1": 403,
		"::1": 403, "::1:8317": 403, "[::1": 403, "[localhost]": 403, "[localhost]:80": 403, "[127.0.0.1]": 403,
		"0.0.0.0:8317": 403, "127.0.0.2": 403, "2130706433": 403, "127.1": 403, "[::]": 403, "[::ffff:127.0.0.1]": 403,
		"192.168.1.4:8317": 403, "localhost.": 403, "localhost localhost": 403, "localhost/": 403, "localhos": 403,
	} {
		r := asking("GET", "/assets/page.css", "")
		r.Host = host
		if w := serve(h, r); w.Code != want {
			t.Errorf("Host %q: status %d, want %d", host, w.Code, want)
		}
	}
}

// TestOrigins: no page of another site may ask, nor may one without an origin, as in
// a frame that is locked up.
func TestOrigins(t *testing.T) {
	h := handler(t, smallBench(t))
	for origin, want := range map[string]int{
		"http://localhost:8317": 200, "none at all": 200,
		"null": 403, "": 403, "http://evil.example": 403, "https://localhost:8317": 403, "http://localhost": 403,
		"http://localhost:8318": 403, "http://127.0.0.1:8317": 403, "http://localhost:8317.evil.example": 403,
		"http://localhost:8317/": 403, "file://": 403,
	} {
		r := asking("POST", "/fly", `{}`)
		r.Header["Origin"] = []string{origin}
		if origin == "none at all" {
			r.Header.Del("Origin")
		}
		if w := serve(h, r); w.Code != want {
			t.Errorf("Origin %q: status %d, want %d", origin, w.Code, want)
		}
	}
	r := asking("POST", "/fly", `{}`)
	r.Header["Origin"] = []string{"http://localhost:8317", "http://evil.example"}
	if w := serve(h, r); w.Code != 403 {
		t.Errorf("two origins: status %d", w.Code)
	}
	for site, want := range map[string]int{"same-origin": 200, "same-site": 403, "cross-site": 403} {
		r := asking("POST", "/fly", `{}`)
		r.Header.Del("Origin")
		r.Header.Set("Sec-Fetch-Site", site)
		if w := serve(h, r); w.Code != want {
			t.Errorf("a page that is %s, without an origin: status %d, want %d", site, w.Code, want)
		}
	}
	r = asking("GET", "/", "")
	r.Header.Set("Origin", "http://evil.example")
	if w := serve(h, r); w.Code != 403 {
		t.Errorf("the page, for another site: status %d", w.Code)
	}
}

// TestHeaders: every answer has them, errors too.
func TestHeaders(t *testing.T) {
	b := smallBench(t)
	b.Studies = []Study{{Name: "never", Missing: "It cannot be run."}}
	h := handler(t, b)
	foreign := asking("GET", "/", "")
	foreign.Host = "example.com"
	plain := asking("POST", "/fly", `{}`)
	plain.Header.Set("Content-Type", "text/plain")
	for name, c := range map[string]struct {
		r    *http.Request
		want int
	}{
		"page":     {asking("GET", "/", ""), 200},
		"style":    {asking("GET", "/assets/page.css", ""), 200},
		"move":     {asking("POST", "/fly", `{}`), 200},
		"fault":    {asking("POST", "/fly", `{"edits":[{"path":"nothing","value":"1"}]}`), 422},
		"bad":      {asking("POST", "/fly", `{`), 400},
		"type":     {plain, 415},
		"long":     {asking("POST", "/fly", `{"case":"`+strings.Repeat("x", mostBytes)+`"}`), 413},
		"nowhere":  {asking("GET", "/nowhere", ""), 404},
		"no study": {asking("POST", "/study/nothing", `{}`), 404},
		"missing":  {asking("POST", "/study/never", `{}`), 409},
		"no file":  {asking("POST", "/scenario", `{}`), 404},
		"method":   {asking("GET", "/fly", ""), 405},
		"foreign":  {foreign, 403},
	} {
		w := serve(h, c.r)
		if w.Code != c.want {
			t.Errorf("%s: status %d, want %d: %s", name, w.Code, c.want, w.Body)
		}
		for header, want := range map[string]string{
			"Content-Security-Policy": policy, "X-Content-Type-Options": "nosniff",
			"Referrer-Policy": "no-referrer", "Cache-Control": "no-store",
		} {
			if got := w.Header().Get(header); got != want {
				t.Errorf("%s: %s is %q", name, header, got)
			}
		}
	}
}

// TestMethods: each address takes its own method.
func TestMethods(t *testing.T) {
	h := handler(t, smallBench(t))
	for _, r := range []*http.Request{
		asking("POST", "/", "{}"), asking("PUT", "/", ""), asking("DELETE", "/assets/app.js", ""),
		asking("GET", "/fly", ""), asking("PUT", "/fly", "{}"), asking("OPTIONS", "/fly", ""),
		asking("GET", "/scenario", ""), asking("GET", "/study/sweep", ""), asking("POST", "/assets/app.js", "{}"),
	} {
		if w := serve(h, r); w.Code != http.StatusMethodNotAllowed || w.Header().Get("Access-Control-Allow-Origin") != "" {
			t.Errorf("%s %s: status %d, %v", r.Method, r.URL, w.Code, w.Header())
		}
	}
}

// TestAssets: the files of the page and nothing else.
func TestAssets(t *testing.T) {
	h := handler(t, smallBench(t))
	for name, kind := range map[string]string{
		"page.css": "text/css; charset=utf-8", "app.js": "text/javascript; charset=utf-8",
		"uPlot.iife.min.js": "text/javascript; charset=utf-8", "uPlot.LICENSE.txt": "text/plain; charset=utf-8",
	} {
		w := serve(h, asking("GET", "/assets/"+name, ""))
		if w.Code != 200 || w.Header().Get("Content-Type") != kind || w.Body.Len() == 0 {
			t.Errorf("%s: status %d, %v, %d bytes", name, w.Code, w.Header(), w.Body.Len())
		}
	}
	for _, target := range []string{
		"/assets/", "/assets/page.html.tmpl", "/assets/nothing.js", "/assets/..%2fbench.go", "/assets/..%2f..%2f..%2fetc%2fpasswd",
		"/assets/%2e%2e%2fbench.go", "/assets/..%5cbench.go", "/assets/app.js%00.css", "/bench.go", "/favicon.ico", "/assets/sub/app.js",
	} {
		if w := serve(h, asking("GET", target, "")); w.Code != 404 {
			t.Errorf("%s: status %d", target, w.Code)
		}
	}
	if w := serve(h, asking("GET", "/assets/../bench.go", "")); w.Code == 200 {
		t.Error("a way out of the assets")
	}
}
