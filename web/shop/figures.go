package shop

import (
	"cmp"
	"context"
	"maps"
	"net/http"
	"net/url"
	"strings"

	"kinwain/internal/concern"
	"kinwain/internal/figures"
	"kinwain/internal/store"
	"kinwain/web/kit"
	"kinwain/web/say"
)

const (
	// settingsKey is where a session keeps what to say after settings were saved.
	settingsKey = "settings saved"
	savedWords  = "Saved. Every match is judged by these figures from now on; quotes and fit summaries that were made keep theirs."
)

// figuresPage is one page of figures.
type figuresPage struct {
	address, title, lead string
	groups               []figures.Group
	preview              bool
}

const criteriaPreview = kit.SettingsAddress + "/criteria/preview"

func figurePage() *figuresPage {
	return &figuresPage{address: kit.SettingsAddress + "/figures", title: "Figures", groups: figures.Groups,
		lead: "What the shop adds, allows and promises. Any unit will do. An empty field is its default."}
}

func criteriaPage() *figuresPage {
	return &figuresPage{address: kit.SettingsAddress + "/criteria", title: "Order of the frames", groups: figures.Criteria(), preview: true,
		lead: "Within one verdict the score decides the order. A criterion counts nothing at one end, in full at the other, and as much as its weight; 0 leaves it out. An empty field is its default."}
}

// fault notes what is wrong with a field, unless something is already.
func fault(faults map[string]string, name, text string) {
	if faults[name] == "" {
		faults[name] = text
	}
}

// typedFigures is what stands in the fields of a page.
type typedFigures struct {
	texts   map[string]string
	figures map[string]int64 // of the fields without a fault; saved ones elsewhere
	faults  map[string]string
}

// read reads the fields of a page. Where one is wrong, its saved figure counts.
func (p *figuresPage) read(posted url.Values, saved map[string]int64) typedFigures {
	t := typedFigures{map[string]string{}, map[string]int64{}, map[string]string{}}
	defaults := figures.Defaults()
	for _, g := range p.groups {
		for _, s := range g.Figures {
			t.texts[s.Name] = tidy(posted.Get(s.Name))
			n, err := s.Read(t.texts[s.Name], defaults[s.Name])
			if err != nil {
				t.faults[s.Name], n = say.Capital(err.Error())+".", saved[s.Name]
			}
			t.figures[s.Name] = n
		}
		for _, s := range g.Texts {
			t.texts[s.Name] = tidy(posted.Get(s.Name))
		}
	}
	together := maps.Clone(saved)
	maps.Copy(together, t.figures)
	for name, text := range figures.Contradictions(together) {
		if _, here := t.figures[name]; here {
			fault(t.faults, name, text)
		}
	}
	return t
}

// words returns the texts of a page as they were typed.
func (p *figuresPage) words(t typedFigures) map[string]string {
	words := map[string]string{}
	for _, g := range p.groups {
		for _, s := range g.Texts {
			words[s.Name] = t.texts[s.Name]
		}
	}
	return words
}

// mostText bounds what is kept of a field.
const mostText = 200

// tidy keeps what was typed short, and text.
func tidy(text string) string {
	text = strings.TrimSpace(strings.ToValidUTF8(text, "\uFFFD"))
	if r := []rune(text); len(r) > mostText {
		text = string(r[:mostText])
	}
	return text
}

// figures returns every figure as it is in force.
func (room *Room) figures(ctx context.Context) (map[string]int64, error) {
	changed, err := room.store.Settings(ctx)
	return figures.InForce(changed), err
}

// stands is what the fields of a page show of what is saved.
func (p *figuresPage) stands(saved map[string]int64, words map[string]string) map[string]string {
	texts := map[string]string{}
	for _, g := range p.groups {
		for _, f := range g.Figures {
			texts[f.Name] = f.Show(saved[f.Name])
		}
		for _, f := range g.Texts {
			texts[f.Name] = words[f.Name]
		}
	}
	return texts
}

func (room *Room) figuresForm(w http.ResponseWriter, r *http.Request, p *figuresPage) error {
	saved, err := room.figures(r.Context())
	if err != nil {
		return err
	}
	words, err := room.store.Texts(r.Context())
	if err != nil {
		return err
	}
	t := typedFigures{p.stands(saved, words), saved, map[string]string{}}
	view := room.figuresView(r, p, t, t.texts)
	if view.Checking, err = room.checking(r.Context()); err != nil {
		return err
	}
	view.Done = room.Sessions.PopString(r.Context(), settingsKey)
	return room.showFigures(w, r, p, t, view, http.StatusOK)
}

// saveFigures saves a page of figures. A button "reset" only writes defaults
// into fields, and "preview" only shows what would come of them.
func (room *Room) saveFigures(w http.ResponseWriter, r *http.Request, p *figuresPage) error {
	posted, err := kit.Posted(r)
	if err != nil {
		return err
	}
	saved, err := room.figures(r.Context())
	if err != nil {
		return err
	}
	words, err := room.store.Texts(r.Context())
	if err != nil {
		return err
	}
	stands := p.stands(saved, words)
	theirs := merge(posted, stands)
	reset := p.reset(posted)
	t := p.read(posted, saved)
	noteTheirs(t.faults, theirs)
	view := room.figuresView(r, p, t, stands)
	switch {
	case len(t.faults) > 0:
		return room.showFigures(w, r, p, t, view, view.refuse(t.faults, theirs))
	case reset != "":
		view.Done = reset
		return room.showFigures(w, r, p, t, view, http.StatusOK)
	case posted.Get("do") == "preview":
		return room.showFigures(w, r, p, t, view, http.StatusOK)
	}
	to := store.SettingsChange{Texts: p.words(t), Judged: concern.Judged()}
	to.Set, to.Reset = figures.Changed(t.figures)
	if view.Ask, err = room.askFigures(r, p, saved, to, t); err != nil {
		return err
	}
	if view.Ask != nil {
		return room.showFigures(w, r, p, t, view, http.StatusOK)
	}
	if err := room.store.ChangeSettings(r.Context(), to, room.Author(r, store.ByEdit)); err != nil {
		return err
	}
	room.Sessions.Put(r.Context(), settingsKey, savedWords)
	http.Redirect(w, r, p.address, http.StatusSeeOther)
	return nil
}

// askFigures asks about a change of figures and texts from which answers follow.
func (room *Room) askFigures(r *http.Request, p *figuresPage, saved map[string]int64, to store.SettingsChange, t typedFigures) (*kit.Asking, error) {
	said, err := room.store.Texts(r.Context())
	if err != nil {
		return nil, err
	}
	var changes []kit.FieldChange
	var names []string
	note := func(name, old, new string) {
		if old != new {
			names = append(names, name)
			changes = append(changes, kit.FieldChange{Field: figures.Label(name), Old: cmp.Or(old, "nothing"), New: cmp.Or(new, "nothing")})
		}
	}
	for _, g := range p.groups {
		for _, f := range g.Figures {
			note(f.Name, f.Show(saved[f.Name]), f.Show(t.figures[f.Name]))
		}
		for _, f := range g.Texts {
			note(f.Name, said[f.Name], to.Texts[f.Name])
		}
	}
	reach, err := room.watch.ReachOfSettings(r.Context(), names)
	return kit.ToAsk(r, kit.AskingView(changes, reach, kit.Digest(changes)), reach), err
}

// checking says how far judging is.
func (room *Room) checking(ctx context.Context) (kit.Checking, error) {
	p, err := room.store.Progress(ctx)
	return kit.CheckingView(p), err
}

// reset writes defaults into the posted fields that were asked for, and says so.
func (p *figuresPage) reset(posted url.Values) string {
	asked, defaults, done := posted.Get("reset"), figures.Defaults(), ""
	for _, g := range p.groups {
		for _, s := range g.Figures {
			if asked != s.Name && asked != "all" {
				continue
			}
			posted.Set(s.Name, s.Show(defaults[s.Name]))
			done = "“" + g.Title + ": " + s.Label + "” is back at " + defaultWords(s, defaults) + ". Save to keep it."
		}
		for _, s := range g.Texts {
			if asked == "all" {
				posted.Del(s.Name)
			}
		}
	}
	if asked == "all" {
		return "Every field is back at its default. Save to keep them."
	}
	return done
}

func (room *Room) showFigures(w http.ResponseWriter, r *http.Request, p *figuresPage, t typedFigures, view Settings, status int) error {
	if p.preview {
		preview, err := room.preview(r.Context(), t)
		if err != nil {
			return err
		}
		view.Preview, view.Live = &preview, criteriaPreview
	}
	return kit.Render(r.Context(), w, status, SettingsPage(view))
}

// figuresView draws the fields of a page, over what stands.
func (room *Room) figuresView(r *http.Request, p *figuresPage, t typedFigures, stands map[string]string) Settings {
	view := room.settingsView(r, p.title, p.lead, p.address)
	view.ResetAll = true
	defaults := figures.Defaults()
	for _, g := range p.groups {
		group := SettingGroup{Title: g.Title, Why: g.Why}
		for _, f := range g.Figures {
			field := SettingField{Field: kit.Field{Name: f.Name, Label: f.Label, Value: t.texts[f.Name], Error: t.faults[f.Name],
				Hint: strings.TrimSpace("Default " + defaultWords(f, defaults) + ". " + f.Why)}}
			if t.figures[f.Name] != defaults[f.Name] || field.Error != "" {
				field.Reset = "Back to " + defaultWords(f, defaults)
			}
			group.Fields = append(group.Fields, field)
		}
		for _, f := range g.Texts {
			group.Fields = append(group.Fields, SettingField{Field: kit.Field{Name: f.Name, Label: f.Label, Value: t.texts[f.Name], Error: t.faults[f.Name], Hint: f.Why}})
		}
		view.Groups = append(view.Groups, group)
	}
	view.keepTheirs(stands)
	return view
}

// defaultWords says what a figure is where the shop has not said.
func defaultWords(f figures.Figure, defaults map[string]int64) string {
	return cmp.Or(f.Show(defaults[f.Name]), "nothing")
}

func faultsWords(n int) string {
	return "Nothing was saved: " + say.Counted(n, "field has", "fields have") + " a fault. What you typed is still here."
}
