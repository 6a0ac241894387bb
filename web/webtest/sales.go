package webtest

import (
	"net/http"
	"net/url"
	"strings"

	"github.com/PuerkitoBio/goquery"
)

// Quoted makes a quote for a frame, as it is proposed, from the form on the
// page, and returns its page.
func (v *Visitor) Quoted(frame string) *Answer {
	v.Helper()
	a := v.Get(frame+"/quote").Is(http.StatusOK, frame+"/quote")
	a = v.Post(frame+"/quote", Sent(a.One("form.make")))
	if a.Status != http.StatusOK || !strings.HasPrefix(a.Path, "/quotes/") {
		v.Fatalf("no quote: %d at %s", a.Status, a.Path)
	}
	return a
}

// Holds reserves a bike from the page of a quote.
func (v *Visitor) Holds(quote *Answer, tag, until string) *Answer {
	v.Helper()
	path, _, _ := strings.Cut(quote.Path, "#")
	v.Post(path+"/hold", url.Values{"hold": {tag}, "until": {until}})
	return v.Get(path).Is(http.StatusOK, path)
}

// Sent reads what a form sends besides its button.
func Sent(form *goquery.Selection) url.Values {
	values := url.Values{}
	form.Find("input, select, textarea").Each(func(_ int, field *goquery.Selection) {
		name, value := field.AttrOr("name", ""), field.AttrOr("value", "")
		_, checked := field.Attr("checked")
		switch kind := field.AttrOr("type", goquery.NodeName(field)); {
		case kind == "textarea":
			value = field.Text()
		case kind == "select":
			chosen := field.Find("option[selected]")
			if chosen.Length() == 0 {
				chosen = field.Find("option").First()
			}
			value = chosen.AttrOr("value", "")
		case (kind == "radio" || kind == "checkbox") && !checked:
			return
		}
		values.Add(name, value)
	})
	return values
}

// Booked books a ride from the form on the page, and returns its page.
func (v *Visitor) Booked(frame, unit, day, clock string) *Answer {
	v.Helper()
	a := v.Get(frame+"/ride").Is(http.StatusOK, frame+"/ride")
	values := Sent(a.One("form.book"))
	values.Set("unit", unit)
	values.Set("date", day)
	values.Set("time", clock)
	a = v.Post(frame+"/ride", values)
	if a.Status != http.StatusOK || !strings.HasPrefix(a.Path, "/rides/") {
		v.Fatalf("no ride: %d at %s: %s", a.Status, a.Path, a.Text(".error"))
	}
	return a
}

// SendHome makes a fit summary of a frame and returns the path of its link.
func (v *Visitor) SendHome(address, frame string, values url.Values) string {
	v.Helper()
	path := address + "/frames/" + frame + "/send"
	a := v.Post(path, values).Is(http.StatusOK, path)
	link, found := strings.CutPrefix(a.One(".handover .address a").AttrOr("href", ""), Public)
	if !found || a.Text(".handover .address") != Public+link {
		v.Fatalf("the link is %q", a.Text(".handover .address"))
	}
	return link
}
