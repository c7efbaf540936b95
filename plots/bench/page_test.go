package bench

import (
	"errors"
	"fmt"
	"html"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"

	"hotclimb/scenarios"
)

// TestPage: it is whole without scripts, and holds nothing that the policy forbids.
func TestPage(t *testing.T) {
	b := builtin(t, "rotary")
	b.Studies = []Study{{Name: "rank", Label: "Rank the changes", About: "Which change buys most?"}}
	h := handler(t, b)
	w := serve(h, asking("GET", "/", ""))
	page := html.UnescapeString(w.Body.String())
	if w.Code != 200 || w.Header().Get("Content-Type") != "text/html; charset=utf-8" {
		t.Fatalf("status %d, %v", w.Code, w.Header())
	}
	for _, want := range []string{
		b.Scenario.Title, "hot_climb", "hot_taxi", "cruise", "Aft ring opened to 100 square inches", "Rank the changes", "Which change buys most?",
		">218.5<", ">-8.5<", "over limit", "armpit left (inlet)", "exits.aft_ring.pressure_coefficient", "<svg", "hotclimb run rotary --case hot_climb",
	} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	for _, bad := range []string{"style=\"", "onclick", "javascript:", "<style", "http://", "https://"} {
		text := strings.ReplaceAll(w.Body.String(), `xmlns="http://www.w3.org/2000/svg"`, "")
		if i := strings.Index(text, bad); i >= 0 {
			t.Errorf("the page holds %s: %.80s", bad, text[max(0, i-40):])
		}
	}
	other := html.UnescapeString(serve(h, asking("GET", "/?case=cruise", "")).Body.String())
	if !strings.Contains(other, "hotclimb run rotary --case cruise") {
		t.Error("another case is not shown")
	}
	if w := serve(h, asking("GET", "/?case=nowhere", "")); w.Code != 404 || !strings.Contains(w.Body.String(), "there is no case nowhere") {
		t.Errorf("a case that is not: status %d: %s", w.Code, w.Body)
	}
}

// TestLogsAreTold: logs of flights do not come with a download, and the page says so
// where there are some.
func TestLogsAreTold(t *testing.T) {
	for file, logs := range map[string]bool{"rotary": true, "tug": false} {
		b := builtin(t, file)
		b.Rewrite = func([]scenarios.CaseSetting) ([]byte, error) { return nil, nil }
		page := serve(handler(t, b), asking("GET", "/", "")).Body.String()
		if strings.Contains(page, "Logs of flights do not come with it") != logs || !strings.Contains(page, "keep-scenario") {
			t.Errorf("%s: logs told: %v", file, !logs)
		}
	}
}

// TestEscaped: what stands in a file is text, wherever the page shows it.
func TestEscaped(t *testing.T) {
	const evil = `<script>alert("x")</script><img src=x>`
	b := smallBench(t)
	b.Scenario = b.Scenario.Clone()
	b.Scenario.Title, b.Scenario.Notes, b.Scenario.Changes[0].Title, b.Scenario.Cases[0].Title = evil, evil, evil, evil
	b.File, b.Version, b.Cautions = evil, evil, []string{evil}
	b.Studies = []Study{{Name: "x", Label: evil, About: evil, Missing: evil}}
	h := handler(t, b)
	page := serve(h, asking("GET", "/", "")).Body.String()
	m := move(t, h, 200, `{"pinned":[]}`)
	for name, text := range map[string]string{"page": page, "summary": m.Summary, "result": m.Result, "cowl": m.Cowl} {
		if strings.Contains(text, "<script>alert") || strings.Contains(text, "<img src=x>") {
			t.Errorf("the %s holds the script", name)
		}
	}
	if !strings.Contains(page, "&lt;script&gt;alert") {
		t.Error("the page does not show it as text either")
	}
}

// TestWithoutCases: a scenario of one flight.
func TestWithoutCases(t *testing.T) {
	b := smallBench(t)
	sc := b.Scenario.Clone()
	sc.Cases = nil
	b.Scenario = sc
	h := handler(t, b)
	m := move(t, h, 200, `{"edits":[{"path":"day.temperature","value":"60 degF"},{"change":"wide"}]}`)
	const want = `hotclimb run small.yaml --set "day.temperature=60 degF" --set "exits.belly.area=95 in^2" --set "aircraft.mass=1502 lb"`
	if m.Command != want {
		t.Errorf("%s\nwant\n%s", m.Command, want)
	}
	if w := serve(h, asking("GET", "/", "")); w.Code != 200 {
		t.Errorf("status %d", w.Code)
	}
}

// TestDownload: the file gets the settings of the edits and a name that is safe.
func TestDownload(t *testing.T) {
	b := smallBench(t)
	b.File = "/home/me/my \"plane\";\r\n.yaml"
	var got []scenarios.CaseSetting
	b.Rewrite = func(list []scenarios.CaseSetting) ([]byte, error) {
		got = list
		return []byte("title: it\n"), nil
	}
	const edits = `{"case":"hot","edits":[{"path":"day.temperature","value":"60 degF","case":"hot"},{"path":"exits.belly.area","value":"60 in^2"},{"change":"wide"}]}`
	w := serve(handler(t, b), asking("POST", "/scenario", edits))
	if w.Code != 200 || w.Body.String() != "title: it\n" || w.Header().Get("Content-Disposition") != `attachment; filename="my__plane____.yaml"` {
		t.Errorf("status %d, %v: %s", w.Code, w.Header(), w.Body)
	}
	const want = `[{"hot" {"day.temperature" "60 degF"}} {"" {"exits.belly.area" "95 in^2"}} {"" {"aircraft.mass" "1502 lb"}}]`
	if text := fmt.Sprintf("%q", got); text != want {
		t.Errorf("%s\nwant\n%s", text, want)
	}
	if w := serve(handler(t, b), asking("POST", "/scenario", `{"edits":[{"path":"exits.belly.area","value":"x"}]}`)); w.Code != 422 {
		t.Errorf("a bad edit: status %d", w.Code)
	}
	b.Rewrite = func([]scenarios.CaseSetting) ([]byte, error) { return nil, errors.New("a change would break") }
	if w := serve(handler(t, b), asking("POST", "/scenario", edits)); w.Code != 409 || !strings.Contains(w.Body.String(), "a change would break") {
		t.Errorf("a file that cannot hold it: status %d: %s", w.Code, w.Body)
	}
}

// TestDownloads: as many files are written at a time as flights are flown, however
// many ask.
func TestDownloads(t *testing.T) {
	b := smallBench(t)
	b.Workers = 2
	busy := make(chan struct{}, b.Workers)
	b.Rewrite = func([]scenarios.CaseSetting) ([]byte, error) {
		select {
		case busy <- struct{}{}:
			time.Sleep(2 * time.Millisecond)
			<-busy
			return []byte("title: it\n"), nil
		default:
			return nil, errors.New("one too many")
		}
	}
	h := handler(t, b)
	var all sync.WaitGroup
	for range 20 {
		all.Go(func() {
			if w := serve(h, asking("POST", "/scenario", `{}`)); w.Code != 200 {
				t.Errorf("status %d: %s", w.Code, w.Body)
			}
		})
	}
	all.Wait()
}

func TestFileName(t *testing.T) {
	for called, want := range map[string]string{
		"rotary": "rotary.yaml", "mine.yaml": "mine.yaml", "planes/mine.yml": "mine.yaml", "": "scenario.yaml", "..": "scenario.yaml",
		"../../etc/passwd": "passwd.yaml", "flügel 2.yaml": "fl_gel_2.yaml", "a\"b\r\nc.yaml": "a_b__c.yaml", ".yaml": "scenario.yaml",
	} {
		if got := fileName(called); got != want {
			t.Errorf("%q is kept as %s, want %s", called, got, want)
		}
	}
}

// TestQuoted: a shell reads back what was quoted.
func TestQuoted(t *testing.T) {
	for _, word := range []string{
		"rotary", "", "my plane.yaml", `a"b`, "it's", "$HOME", "`id`", `a\b`, "a!b", "50 %", "-5 degC", "a;b", "a&b|c>d", "*", "~", "(x)", "#x", "in²", "a\nb", "'\"$`\\",
	} {
		out, err := exec.Command("sh", "-c", `printf '%s' `+quoted(word)).Output()
		if err != nil || string(out) != word {
			t.Errorf("%q comes back as %q: %v", word, out, err)
		}
	}
}

// TestFlags: the command repeats what the scenario was loaded with, as far as edits
// have not overruled it.
func TestFlags(t *testing.T) {
	b := smallBench(t)
	settings := []scenarios.Setting{{Path: "exits.belly.width", Text: "10 in"}, {Path: "exits.belly.height", Text: "9 in"}, {Path: "day.temperature", Text: "50 degF"}}
	cases, err := b.Scenario.EffectiveCases(nil, settings)
	if err != nil {
		t.Fatal(err)
	}
	b.Flags = []string{"--over", "my winter.yaml"}
	for _, s := range settings {
		b.Flags = append(b.Flags, "--set", s.Path+"="+s.Text)
	}
	if b.Scenario, err = b.Scenario.AsRun(cases, settings); err != nil {
		t.Fatal(err)
	}
	h := handler(t, b)
	for edits, want := range map[string]string{
		``: ` --set "exits.belly.width=10 in" --set "exits.belly.height=9 in" --set "day.temperature=50 degF" --case hot`,
		`{"path":"exits.belly.area","value":"85 in^2"}`: ` --set "day.temperature=50 degF" --case hot --set "exits.belly.area=85 in^2"`,
		`{"path":"day.temperature","value":"60 degF"}`:  ` --set "exits.belly.width=10 in" --set "exits.belly.height=9 in" --case hot --set "day.temperature=60 degF"`,
	} {
		m := move(t, h, 200, `{"case":"hot","edits":[`+edits+`]}`)
		if want = `hotclimb run small.yaml --over "my winter.yaml"` + want; m.Command != want {
			t.Errorf("%s\nwant\n%s", m.Command, want)
		}
	}
}

// TestHandler: what cannot be served.
func TestHandler(t *testing.T) {
	if _, err := Handler(Bench{}); err == nil {
		t.Error("a bench without a scenario")
	}
	sc := smallBench(t).Scenario.Clone()
	sc.Exits = nil
	if _, err := Handler(Bench{Scenario: sc}); err == nil {
		t.Error("a cowl without an exit")
	}
}
