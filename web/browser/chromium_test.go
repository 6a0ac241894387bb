package browser_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"kinwain/internal/skipped"
	"kinwain/web/webtest"
)

// patience is how long the browser gets for anything. It bounds a failure and
// is never waited for otherwise.
const patience = time.Minute

// chromium is one browser that the tests share; every tab has cookies and
// storage of its own.
type chromium struct{ ctx context.Context }

// running is the browser of the package, and what closes it again.
type running struct {
	chromium
	close func() error
}

// start starts the browser, once for all tests: the one without windows where
// there is one, which draws the same pages for half the work.
var start = sync.OnceValues(func() (*running, error) {
	path, err := exec.LookPath("chromium-headless-shell")
	if err != nil {
		path, err = exec.LookPath("chromium")
	}
	if err != nil {
		return nil, err
	}
	profile, err := os.MkdirTemp("", "kinwain-browser-")
	if err != nil {
		return nil, err
	}
	options := []chromedp.ExecAllocatorOption{chromedp.ExecPath(path), chromedp.UserDataDir(profile)}
	for _, flag := range []string{"headless", "no-sandbox", "disable-gpu", "disable-quic", "no-first-run", "disable-background-networking", "disable-component-update", "disable-sync"} {
		options = append(options, chromedp.Flag(flag, true))
	}
	// Every window would load what its bar for addresses shows, unseen, which
	// costs more than most pages under test.
	options = append(options, chromedp.Flag("disable-features", "WebUIOmniboxPopup,WebUIOmniboxAimPopup"))
	allocated, free := chromedp.NewExecAllocator(context.Background(), options...)
	ctx, _ := chromedp.NewContext(allocated)
	r := &running{chromium{ctx}, func() error {
		err := chromedp.Cancel(ctx)
		free()
		for deadline := time.Now().Add(patience); os.RemoveAll(profile) != nil && time.Now().Before(deadline); {
			time.Sleep(10 * time.Millisecond) // until its last process is gone
		}
		return err
	}}
	if err := chromedp.Do(ctx); err != nil {
		return nil, errors.Join(fmt.Errorf("the browser does not start: %w", err), r.close())
	}
	return r, nil
})

// started is whether a test has asked for the browser.
var started bool

// TestMain closes the browser after the last test.
func TestMain(m *testing.M) {
	code := m.Run()
	if started {
		if r, err := start(); err == nil {
			if err := r.close(); err != nil {
				fmt.Fprintln(os.Stderr, "closing the browser:", err)
				code = 1
			}
		}
	}
	os.Exit(code)
}

// browser returns the browser. Where there is none the test is skipped, unless
// KINWAIN_BROWSER says that it is required.
func browser(t *testing.T) *chromium {
	t.Helper()
	started = true
	r, err := start()
	switch {
	case errors.Is(err, exec.ErrNotFound) && os.Getenv("KINWAIN_BROWSER") != "required":
		skipped.Test(t, "a browser, as in Debian's package chromium-headless-shell")
	case err != nil:
		t.Fatalf("a browser is required: %v", err)
	}
	return &r.chromium
}

// tab is one tab with a session of its own, as a tablet held upright shows it.
type tab struct {
	*testing.T
	person context.Context // whose tab it is: cookies and storage
	ctx    context.Context
	base   string
	shop   *webtest.Shop
	mutex  sync.Mutex
	// complaints is what the browser found wrong: errors of the script,
	// violations of the content policy, requests that failed or left the app.
	complaints []string
	// expected is the text of complaints that are part of the test.
	expected []string
}

const tabletWidth, tabletHeight = 820, 1180

// tab opens a tab on a shop. At the end of the test nothing may be wrong in it
// but what was expected.
func (c *chromium) tab(s *webtest.Shop) *tab {
	s.Helper()
	person, leave := chromedp.NewContext(c.ctx, chromedp.WithNewBrowserContext())
	b := &tab{T: s.T, person: person, base: s.Server.URL, shop: s}
	if err := chromedp.Do(person); err != nil {
		s.Fatal(err)
	}
	b.reopen()
	s.Cleanup(func() {
		leave()
		b.heard()
	})
	return b
}

// heard fails the test with what was wrong in the tab so far.
func (b *tab) heard() {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	for _, complaint := range b.complaints {
		b.Errorf("in the browser: %s", complaint)
	}
	b.complaints = nil
}

// reopen closes the tab, with all that goes on in it, and opens another one
// of the same person.
func (b *tab) reopen() {
	b.Helper()
	if b.ctx != nil {
		if err := chromedp.Cancel(b.ctx); err != nil {
			b.Fatal(err)
		}
	}
	b.ctx, _ = chromedp.NewContext(b.person) // ends with the person
	if err := chromedp.Listen(b.ctx, b.hear); err != nil {
		b.Fatal(err)
	}
	b.do(chromedp.EmulateViewport(tabletWidth, tabletHeight))
}

// expect names a complaint that is part of the test.
func (b *tab) expect(text string) {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	b.expected = append(b.expected, text)
}

func (b *tab) hear(event any) {
	switch e := event.(type) {
	case *runtime.EventExceptionThrown:
		b.complain(e.ExceptionDetails.Text)
	case *runtime.EventConsoleAPICalled:
		b.complain(fmt.Sprintf("console.%s", e.Type))
	case *log.EventEntryAdded:
		b.complain(fmt.Sprintf("%s %s: %s %s", e.Entry.Source, e.Entry.Level, e.Entry.Text, e.Entry.URL))
	case *network.EventRequestWillBeSent:
		if address := e.Request.URL; !strings.HasPrefix(address, b.base+"/") && !strings.HasPrefix(address, "data:") { // the browser draws its date fields with these
			b.complain("a request leaves the app: " + address)
		}
	}
}

func (b *tab) complain(text string) {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	for _, expected := range b.expected {
		if strings.Contains(text, expected) {
			return
		}
	}
	b.complaints = append(b.complaints, text)
}

// do carries out steps, each of which has to succeed in time.
func (b *tab) do(steps ...chromedp.Action[chromedp.Void]) {
	b.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, patience)
	defer cancel()
	if err := chromedp.Do(ctx, steps...); err != nil {
		b.Fatalf("%v\n%s", err, b.describe())
	}
}

// describe says where the tab is, for a failure.
func (b *tab) describe() string {
	ctx, cancel := context.WithTimeout(b.ctx, 5*time.Second)
	defer cancel()
	text, err := chromedp.Run(ctx, chromedp.Evaluate[string](`location.href + "\n" + document.body.innerText.slice(0, 600)`))
	if err != nil {
		return err.Error()
	}
	return text
}

// evaluate returns what an expression is in the page.
func evaluate[T any](b *tab, expression string, options ...chromedp.EvaluateOption) T {
	b.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, patience)
	defer cancel()
	value, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression, options...))
	if err != nil {
		b.Fatalf("%.200s: %v\n%s", expression, err, b.describe())
	}
	return value
}

// until waits for an expression to be true, over changes of the page. It asks
// less and less often: to ask keeps the browser from what is waited for.
func (b *tab) until(expression string) {
	b.Helper()
	pause := 4 * time.Millisecond
	for deadline := time.Now().Add(patience); ; time.Sleep(pause) {
		pause = min(pause*3/2, 50*time.Millisecond)
		ctx, cancel := context.WithTimeout(b.ctx, patience)
		is, err := chromedp.Run(ctx, chromedp.Evaluate[bool](`document.readyState === "complete" && Boolean(`+expression+`)`))
		cancel()
		if is && err == nil {
			return
		}
		if time.Now().After(deadline) {
			b.Fatalf("never: %s (%v)\n%s", expression, err, b.describe())
		}
	}
}

func (b *tab) visit(path string) {
	b.Helper()
	b.do(chromedp.Navigate(b.base + path))
}

// reload loads the page again, and waits for the new one: what the page writes
// into its history meanwhile looks like the end of the load.
func (b *tab) reload() {
	b.Helper()
	evaluate[chromedp.Void](b, `{ window.before = true; }`)
	b.do(chromedp.Reload())
	b.until(`!window.before`)
}

// signIn opens the printed link and presses its button.
func (b *tab) signIn() {
	b.Helper()
	b.shop.PrintLink()
	b.visit("/sign-in/" + webtest.Token)
	b.click("main form button")
	b.until(`location.pathname === "/"`)
}

// click touches what a selector finds, and before that the line of the step of
// the talk that it is in, where another one is open. Where the page has moved
// between the measuring of the place and the press, it presses again, as people
// do, and says so.
func (b *tab) click(selector string) {
	b.Helper()
	for range 3 {
		evaluate[chromedp.Void](b, fmt.Sprintf(`{
			const e = document.querySelector(%[1]q), step = e?.closest("details.step:not([open])");
			if (step && !e.closest("summary")) step.querySelector("summary").click();
			window.pressing?.abort();
			window.pressing = new AbortController();
			window.landed = undefined;
			addEventListener("click", (e) => { window.landed ||= Boolean(e.target.closest(%[1]q)); }, { capture: true, signal: window.pressing.signal });
		}`, selector))
		b.do(chromedp.Click(chromedp.CSS(selector), chromedp.NodeVisible))
		ctx, cancel := context.WithTimeout(b.ctx, patience)
		missed, err := chromedp.Run(ctx, chromedp.Evaluate[bool](`window.landed === false`)) // of a page that is left nobody knows
		cancel()
		if err != nil || !missed {
			return
		}
		b.Logf("a press on %s was beside it", selector)
	}
}

// field is the selector of the field for a question.
func field(name string) string { return fmt.Sprintf(`[id="%s"]`, name) }

// write replaces what stands in a field, key by key.
func (b *tab) write(name, text string) {
	b.Helper()
	b.click(field(name))
	evaluate[chromedp.Void](b, `document.activeElement.select()`)
	b.do(chromedp.KeyEvent(text))
	if text == "" {
		b.do(chromedp.KeyEvent("\b"))
	}
}

// choose picks an option as a finger does.
func (b *tab) choose(name, value string) {
	b.Helper()
	b.until(fmt.Sprintf(`document.querySelector('%s option[value="%s"]')`, field(name), value))
	evaluate[chromedp.Void](b, fmt.Sprintf(`{ const s = document.querySelector('%s'); s.value = "%s"; for (const e of ["input", "change"]) s.dispatchEvent(new Event(e, {bubbles: true})); }`, field(name), value))
}

// value returns what stands in a field.
func (b *tab) value(name string) string {
	b.Helper()
	return evaluate[string](b, fmt.Sprintf(`document.querySelector('%s').value`, field(name)))
}

// words returns the text of what a selector finds, as it is seen.
func (b *tab) words(selector string) string {
	b.Helper()
	return strings.Join(strings.Fields(evaluate[string](b, fmt.Sprintf(`[...document.querySelectorAll('%s')].map((e) => e.innerText).join(" ")`, selector))), " ")
}

// order lists the frames of the list beside the form.
func (b *tab) order() string {
	b.Helper()
	return evaluate[string](b, `[...document.querySelectorAll("#ranking [data-frame]")].map((li) => li.dataset.frame).join(" ")`)
}

// saved waits until everything that was typed is saved.
func (b *tab) saved() {
	b.Helper()
	b.until(`document.querySelector("[data-state]").textContent.startsWith("Saved.")`)
}

// offline drops the network, or brings it back.
func (b *tab) offline(is bool) {
	b.Helper()
	conditions := network.EmulateNetworkConditionsByRuleParams{MatchedNetworkConditions: []*network.Conditions{{Offline: is, DownloadThroughput: -1, UploadThroughput: -1}}}
	if _, err := chromedp.Call(b.ctx, network.EmulateNetworkConditionsByRule, conditions); err != nil {
		b.Fatal(err)
	}
	if _, err := chromedp.Call(b.ctx, network.OverrideNetworkState, network.OverrideNetworkStateParams{Offline: is, DownloadThroughput: -1, UploadThroughput: -1}); err != nil {
		b.Fatal(err)
	}
}

// scheme sets the colour scheme that the tablet asks for.
func (b *tab) scheme(name string) {
	b.Helper()
	if _, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: name}}}); err != nil {
		b.Fatal(err)
	}
}
