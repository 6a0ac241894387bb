package webtest

import (
	"fmt"
	"net/url"
	"testing"

	"github.com/PuerkitoBio/goquery"
)

// Filled is the profile form of a page, as a browser would send it.
type Filled struct {
	*testing.T
	Page   *goquery.Document
	Values url.Values
}

// Form reads what the fields of the profile form hold.
func (a *Answer) Form() *Filled {
	a.Helper()
	form := a.One("form[data-live]")
	f := &Filled{T: a.T, Page: a.Page, Values: url.Values{}}
	form.Find("input, select").Each(func(_ int, field *goquery.Selection) {
		name := field.AttrOr("name", "")
		switch field.AttrOr("type", goquery.NodeName(field)) {
		case "checkbox":
			if _, checked := field.Attr("checked"); checked {
				f.Values.Add(name, field.AttrOr("value", "on"))
			}
		case "select":
			chosen := field.Find("option[selected]")
			if chosen.Length() == 0 {
				chosen = field.Find("option").First()
			}
			f.Values.Add(name, chosen.AttrOr("value", ""))
		default:
			f.Values.Add(name, field.AttrOr("value", ""))
		}
	})
	return f
}

// Set types into a field, or chooses, that the page has to have.
func (f *Filled) Set(name, value string) {
	f.Helper()
	field := f.Page.Find(fmt.Sprintf(`[name="%s"]:not([name="unknown"])`, name))
	if field.Length() != 1 {
		f.Fatalf("%d fields %s", field.Length(), name)
	}
	if goquery.NodeName(field) == "select" && field.Find(fmt.Sprintf(`option[value="%s"]`, value)).Length() != 1 {
		f.Fatalf("%s does not offer %q", name, value)
	}
	if field.AttrOr("type", "") == "checkbox" && field.AttrOr("value", "") != value {
		f.Fatalf("%s cannot be %q", name, value)
	}
	f.Values.Set(name, value)
}

// DontKnow ticks "don't know yet" for a question.
func (f *Filled) DontKnow(name string) {
	f.Helper()
	if n := f.Page.Find(fmt.Sprintf(`input[name="unknown"][value="%s"]`, name)).Length(); n != 1 {
		f.Fatalf("%d boxes to say that %s is not known", n, name)
	}
	f.Values.Add("unknown", name)
}

// Press sends the form by one of its buttons.
func (v *Visitor) Press(f *Filled, action, do string) *Answer {
	v.Helper()
	if f.Page.Find(fmt.Sprintf(`form[data-live] button[name="do"][value="%s"]`, do)).Length() == 0 {
		v.Fatalf("there is no button for %q", do)
	}
	values := url.Values{"do": {do}}
	for name, list := range f.Values {
		values[name] = list
	}
	return v.Post(action, values)
}
