package browser_test

import (
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"kinwain/internal/staff"
	"kinwain/web/webtest"
)

// TestStaffInABrowser signs in and adds people in a real browser, by keyboard
// alone and without script.
func TestStaffInABrowser(t *testing.T) {
	c := browser(t)
	t.Run("by keyboard", func(t *testing.T) { addByKeyboard(t, c) })
	t.Run("by PIN, without script", func(t *testing.T) { signInByPIN(t, c) })
	t.Run("looks", func(t *testing.T) { lookAtStaff(t, c) })
}

// addByKeyboard signs in and adds a person without a hand on the screen.
func addByKeyboard(t *testing.T, c *chromium) {
	s := webtest.Open(t)
	s.Hire("Ansa", staff.Manager)
	b := c.tab(s)
	b.expect("status of 403")
	b.expect("status of 422")
	b.visit("/settings/staff")
	b.tabTo("main a.button")
	b.do(chromedp.KeyEvent("\r"))
	b.until(`location.pathname === "/sign-in"`)
	b.tabTo("#name")
	b.do(chromedp.KeyEvent("ansa"))
	b.tabTo("#passphrase")
	b.do(chromedp.KeyEvent("not this one"), chromedp.KeyEvent("\r"))
	b.until(`document.activeElement.matches(".alert")`)
	if b.value("name") != "ansa" {
		t.Error("the name is lost")
	}
	b.tabTo("#passphrase")
	b.do(chromedp.KeyEvent(webtest.Passphrase), chromedp.KeyEvent("\r"))
	b.until(`location.pathname === "/settings/staff"`) // where they wanted to go
	b.tabTo("#name")
	b.do(chromedp.KeyEvent("Belto"))
	b.tabTo("#role")
	b.do(chromedp.KeyEvent("M"))
	if b.value("role") != "manager" {
		t.Errorf("the role is %q", b.value("role"))
	}
	b.tabTo(`form[action="/settings/staff"] button`)
	b.do(chromedp.KeyEvent(" "))
	b.until(`document.querySelector(".issued .secret")`)
	if got := b.words(".holders"); !strings.Contains(got, "Belto") || s.Person("Belto").Role != staff.Manager {
		t.Errorf("added: %q", got)
	}
	b.tabTo(".me")
	b.do(chromedp.KeyEvent("\r"))
	b.until(`location.pathname === "/me"`)
	b.tabTo(".out button")
	b.do(chromedp.KeyEvent("\r"))
	b.until(`location.pathname === "/sign-in"`)
}

// signInByPIN enrols the tablet and picks a name on it, all by buttons.
func signInByPIN(t *testing.T, c *chromium) {
	s := webtest.Open(t)
	s.Hire("Belto", staff.Salesperson)
	s.WithPIN("Belto")
	b := c.tab(s)
	if _, err := chromedp.Call(b.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true}); err != nil {
		t.Fatal(err)
	}
	b.signIn()
	b.visit("/settings/staff")
	b.click("#label")
	b.do(chromedp.KeyEvent("counter tablet"))
	b.click(`form[action="/settings/staff/devices"] button`)
	b.until(`document.querySelector(".done")`)
	b.click(".out button")
	b.until(`document.querySelector("#pin")`)
	b.click("#pin")
	b.do(chromedp.KeyEvent(webtest.PIN))
	b.click(`button[value="pin"]`)
	b.until(`document.querySelector(".start")`)
	if got := b.words(".me"); !strings.HasSuffix(got, "Belto") {
		t.Error(got)
	}
}

// lookAtStaff holds every page of the staff to what all pages are held to.
func lookAtStaff(t *testing.T, c *chromium) {
	s := webtest.Open(t)
	s.Hire("Ansa of the Quay and the Long Meadow", staff.Manager)
	s.WithPIN("Ansa of the Quay and the Long Meadow")
	b := c.tab(s)
	b.expect("status of 403")
	b.expect("status of 404")
	b.expect("status of 422")
	b.visit("/settings/staff")
	b.look("not signed in")
	b.visit("/sign-in/new/nothing")
	b.look("a link that is used up")
	b.visit("/sign-in")
	b.look("sign in")
	s.PrintLink()
	b.visit("/sign-in/" + webtest.Token)
	b.look("the printed link")
	b.signIn()
	b.visit("/me")
	b.look("own page by the link")
	b.visit("/settings/staff")
	b.click("#tablet")
	b.do(chromedp.KeyEvent("window tablet"))
	b.click(`form[action="/settings/staff/devices/code"] button`)
	b.until(`document.querySelector(".issued .scan svg")`)
	b.look("a code for a tablet")
	code := strings.TrimPrefix(b.words(".issued .secret"), webtest.Public)
	b.visit(code)
	b.look("what a tablet is asked")
	b.visit("/settings/staff")
	b.click("#label")
	b.do(chromedp.KeyEvent("counter tablet"))
	b.click(`form[action="/settings/staff/devices"] button`)
	b.until(`document.querySelector(".done")`)
	b.look("enrolled")
	b.click("#name")
	b.do(chromedp.KeyEvent("Belto"))
	b.click(`form[action="/settings/staff"] button`)
	b.until(`document.querySelector(".issued")`)
	b.look("a link, shown once")
	link := strings.TrimPrefix(b.words(".issued .secret"), webtest.Public)
	b.visit("/settings/tokens")
	b.click("#label")
	b.do(chromedp.KeyEvent("web site"))
	b.click(`form[action="/settings/tokens"] button`)
	b.until(`document.querySelector(".issued")`)
	b.look("a token, shown once")
	b.click(".out button")
	b.until(`document.querySelector("#pin")`)
	b.look("sign in on an enrolled device")
	b.visit(link)
	b.look("choose a passphrase")
	b.click("#new")
	b.do(chromedp.KeyEvent(webtest.Passphrase), chromedp.KeyEvent("\r"))
	b.until(`document.querySelector(".start")`)
	b.visit("/me")
	b.look("own page")
	b.visit("/settings/tokens")
	b.look("for managers")
}
