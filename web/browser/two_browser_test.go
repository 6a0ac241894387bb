package browser_test

import (
	"testing"

	"kinwain/web/webtest"
)

// answerOnTwoTablets answers one consultation on two tablets at a time.
func answerOnTwoTablets(t *testing.T, c *chromium) {
	s := webtest.Open(t)
	one, two := c.tab(s), c.tab(s)
	one.signIn()
	one.click(".start .primary")
	one.until(`document.querySelector("form[data-live]")`)
	path := evaluate[string](one, `location.pathname`)
	two.signIn()
	two.visit(path)
	one.write("cargo_kg", "12")
	one.saved()
	two.write("budget_cents", "3000")
	two.saved()
	two.until(`document.getElementById("cargo_kg").value === "12"`)
	one.expect("status of 409")
	two.write("cargo_kg", "20")
	two.until(`document.querySelector("[data-state]").textContent.startsWith("Saved.")`)
	two.until(`!localStorage.length`)
	one.write("cargo_kg", "30")
	one.until(`document.querySelectorAll("[data-clash] [type=radio]").length === 2`)
	if one.value("cargo_kg") != "30" || one.value("budget_cents") != "3000" {
		t.Errorf("the page holds %q and %q", one.value("cargo_kg"), one.value("budget_cents"))
	}
	one.click(`[data-clash] [value="30"]`)
	one.click("[data-clash] .primary")
	one.until(`!localStorage.length`)
	if got := s.Staff().Get(path).Form().Values; got.Get("cargo_kg") != "30" || got.Get("budget_cents") != "3000" {
		t.Errorf("saved is %v", got)
	}
}
