package browser_test

import (
	"net/url"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"kinwain/web/webtest"
)

// TestLivesInABrowser types new weights on a phone: what comes of them moves on
// the summary itself while they are typed, nothing of them is on paper, and
// where no script runs the button leads to a page that says the same.
func TestLivesInABrowser(t *testing.T) {
	c := browser(t)
	s := webtest.OpenWith(t, withRules)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	link := v.SendHome(address, "osier-m", nil)
	b := c.tab(s)
	b.do(chromedp.EmulateViewport(390, tabletHeight))
	b.visit(link)
	b.write("passengers[0].weight_kg", "17,5")
	b.until(`document.querySelector("#moved .still")?.innerText.includes("still holds")`)
	moved := b.words("#moved")
	if !strings.Contains(moved, "34.5 kg to spare") || b.words("[data-said]") != "This set-up still holds, with care" || evaluate[string](b, `location.pathname`) != link {
		t.Errorf("%s; said is %q", moved, b.words("[data-said]"))
	}
	b.look("a summary with a new weight")
	b.rules("a summary with a new weight")
	if printed := b.printed(); !strings.Contains(printed, "Howlongitlasts") || strings.Contains(printed, "stillholds") || strings.Contains(printed, "Weighedormeasured") {
		t.Error("what was typed is on paper")
	}
	b.do(chromedp.EmulateViewport(390, tabletHeight))
	b.write("passengers[0].weight_kg", "heavy")
	b.until(`document.getElementById("passengers[0].weight_kg").getAttribute("aria-invalid") && !document.querySelector("#moved .still")`)
	if got := b.words(`[data-error-for="passengers[0].weight_kg"]`); !strings.HasPrefix(got, "This is not a weight") {
		t.Errorf("the fault is %q", got)
	}
	b.write("passengers[0].weight_kg", "80 lb")
	b.until(`document.querySelector("#moved .alert") && !document.querySelector(".lives [aria-invalid]")`)
	if got := b.words("#moved .still"); got != "This set-up no longer holds" {
		t.Errorf("80 lb: %s", got)
	}
	b.click(".lives .primary")
	b.until(`document.activeElement.matches(".still")`)
	b.offline(true)
	b.expect("ERR_INTERNET_DISCONNECTED")
	b.write("passengers[0].weight_kg", "17")
	b.until(`document.querySelector("#moved .alert")?.innerText.startsWith("There was no answer")`)
	b.offline(false)
	b.click(".lives .primary")
	b.until(`document.querySelector("#moved .still")?.innerText.includes("still holds")`)

	b.withoutScript()
	b.visit(link)
	b.write("passengers[0].weight_kg", "17,5")
	b.click(".lives .primary")
	b.until(`location.pathname.endsWith("/weigh")`)
	if got := b.words("#moved"); got != moved {
		t.Errorf("without a script it says %q, with one %q", got, moved)
	}
	if address := evaluate[string](b, `location.href`); strings.Contains(address, "17") && strings.Contains(address, "weight") {
		t.Errorf("a weight is in the address: %s", address)
	}
}

// TestLivesWithoutWeights types what everybody weighs now where the riders'
// weights were left out, in the language with the longest words.
func TestLivesWithoutWeights(t *testing.T) {
	c := browser(t)
	s := webtest.OpenWith(t, withRules)
	v := s.Staff()
	link := v.SendHome(v.Interview([]byte(webtest.Family)), "teasel", url.Values{"hide": {"yes"}})
	b := c.tab(s)
	b.do(chromedp.EmulateViewport(390, tabletHeight))
	b.visit(link + "/weigh?lang=de")
	b.write("passengers[0].weight_kg", "17,5")
	b.until(`document.querySelector("#moved .still")?.innerText === "Nicht beurteilt"`)
	b.write("riders[0].weight_kg", "80")
	b.write("riders[1].weight_kg", "66")
	b.until(`document.querySelectorAll("#moved tr").length > 4`)
	if text := b.words("#moved"); !strings.Contains(text, "kg Reserve") || strings.Contains(text, "Gesagt am") {
		t.Error(text)
	}
	b.look("new weights where the old are left out")
	b.rules("new weights where the old are left out")
}
