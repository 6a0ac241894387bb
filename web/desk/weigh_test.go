package desk_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"kinwain/web/webtest"
)

// TestWeighedUnseen weighs somebody on the turned screen: the figure is saved,
// and stands on no page that comes after.
func TestWeighedUnseen(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	address, f := v.Consultation()
	f.Set("riders[0].height_cm", "178")
	f = v.Press(f, address, "add riders").Form()
	f.Set("riders[1].height_cm", "165")
	scale := v.Press(f, address, "weigh 0").Is(http.StatusOK, address+"/weigh/0")
	send := func(a *webtest.Answer, typed string) *webtest.Answer {
		return v.Post(a.One("main form").AttrOr("action", ""), url.Values{
			"version": {a.One(`main [name="version"]`).AttrOr("value", "")}, "riders[0].weight_kg": {typed}})
	}
	for _, typed := range []string{"", "heavy", "937 kg"} {
		a := send(scale, typed).Is(http.StatusUnprocessableEntity, address+"/weigh/0")
		if a.Text(".weigh .error") == "" || typed != "" && strings.Contains(string(a.Body), typed) {
			t.Errorf("%q: %s", typed, a.Text(".weigh"))
		}
	}
	if got := v.Get(address).Form().Values; got.Get("riders[0].weight_kg") != "" || got.Get("hide") != "" {
		t.Errorf("what cannot be is saved: %v", got)
	}
	done := send(scale, "83.7").Is(http.StatusOK, address+"/weigh/0?done=yes")
	if text := done.Text(".weigh"); strings.Contains(string(done.Body), "83.7") || !strings.Contains(text, "Enough room") || !strings.Contains(text, "kg to spare") || !strings.Contains(text, "Now Rider B") {
		t.Errorf("it says %q", text)
	}
	if got := v.Get(address).Form().Values; got.Get("riders[0].weight_kg") != "83.7" || got.Get("riders[0].weighed") != "dressed" || got.Get("hide") != "yes" {
		t.Errorf("saved is %v", got)
	}
	a := v.Get(address)
	if got := says(a, "riders"); got != "A 178 cm, weighed; B 165 cm, not weighed" {
		t.Errorf("the riders are said as %q", got)
	}
	a.One("form.hides")
	frame := v.Get(address+"/frames").Page.Find("[data-frame] a").First().AttrOr("href", "")
	if sheets := v.Get(frame); strings.Contains(sheets.Text("main"), "83.7") || sheets.Page.Find(".sheet strong").Length() == 0 || sheets.Page.Find(".sheet td").Length() > 0 {
		t.Errorf("the load sheet says %q; of %d cells", sheets.Text(".sheet"), sheets.Page.Find(".sheet td").Length())
	}
	f = a.Form()
	f.Values.Del("hide")
	v.Press(f, address, "save")
	if sheets := v.Get(frame); !strings.Contains(sheets.Text(".sheet"), "83.7") {
		t.Errorf("shown again, the load sheet says %q", sheets.Text(".sheet"))
	}
	for _, row := range []string{"2", "-1", "x"} {
		if a := v.Get(address + "/weigh/" + row); a.Status != http.StatusNotFound {
			t.Errorf("rider %s: %d", row, a.Status)
		}
	}
}
