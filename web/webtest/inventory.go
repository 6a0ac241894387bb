package webtest

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"mime/multipart"
	"net/http"
	"net/url"
	"slices"
	"testing"

	"github.com/PuerkitoBio/goquery"

	"kinwain/internal/catalog"
	"kinwain/internal/catalog/sheet"
	"kinwain/testdata"
)

// Ware reads what the fields of the form of a thing hold.
func (a *Answer) Ware() *Filled {
	a.Helper()
	form := a.One("form#ware")
	f := &Filled{T: a.T, Page: a.Page, Values: url.Values{}}
	form.Find("input, select, textarea").Each(func(_ int, field *goquery.Selection) {
		name := field.AttrOr("name", "")
		switch field.AttrOr("type", goquery.NodeName(field)) {
		case "checkbox", "radio":
			if _, checked := field.Attr("checked"); checked {
				f.Values.Add(name, field.AttrOr("value", "on"))
			}
		case "select":
			f.Values.Add(name, field.Find("option[selected]").AttrOr("value", ""))
		case "textarea":
			f.Values.Add(name, field.Text())
		default:
			f.Values.Add(name, field.AttrOr("value", ""))
		}
	})
	return f
}

// Save sends the form of a thing by a button.
func (v *Visitor) Save(path string, f *Filled, do string) *Answer {
	v.Helper()
	f.Values.Set("do", do)
	return v.Post(path, f.Values)
}

// Catalogue is the catalogue as it is kept.
func (s *Shop) Catalogue() *catalog.Catalogue {
	s.Helper()
	c, err := s.Store.Catalogue(s.Context())
	if err != nil {
		s.Fatal(err)
	}
	return c
}

// AnyCode returns a frame, an add-on that fits it, and a unit of the demo shop.
func (s *Shop) AnyCode() (frame, addOn, unit string) {
	c := s.Catalogue()
	return c.Frames[0].Code, c.AddOns[0].Code, c.Units[0].Tag
}

// ChangedShop is the document of the demo shop after a change.
func ChangedShop(t *testing.T, change func(*catalog.Catalogue)) sheet.File {
	t.Helper()
	c, err := catalog.Parse(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	change(c)
	document, err := c.Document()
	if err != nil {
		t.Fatal(err)
	}
	return sheet.File{Name: "catalogue.json", Data: document}
}

// Without returns a catalogue without some frames or add-ons, and without all
// that speaks of them.
func Without(c *catalog.Catalogue, frame func(catalog.Frame) bool, addOn func(catalog.AddOn) bool) *catalog.Catalogue {
	left := *c
	if frame != nil {
		left.Frames = slices.DeleteFunc(slices.Clone(c.Frames), frame)
	}
	if addOn != nil {
		left.AddOns = slices.DeleteFunc(slices.Clone(c.AddOns), addOn)
	}
	gone := func(code string) bool {
		return c.Frame(code) != nil && left.Frame(code) == nil || c.AddOn(code) != nil && left.AddOn(code) == nil
	}
	for i := range left.AddOns {
		a := &left.AddOns[i]
		a.Fits, a.Excludes = slices.DeleteFunc(slices.Clone(a.Fits), gone), slices.DeleteFunc(slices.Clone(a.Excludes), gone)
		for code := range a.OnFrame {
			if gone(code) {
				delete(a.OnFrame, code)
			}
		}
		catalog.Prune("add_ons", a)
	}
	left.Units = slices.DeleteFunc(slices.Clone(c.Units), func(u catalog.Unit) bool { return gone(u.Frame) || slices.ContainsFunc(u.Fitted, gone) })
	return &left
}

// SendPhoto uploads a file as the photo of a thing.
func (v *Visitor) SendPhoto(path, alt string, data []byte) *Answer {
	v.Helper()
	return v.SendWithPhoto(path, url.Values{"alt": {alt}}, data)
}

// SendWithPhoto sends the fields of the form of a thing, and a photo.
func (v *Visitor) SendWithPhoto(path string, fields url.Values, data []byte) *Answer {
	v.Helper()
	return v.SendFiles(path+"/photo", fields, map[string][]byte{"photo": data})
}

// SendFiles sends the fields of a form, and files by the names of their fields.
func (v *Visitor) SendFiles(path string, fields url.Values, files map[string][]byte) *Answer {
	v.Helper()
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	for name, values := range fields {
		for _, value := range values {
			if err := form.WriteField(name, value); err != nil {
				v.Fatal(err)
			}
		}
	}
	for name, data := range files {
		file, err := form.CreateFormFile(name, "IMG_0001.JPG")
		if err == nil {
			_, err = file.Write(data)
		}
		if err != nil {
			v.Fatal(err)
		}
	}
	if err := form.Close(); err != nil {
		v.Fatal(err)
	}
	r := v.Request(http.MethodPost, path, &body)
	r.Header.Set("Content-Type", form.FormDataContentType())
	return v.Send(r)
}

// SourcePages adds the pages of a photo of where a figure comes from.
func SourcePages(v *Visitor, pages map[string]*Answer) {
	v.Helper()
	const path, field = "/inventory/frames/sedge", "rider_max_cm.source_photo"
	form := v.Get(path).Ware().Values
	weight := form.Get("bare_weight_kg")
	form.Set("do", "save")
	form.Set("bare_weight_kg", "none")
	faulty := v.SendFiles(path, form, map[string][]byte{field: PictureOf(v.T, 40, 30)}).Is(http.StatusUnprocessableEntity, path)
	pages["a photo of a source beside a fault"] = faulty
	form = faulty.Ware().Values
	form.Set("do", "save")
	form.Set("bare_weight_kg", weight)
	pages["a source with a photo"] = v.SendFiles(path, form, nil).Is(http.StatusOK, path)
	at := "/sources/" + form.Get(field)
	pages["a photo of a source"] = v.Get(at).Is(http.StatusOK, at)
	pages["a photo that is not here"] = v.Get("/sources/0").Is(http.StatusNotFound, "/sources/0")
}

// PictureOf makes a picture of some width and height.
func PictureOf(t *testing.T, w, h int) []byte {
	t.Helper()
	p := image.NewRGBA(image.Rect(0, 0, w, h))
	for x := range w {
		for y := range h {
			p.Set(x, y, color.RGBA{R: uint8(x), G: uint8(y), A: 255})
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, p); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// Sure posts a form, and once more where the page asks about it first.
func (v *Visitor) Sure(path string, values url.Values) *Answer {
	v.Helper()
	a := v.Post(path, values)
	if asked := a.Page.Find(`input[name="seen"]`); asked.Length() == 1 {
		values.Set("seen", asked.AttrOr("value", ""))
		return v.Post(path, values)
	}
	return a
}
