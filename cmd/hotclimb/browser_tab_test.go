package main

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/audits"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	document "github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// tabPatience is how long a tab may take for what a test waits for.
const tabPatience = 20 * time.Second

// longPatience is that with studies and with axe.
const longPatience = 3 * time.Minute

// tab is a page in a browser of its own kind: nothing of other tests is in it.
type tab struct {
	*testing.T
	ctx context.Context

	mu         sync.Mutex
	complaints []string // what the browser says against the page
	asked      []string // addresses that the page asked for
}

// A screen that a page is looked at on.
type view struct {
	width, height int64
	dark          bool
}

// Screens of a desk and of a phone [CSS pixels].
var (
	desk  = view{1280, 900, false}
	phone = view{390, 844, false}
)

func (v view) String() string {
	theme := "light"
	if v.dark {
		theme = "dark"
	}
	return fmt.Sprintf("%dx%d_%s", v.width, v.height, theme)
}

// views are all screens in all colours.
func views() []view {
	inTheDark := func(v view) view { v.dark = true; return v }
	return []view{desk, inTheDark(desk), phone, inTheDark(phone)}
}

// openTab opens an address on a screen. When the test ends, it fails with all that
// the browser had against the page, and with every other host that was asked.
func openTab(t *testing.T, browser context.Context, address string, v view) *tab {
	t.Helper()
	p := &tab{T: t}
	ctx, _ := chromedp.NewContext(browser, chromedp.WithNewBrowserContext(), chromedp.WithListener(p.hear))
	t.Cleanup(func() {
		if err := chromedp.Cancel(ctx); err != nil {
			t.Errorf("the tab does not close: %v", err)
		}
		p.judge(address)
	})
	p.ctx = ctx
	if err := chromedp.Do(ctx); err != nil {
		t.Fatalf("no tab opens: %v", err)
	}
	tabCall(p, audits.Enable, cdp.Empty{})
	tabCall(p, document.AddScriptToEvaluateOnNewDocument, document.AddScriptToEvaluateOnNewDocumentParams{Source: countRequests})
	p.look(v)
	p.do("open "+address, chromedp.Navigate(address))
	return p
}

// look gives a tab a screen.
func (p *tab) look(v view) {
	p.Helper()
	theme := "light"
	if v.dark {
		theme = "dark"
	}
	tabCall(p, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: theme}},
	})
	p.do("size", chromedp.EmulateViewport(v.width, v.height))
}

// hear keeps what a test must not see at its end.
func (p *tab) hear(event any) {
	p.mu.Lock()
	defer p.mu.Unlock()
	switch e := event.(type) {
	case *runtime.EventExceptionThrown:
		p.complaints = append(p.complaints, "exception: "+e.ExceptionDetails.Text+" "+describe(e.ExceptionDetails.Exception))
	case *runtime.EventConsoleAPICalled:
		if e.Type == runtime.ConsoleAPICalledTypeError || e.Type == runtime.ConsoleAPICalledTypeWarning {
			p.complaints = append(p.complaints, fmt.Sprintf("console: %s %s", e.Type, describe(e.Args...)))
		}
	case *log.EventEntryAdded:
		if e.Entry.Level == log.EntryLevelError || e.Entry.Level == log.EntryLevelWarning {
			p.complaints = append(p.complaints, fmt.Sprintf("log: %s %s", e.Entry.Text, e.Entry.URL))
		}
	case *audits.EventIssueAdded:
		p.complaints = append(p.complaints, fmt.Sprintf("issue: %s", e.Issue.Code))
	case *network.EventRequestWillBeSent:
		p.asked = append(p.asked, e.Request.URL)
	}
}

// describe is what the console shows of some values.
func describe(values ...*runtime.RemoteObject) string {
	var texts []string
	for _, v := range values {
		if v != nil {
			texts = append(texts, fmt.Sprint(v.Description, " ", v.Value))
		}
	}
	return strings.Join(texts, ", ")
}

// expect takes back complaints that contain a text, and fails without one: a test
// made them on purpose.
func (p *tab) expect(text string) {
	p.Helper()
	p.mu.Lock()
	defer p.mu.Unlock()
	n := len(p.complaints)
	p.complaints = slices.DeleteFunc(p.complaints, func(c string) bool { return strings.Contains(c, text) })
	if len(p.complaints) == n {
		p.Errorf("the browser did not complain of %q", text)
	}
}

// foreign are the addresses that the page asked for anywhere but at its own host.
func (p *tab) foreign(address string) []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return slices.DeleteFunc(slices.Clone(p.asked), func(url string) bool {
		return slices.ContainsFunc([]string{address, "blob:" + address, "data:", "about:blank"}, func(own string) bool {
			return strings.HasPrefix(url, own)
		})
	})
}

// judge fails the test for what the browser said, and for requests to others.
func (p *tab) judge(address string) {
	p.Helper()
	for _, url := range p.foreign(address) {
		p.Errorf("the page at %s asked for %s", address, url)
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, c := range p.complaints {
		p.Errorf("the browser says of the page: %s", c)
	}
}

// do does something on the page, or ends the test.
func (p *tab) do(what string, steps ...chromedp.Action[chromedp.Void]) {
	p.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, tabPatience)
	defer cancel()
	if err := chromedp.Do(ctx, steps...); err != nil {
		p.Fatalf("%s: %v", what, err)
	}
}

// tabCall calls a command of the browser on a tab.
func tabCall[P, R any](p *tab, command cdp.Command[P, R], params P) R {
	p.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, tabPatience)
	defer cancel()
	result, err := chromedp.Call(ctx, command, params)
	if err != nil {
		p.Fatalf("%s: %v", command.Method, err)
	}
	return result
}

// see is the value of an expression of JavaScript in the page.
func see[T any](p *tab, expression string) T {
	p.Helper()
	return seeWithin[T](p, tabPatience, expression)
}

// seeWithin is see of what takes some time.
func seeWithin[T any](p *tab, patience time.Duration, expression string) T {
	p.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	defer cancel()
	value, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		p.Fatalf("%s: %v", expression, err)
	}
	return value
}

// until waits for an expression to become true.
func (p *tab) until(expression string) {
	p.Helper()
	p.untilWithin(tabPatience, expression)
}

// untilWithin is until of what takes some time.
func (p *tab) untilWithin(patience time.Duration, expression string) {
	p.Helper()
	for end := time.Now().Add(patience); !see[bool](p, "Boolean("+expression+")"); time.Sleep(10 * time.Millisecond) {
		if time.Now().After(end) {
			p.Fatalf("it does not come true in %v: %s\nthe page says:\n%.600s", patience, expression, p.text("body"))
		}
	}
}

// text is the text of the first element that matches, as it is seen: "" for one that
// is hidden.
func (p *tab) text(selector string) string {
	p.Helper()
	return see[string](p, fmt.Sprintf("((e) => e?.checkVisibility() ? e.innerText : '')(document.querySelector(%q))", selector))
}

// click clicks an element, in the middle of where it is seen, once the page has come to
// rest around it: what is scrolled into sight for the first time is laid out only then.
func (p *tab) click(selector string) {
	p.Helper()
	target := chromedp.CSS(selector)
	p.do("scroll to "+selector, chromedp.ScrollIntoView(target, chromedp.NodeVisible))
	see[float64](p, `new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))`)
	p.do("click "+selector, chromedp.Click(target))
}

// press presses keys where the focus is.
func (p *tab) press(keys string, options ...chromedp.KeyOption) {
	p.Helper()
	p.do("keys", chromedp.KeyEvent(keys, options...))
}

// focus puts the focus on an element.
func (p *tab) focus(selector string) {
	p.Helper()
	p.do("focus "+selector, chromedp.Focus(chromedp.CSS(selector)))
}
