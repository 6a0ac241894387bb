package web_test

import (
	"bytes"
	"fmt"
	"io/fs"
	"maps"
	"net/http"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"kinwain/testdata"
	"kinwain/web/webtest"
)

// described is the document by which other programs ask, with a validator by
// other hands.
type described struct {
	*webtest.Shop
	compiler   *jsonschema.Compiler
	root       map[string]any
	operations map[string][]string // the methods by their address
}

// jsonOf reads JSON as the validator does.
func jsonOf(t testing.TB, text []byte) any {
	t.Helper()
	value, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatalf("%v: %.300s", err, text)
	}
	return value
}

func describe(s *webtest.Shop) *described {
	s.Helper()
	d := &described{s, jsonschema.NewCompiler(), nil, map[string][]string{}}
	d.root = jsonOf(s, s.Stranger().Get("/openapi.json").Is(http.StatusOK, "/openapi.json").Body).(map[string]any)
	d.compiler.DefaultDraft(jsonschema.Draft2020)
	if err := d.compiler.AddResource("openapi.json", d.root); err != nil {
		s.Fatal(err)
	}
	for path, item := range d.root["paths"].(map[string]any) {
		for method := range item.(map[string]any) {
			d.operations[path] = append(d.operations[path], strings.ToUpper(method))
		}
	}
	return d
}

// at follows keys into the document; nil where there is nothing.
func (d *described) at(keys ...string) any {
	var value any = d.root
	for _, key := range keys {
		object, _ := value.(map[string]any)
		value = object[key]
	}
	return value
}

// pathOf finds the described address that a request is to.
func (d *described) pathOf(r *http.Request) string {
	asked := strings.Split(r.URL.EscapedPath(), "/")
	for path := range d.operations {
		parts := strings.Split(path, "/")
		if slices.EqualFunc(parts, asked, func(part, is string) bool { return part == is || strings.HasPrefix(part, "{") && is != "" }) {
			return path
		}
	}
	return ""
}

// takes says why a document is not what stands at some keys of the description.
func (d *described) takes(document []byte, keys ...string) error {
	if d.at(keys...) == nil {
		return fmt.Errorf("nothing is described at %v", keys)
	}
	escape := strings.NewReplacer("~", "~0", "/", "~1", "{", "%7B", "}", "%7D")
	for i := range keys {
		keys[i] = escape.Replace(keys[i])
	}
	s, err := d.compiler.Compile("openapi.json#/" + strings.Join(keys, "/"))
	if err != nil {
		return err
	}
	value, err := jsonschema.UnmarshalJSON(bytes.NewReader(document))
	if err != nil {
		return err
	}
	return s.Validate(value)
}

// holds sends a request, and checks that the answer is as described: its
// status, its headers and its document.
func (d *described) holds(v *webtest.Visitor, r *http.Request, status int) *webtest.Answer {
	d.Helper()
	a := v.Send(r)
	if a.Status != status {
		d.Fatalf("%s %s: %d, want %d: %.300s", r.Method, r.URL, a.Status, status, a.Body)
	}
	answer := []string{"paths", d.pathOf(r), strings.ToLower(r.Method), "responses", fmt.Sprint(status)}
	if headers, described := d.at(append(slices.Clip(answer), "headers")...).(map[string]any); described {
		for name := range headers {
			if a.Header.Get(name) == "" {
				d.Errorf("%s %s, %d: no header %s", r.Method, r.URL.Path, status, name)
			}
		}
	}
	if kind := a.Header.Get("Content-Type"); !strings.HasPrefix(kind, "application/json") {
		d.Errorf("%s %s, %d is %s", r.Method, r.URL.Path, status, kind)
	}
	if err := d.takes(a.Body, append(answer, "content", "application/json", "schema")...); err != nil {
		d.Errorf("%s %s, %d: %v", r.Method, r.URL.Path, status, err)
	}
	return a
}

// document makes a request that sends a document, as a program does.
func (d *described) document(v *webtest.Visitor, method, path, token, document string) *http.Request {
	r := v.Request(method, path, strings.NewReader(document))
	r.Header.Set("Accept", "application/json")
	if document != "" {
		r.Header.Set("Content-Type", "application/json")
	}
	if token != "" {
		r.Header.Set("Authorization", "Bearer "+token)
	}
	return r
}

// samples are the profile documents of the sample customers.
func samples(t *testing.T) map[string]string {
	t.Helper()
	names, err := fs.Glob(testdata.Profiles, "profiles/*.json")
	if err != nil || len(names) < 10 {
		t.Fatal(names, err)
	}
	all := map[string]string{}
	for _, name := range names {
		data, err := testdata.Profiles.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		all[name] = string(data)
	}
	return all
}

// TestOpenAPI holds that the document keeps to OpenAPI, and names every way in
// that a program may take with a token, with nothing that is not there.
func TestOpenAPI(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	d := describe(s)
	standard := jsonschema.NewCompiler()
	const of = "https://spec.openapis.org/oas/3.1/schema/2022-10-07"
	if err := standard.AddResource(of, jsonOf(t, testdata.OpenAPI)); err != nil {
		t.Fatal(err)
	}
	whole, err := standard.Compile(of)
	if err != nil {
		t.Fatal(err)
	}
	if err := whole.Validate(any(d.root)); err != nil {
		t.Error(err)
	}
	broken := maps.Clone(d.root)
	if delete(broken, "info"); whole.Validate(any(broken)) == nil {
		t.Error("a document without what it is about is taken")
	}
	all := patterns(s)
	for path, methods := range d.operations {
		for _, method := range methods {
			if !slices.Contains(all[path], method) {
				t.Errorf("%s %s is described and not there", method, path)
			}
		}
	}
	for pattern, methods := range all {
		for _, method := range methods {
			if may("program", pattern) && !may("nobody", pattern) && !slices.Contains(d.operations[pattern], method) {
				t.Errorf("%s %s is not described", method, pattern)
			}
		}
	}
}

// TestEveryJSONIsDescribed asks for every address as a program would.
func TestEveryJSONIsDescribed(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	d := describe(s)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Plain))
	frame, addOn, unit := s.AnyCode()
	fill := strings.NewReplacer("{id}", strings.TrimPrefix(address, "/consultations/"), "/frames/{code}", "/frames/"+frame, "/add-ons/{code}", "/add-ons/"+addOn, "/units/{code}", "/units/"+unit)
	found := 0
	for pattern, methods := range patterns(s) {
		if !slices.Contains(methods, http.MethodGet) {
			continue
		}
		path := fill.Replace(pattern)
		if pattern == "/inventory/export" {
			path += "?format=json"
		}
		r := d.document(v, http.MethodGet, path, "", "")
		if a := v.Send(r); a.Status != http.StatusOK || !strings.HasPrefix(a.Header.Get("Content-Type"), "application/json") {
			continue
		}
		found++
		if !slices.Contains(d.operations[pattern], http.MethodGet) {
			t.Errorf("GET %s answers with JSON and is not described", pattern)
			continue
		}
		d.holds(v, d.document(v, http.MethodGet, path, "", ""), http.StatusOK)
	}
	if found < 6 {
		t.Errorf("JSON at %d addresses", found)
	}
}

// TestOpenAPIIsFetched holds that anybody gets the document, small, and again
// only where it is another one.
func TestOpenAPIIsFetched(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Stranger()
	whole := v.Get("/openapi.json")
	if len(whole.Header.Values("Set-Cookie")) > 0 || whole.Header.Get("Content-Type") != "application/json" {
		t.Error(whole.Header)
	}
	for _, coding := range []string{"br", "gzip"} {
		r := v.Request(http.MethodGet, "/openapi.json", nil)
		r.Header.Set("Accept-Encoding", coding)
		small := v.Send(r)
		if small.Header.Get("Content-Encoding") != coding || len(small.Body) > len(whole.Body)/3 {
			t.Errorf("%s: %d bytes of %d as %q", coding, len(small.Body), len(whole.Body), small.Header.Get("Content-Encoding"))
		}
		r = v.Request(http.MethodGet, "/openapi.json", nil)
		r.Header.Set("Accept-Encoding", coding)
		r.Header.Set("If-None-Match", small.Header.Get("ETag"))
		if again := v.Send(r); again.Status != http.StatusNotModified || len(again.Body) > 0 {
			t.Errorf("%s: %d, %d bytes", coding, again.Status, len(again.Body))
		}
	}
}

// TestAnswersAreAsDescribed asks for the matches of every sample customer.
func TestAnswersAreAsDescribed(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	d, v, token := describe(s), s.Stranger(), s.APIToken("matches")
	for _, none := range []string{"{}", "[]", `{"matches": [{}], "cautions": []}`} {
		if d.takes([]byte(none), "paths", "/matches", "post", "responses", "200", "content", "application/json", "schema") == nil {
			t.Errorf("%s is taken for an answer", none)
		}
	}
	var all strings.Builder
	for name, document := range samples(t) {
		r := d.document(v, http.MethodPost, "/matches", token, document)
		if err := d.takes([]byte(document), "paths", "/matches", "post", "requestBody", "content", "application/json", "schema"); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		all.Write(d.holds(v, r, http.StatusOK).Body)
	}
	for _, key := range []string{"stages", "years_ahead", "buying_now", "longer", "asked", "at_kg", "to_kg", "front_axle_kg", "combined", "pet", "cargo", "horizon_limit", "joins"} {
		if !strings.Contains(all.String(), `"`+key+`":`) {
			t.Errorf("no answer has %s, so nothing is known of it", key)
		}
	}
}

// TestRefusalsAreAsDescribed is refused in every way that a program can be.
func TestRefusalsAreAsDescribed(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	d, v, token := describe(s), s.Stranger(), s.APIToken("matches")
	ask := func(token, document string) *http.Request {
		return d.document(v, http.MethodPost, "/matches", token, document)
	}
	d.holds(v, ask("", webtest.Plain), http.StatusUnauthorized)
	d.holds(v, ask("kinwain_none", webtest.Plain), http.StatusUnauthorized)
	d.holds(v, ask(s.APIToken("other"), webtest.Plain), http.StatusForbidden)
	d.holds(v, ask(token, webtest.Plain+strings.Repeat(" ", 1<<20)), http.StatusRequestEntityTooLarge)
	d.holds(v, ask(token, "{"), http.StatusUnprocessableEntity)
	d.holds(v, ask(token, strings.Replace(webtest.Plain, "82", "900", 1)), http.StatusUnprocessableEntity)
	r := ask(token, webtest.Plain)
	r.Header.Set("Content-Type", "text/plain")
	d.holds(v, r, http.StatusUnsupportedMediaType)
	for range 120 {
		if v.Send(ask("", "{}")).Status == http.StatusTooManyRequests {
			break
		}
	}
	d.holds(v, ask(token, webtest.Plain), http.StatusTooManyRequests)
}

// TestThingsAreAsDescribed reads and changes a thing of each list.
func TestThingsAreAsDescribed(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	d, v := describe(s), s.Staff()
	frame, addOn, unit := s.AnyCode()
	for _, path := range []string{"/inventory/frames/" + frame, "/inventory/add-ons/" + addOn, "/inventory/units/" + unit} {
		stands := d.holds(v, d.document(v, http.MethodGet, path, "", ""), http.StatusOK)
		put := func(tag, document string, status int) {
			t.Helper()
			r := d.document(v, http.MethodPut, path, "", document)
			r.Header.Set("Sec-Fetch-Site", "same-origin")
			if tag != "" {
				r.Header.Set("If-Match", tag)
			}
			d.holds(v, r, status)
		}
		put("", string(stands.Body), http.StatusPreconditionRequired)
		put(`"other"`, string(stands.Body), http.StatusPreconditionFailed)
		put(stands.Header.Get("ETag"), `{"none": 1}`, http.StatusUnprocessableEntity)
		put(stands.Header.Get("ETag"), string(stands.Body), http.StatusOK)
		d.holds(v, d.document(v, http.MethodGet, path+"x", "", ""), http.StatusNotFound)
		d.holds(s.Stranger(), d.document(v, http.MethodGet, path, "", ""), http.StatusForbidden)
	}
}
