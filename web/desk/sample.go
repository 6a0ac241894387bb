package desk

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"net/http"
	"net/url"
	"path"
	"strings"

	"kinwain/internal/measure"
	"kinwain/internal/profile"
	"kinwain/internal/store"
	"kinwain/testdata"
	"kinwain/web/form"
	"kinwain/web/kit"
	"kinwain/web/say"
)

// invented begins the IDs of consultations of families that nobody is: the
// sample customers, which the start offers while there is nobody else. They
// hold no secret, and by this they are known.
const invented = "invented-"

func isInvented(c store.Consultation) bool { return strings.HasPrefix(c.ID, invented) }

// mostInvented is how many of them are erased at a time.
const mostInvented = 1000

// samples draws the sample customers as cards.
func samples() ([]Sample, error) {
	files, err := fs.Glob(testdata.Profiles, "profiles/*.json")
	if err != nil {
		return nil, err
	}
	var cards []Sample
	for _, file := range files {
		name := strings.TrimSuffix(path.Base(file), ".json")
		p, _, err := sample(name)
		if err != nil {
			return nil, err
		}
		cards = append(cards, Sample{Code: name, Name: sampleName(name), Who: sampleWords(p)})
	}
	return cards, nil
}

// sampleName makes words of the name of a file.
func sampleName(code string) string { return say.Capital(strings.ReplaceAll(code, "-", " ")) }

// sampleWords says in a few words who a sample customer is.
func sampleWords(p *profile.Profile) string {
	words := []string{say.Counted(len(p.Riders), "rider", "riders")}
	if n := len(p.Passengers.Or(nil)); n > 0 {
		words = append(words, say.Counted(n, "child", "children"))
	}
	if p.Pet.Or(0) > 0 {
		words = append(words, "a pet")
	}
	if cargo := p.Cargo.Or(0); cargo > 0 {
		words = append(words, strings.ReplaceAll(cargo.Show(measure.Metric, measure.Nearest)+" of cargo", " ", "\u00a0"))
	}
	return strings.Join(words, ", ")
}

// sample reads the document of a sample customer.
func sample(code string) (*profile.Profile, []byte, error) {
	data, err := testdata.Profiles.ReadFile("profiles/" + code + ".json")
	if err != nil {
		return nil, nil, kit.ErrNotFound
	}
	p, err := profile.Parse(data)
	return p, data, err
}

// createSample begins a consultation with the answers of a sample customer, as
// old today as they were when they were made up, and shows their ranking.
func (room *Room) createSample(w http.ResponseWriter, r *http.Request) error {
	if err := r.ParseForm(); err != nil {
		return kit.ErrForm
	}
	code := r.PostForm.Get("sample")
	p, document, err := sample(code)
	if err != nil {
		return err
	}
	f, err := typed(document, room.Today().InMonth()-p.AsOf.InMonth())
	if err != nil {
		return err
	}
	f.Set(form.Customer, sampleName(code)+" (invented)")
	answers, err := f.Encode()
	if err != nil {
		return err
	}
	c, err := room.store.CreateConsultation(r.Context(), invented+strings.ToLower(kit.Once(r)), f.Get(form.Customer), answers, room.Now())
	if err != nil {
		return err
	}
	http.Redirect(w, r, kit.ConsultationAt(c.ID, "/frames"), http.StatusSeeOther)
	return nil
}

// eraseSamples erases every consultation of a sample customer.
func (room *Room) eraseSamples(w http.ResponseWriter, r *http.Request) error {
	list, err := room.store.FindConsultations(r.Context(), store.Sought{ID: invented}, mostInvented)
	if err != nil {
		return err
	}
	said := "The invented families are gone."
	for _, c := range list {
		switch err := room.store.EraseConsultation(r.Context(), c.ID, room.Now()); store.CodeOf(err) {
		case store.Conflict:
			said = "A bike is out with one of the invented families, so that one stays until it is back."
		case store.NotFound: // somebody was quicker
		default:
			if err != nil {
				return err
			}
		}
	}
	room.Sessions.Put(r.Context(), kit.SaidKey, said)
	http.Redirect(w, r, kit.StartAddress, http.StatusSeeOther)
	return nil
}

// first are the choices that the form offers first, without a word of their own.
var first = map[string]bool{string(profile.Stated): true, string(profile.FullGrip): true, string(profile.LeastCost): true, string(profile.Unstated): true}

// typed types a profile document into a form, with the days in it some months
// later.
func typed(document []byte, later measure.Month) (form.Form, error) {
	var tree map[string]any
	decoder := json.NewDecoder(strings.NewReader(string(document)))
	decoder.UseNumber()
	if err := decoder.Decode(&tree); err != nil {
		return form.Form{}, err
	}
	delete(tree, "profile")
	delete(tree, "as_of")
	values := url.Values{}
	if err := typeIn(values, "", tree, int(later)); err != nil {
		return form.Form{}, err
	}
	return form.FromValues(values), nil
}

// typeIn types what stands at a path of a document into the fields of its name.
func typeIn(values url.Values, at string, node any, later int) error {
	switch node := node.(type) {
	case []any:
		for i, item := range node {
			if err := typeIn(values, fmt.Sprintf("%s[%d]", at, i), item, later); err != nil {
				return err
			}
		}
	case map[string]any:
		for key, item := range node {
			if err := typeIn(values, strings.TrimPrefix(at+"."+key, "."), item, later); err != nil {
				return err
			}
		}
	case nil:
		values.Add("unknown", at)
	case bool:
		values.Set(at, map[bool]string{true: "yes", false: "no"}[node])
		if !node && !strings.HasSuffix(at, ".sits_unaided") { // a box that stays empty
			values.Del(at)
		}
	case json.Number:
		values.Set(at, node.String())
		if at == "budget_cents" {
			cents, err := node.Int64()
			if err != nil {
				return err
			}
			values.Set(at, fmt.Sprintf("%d.%02d", cents/100, cents%100))
		}
	case string:
		if first[node] {
			node = ""
		}
		values.Set(at, node)
		if day, err := measure.ParseDate(node); err == nil && (strings.HasSuffix(at, ".born") || strings.HasSuffix(at, ".joins")) {
			values.Set(at, day.AddMonths(later).String())
		}
	}
	return nil
}
