package web

import (
	"net/http"
	"reflect"
	"strconv"
	"strings"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/profile"
	"kinwain/internal/schema"
	"kinwain/static"
	"kinwain/web/kit"
)

// object is a JSON object with its keys in order.
type object []member

type member struct {
	name string
	of   any
}

// MarshalJSONTo writes the keys as they stand.
func (o object) MarshalJSONTo(e *jsontext.Encoder) error {
	if err := e.WriteToken(jsontext.BeginObject); err != nil {
		return err
	}
	for _, m := range o {
		if err := e.WriteToken(jsontext.String(m.name)); err != nil {
			return err
		}
		if err := json.MarshalEncode(e, m.of); err != nil {
			return err
		}
	}
	return e.WriteToken(jsontext.EndObject)
}

// described is the document, which is the same for every shop.
var described = static.Made("application/json", openAPI)

// openAPI writes the document, by OpenAPI 3.1 with JSON Schema 2020-12. The
// schemas come from the types and tables by which documents are read and
// written, the refusals from what a way in is refused with.
func openAPI() []byte {
	written, err := json.Marshal(object{
		{"openapi", "3.1.0"},
		{"info", object{{"title", "Kinwain"}, {"version", "1"}, {"description", "What other programs may ask of a shop. " +
			"Masses are kilograms to the gram, lengths centimetres to the millimetre, money whole cents; whole numbers are written without a point. A key that is not listed here is an error. " +
			"A schema says what one figure may be; what figures have to do with each other is answered by 422, all at once, each with its path. Send Accept: application/json to be refused in JSON everywhere."}}},
		{"jsonSchemaDialect", "https://json-schema.org/draft/2020-12/schema"},
		{"paths", paths()},
		{"components", object{
			{"securitySchemes", object{
				{"token", object{{"type", "http"}, {"scheme", "bearer"}, {"description", "An API token with the scope “" + kit.ScopeMatches + "”: a manager makes it under Settings, API tokens."}}},
				{"session", object{{"type", "apiKey"}, {"in", "cookie"}, {"name", "kinwain"}, {"description", "The cookie of a browser in which somebody has signed in."}}},
			}},
			{"schemas", components()},
		}},
	}, jsontext.WithIndent("  "))
	if err != nil {
		panic("web: " + err.Error()) // of what is in this program
	}
	return append(written, '\n')
}

// failed and faulty are what an answer holds that is none.
type (
	failed struct {
		Error kit.Failure `json:"error"`
	}
	faulty struct {
		Error kit.Problems `json:"error"`
	}
)

func components() schema.Properties {
	var types schema.Writer
	all := append(catalog.Schemas(), schema.Property{Name: "Profile", Of: profile.Schema()})
	all = append(all, match.Schemas()...)
	return append(all, schema.Property{Name: "Failure", Of: types.Of(reflect.TypeFor[failed]())}, schema.Property{Name: "Faults", Of: types.Of(reflect.TypeFor[faulty]())})
}

// operation is what a program may do at an address.
type operation struct {
	method, path, id, does string

	takes, gives string // names of schemas; any document where it is empty
	tagged       bool   // the answer has an ETag, which a change names as If-Match
	query        object
	refusals     []refused
}

// refused is an answer that is none, with its words.
type refused struct {
	status int
	says   string
	faults bool // each with its path
}

func operations() []operation {
	faults := refused{http.StatusUnprocessableEntity, "The document is not in order: every fault with its path.", true}
	all := []operation{
		{method: http.MethodPost, path: "/matches", id: "match", does: "Rank the frames of the shop for a profile", takes: "Profile", gives: "Matches",
			refusals: []refused{ofFailure(kit.ErrTooLarge), {http.StatusUnsupportedMediaType, "Send a profile document as application/json.", false}, faults, ofFailure(errOften)}},
		{method: http.MethodGet, path: kit.OpenAPIAddress, id: "openapi", does: "This document"},
		{method: http.MethodGet, path: kit.InventoryAddress + "/export", id: "catalogue", does: "The whole catalogue", gives: "Catalogue",
			query: object{{"format", schema.Words("json")}}},
		{method: http.MethodGet, path: "/consultations/{id}/export.json", id: "consultation", does: "All that is kept of one consultation", refusals: []refused{ofFailure(kit.ErrNotFound)}},
	}
	for _, thing := range [...]struct{ slug, name, called string }{{"frames", "Frame", "a frame"}, {"add-ons", "AddOn", "an add-on"}, {"units", "Unit", "a unit"}} {
		path := kit.InventoryAddress + "/" + thing.slug + "/{code}"
		all = append(all,
			operation{method: http.MethodGet, path: path, id: "get" + thing.name, does: "The document of " + thing.called + "; its ETag names this state of it", gives: thing.name,
				tagged: true, refusals: []refused{ofFailure(kit.ErrNotFound)}},
			operation{method: http.MethodPut, path: path, id: "put" + thing.name, does: "Change " + thing.called + " that is there", takes: thing.name, gives: thing.name,
				tagged: true, refusals: []refused{ofFailure(kit.ErrNotFound), {http.StatusPreconditionFailed, "Somebody has changed this since.", false},
					ofFailure(kit.ErrTooLarge), faults, {http.StatusPreconditionRequired, "Send the ETag of what you changed as If-Match.", false}}})
	}
	return all
}

func ofFailure(f *kit.Failure) refused { return refused{f.Status, f.Text, false} }

// paths are the operations by their address, in the order in which an address
// is first named.
func paths() object {
	var all object
	for _, o := range operations() {
		if len(all) == 0 || all[len(all)-1].name != o.path {
			all = append(all, member{o.path, object{}})
		}
		last := &all[len(all)-1]
		last.of = append(last.of.(object), member{strings.ToLower(o.method), o.describe()})
	}
	return all
}

// describe writes an operation: who may ask is what the rule of its address
// says.
func (o operation) describe() object {
	who := ruleFor(o.path)
	security, refusals := []map[string][]string{}, []refused{}
	switch who {
	case staffOrToken:
		security = []map[string][]string{{"token": {}}, {"session": {}}}
		refusals = append(refusals, ofFailure(errToken), ofFailure(errScope))
	case managerOnly, staffOnly:
		security = []map[string][]string{{"session": {}}}
		refusals = append(refusals, ofFailure(errStaff))
	}
	if who != anyone {
		refusals = append(append(refusals, o.refusals...), ofFailure(kit.ErrInternal), ofFailure(kit.ErrSlow))
	}
	described := object{{"operationId", o.id}, {"summary", o.does}, {"security", security}}
	if parameters := o.parameters(); len(parameters) > 0 {
		described = append(described, member{"parameters", parameters})
	}
	if o.takes != "" {
		described = append(described, member{"requestBody", object{{"required", true}, {"content", content(o.takes)}}})
	}
	given := object{{"description", o.does}, {"content", content(o.gives)}}
	if o.tagged {
		given = append(given, member{"headers", object{{"ETag", object{{"schema", &schema.Schema{Type: schema.Types{schema.Text}}}}}}})
	}
	responses := object{{"200", given}}
	for _, r := range refusals {
		responses = append(responses, member{strconv.Itoa(r.status), r.describe()})
	}
	return append(described, member{"responses", responses})
}

func (r refused) describe() object {
	name := "Failure"
	if r.faults {
		name = "Faults"
	}
	described := object{{"description", r.says}, {"content", content(name)}}
	if r.status == http.StatusTooManyRequests || r.status == http.StatusServiceUnavailable {
		described = append(described, member{"headers", object{{"Retry-After", object{{"description", "seconds"}, {"schema", &schema.Schema{Type: schema.Types{schema.Integer}}}}}}})
	}
	return described
}

// parameters are what is named in the address, behind it and beside it.
func (o operation) parameters() []object {
	var all []object
	text := &schema.Schema{Type: schema.Types{schema.Text}}
	add := func(in, name string, of *schema.Schema) {
		all = append(all, object{{"name", name}, {"in", in}, {"required", true}, {"schema", of}})
	}
	for _, name := range [...]string{"code", "id"} {
		if strings.Contains(o.path, "{"+name+"}") {
			add("path", name, text)
		}
	}
	for _, q := range o.query {
		add("query", q.name, q.of.(*schema.Schema))
	}
	if o.tagged && o.method == http.MethodPut {
		add("header", "If-Match", text)
	}
	return all
}

// content is a document of a schema; of any where it has none.
func content(name string) object {
	of := &schema.Schema{Type: schema.Types{schema.Object}}
	if name != "" {
		of = schema.To(name)
	}
	return object{{"application/json", object{{"schema", of}}}}
}
