package inventory_test

import (
	"net/http"
	"strings"
	"testing"

	"kinwain/web/webtest"
)

func TestInventoryAsJSON(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	code, _, _ := v.AnyCode()
	path := "/inventory/frames/" + code
	get := v.Request(http.MethodGet, path, nil)
	get.Header.Set("Accept", "application/json")
	a := v.Send(get)
	tag := a.Header.Get("ETag")
	put := func(match, document string) *webtest.Answer {
		r := v.Request(http.MethodPut, path, strings.NewReader(document))
		r.Header.Set("Accept", "application/json")
		if match != "" {
			r.Header.Set("If-Match", match)
		}
		return v.Send(r)
	}
	changed := strings.Replace(string(a.Body), `"notes": "`, `"notes": "Checked. `, 1)
	if a.Status != http.StatusOK || tag == "" || changed == string(a.Body) {
		t.Fatalf("%d %s", a.Status, a.Body)
	}
	for _, c := range []struct {
		match, document string
		status          int
	}{
		{"", changed, http.StatusPreconditionRequired},
		{`"other"`, changed, http.StatusPreconditionFailed},
		{tag, "{", http.StatusUnprocessableEntity},
		{tag, strings.Replace(changed, `"code": "`+code, `"code": "x`+code, 1), http.StatusUnprocessableEntity},
		{tag, strings.Replace(changed, `"name": "`, `"nmae": "`, 1), http.StatusUnprocessableEntity},
		{tag, changed, http.StatusOK},
		{tag, changed, http.StatusPreconditionFailed},
	} {
		if a := put(c.match, c.document); a.Status != c.status {
			t.Errorf("%s %.40s: %d %s, want %d", c.match, c.document, a.Status, a.Body, c.status)
		}
	}
	if !strings.HasPrefix(v.Catalogue().Frame(code).Notes, "Checked. ") {
		t.Error("not stored")
	}
	again := v.Request(http.MethodGet, path, nil)
	again.Header.Set("Accept", "application/json")
	if v.Send(again).Header.Get("ETag") == tag {
		t.Error("the tag is the same")
	}
}
