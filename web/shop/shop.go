package shop

import (
	"errors"
	"net/http"
	"net/mail"
	"net/url"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/figures"
	"kinwain/internal/measure"
	"kinwain/internal/problem"
	"kinwain/internal/store"
	"kinwain/web/kit"
	"kinwain/web/say"
)

// The fields of the shop, named as in its document.
const (
	shopName     = "name"
	shopCurrency = "currency"
	shopLabour   = "labour_cents_per_hour"
	shopTax      = "tax_percent"
	shopIncludes = "prices_include_tax"
)

var contactFields = []kit.Field{
	{Name: kit.ContactName, Label: "Name for customers", Hint: "Over the contact of a fit summary. Without it nothing stands there."},
	{Name: kit.ContactAddress, Label: "Address", Hint: "Where customers come to ride. Left out where it is empty."},
	{Name: kit.ContactPhone, Label: "Phone", Hint: "A phone dials it when it is tapped.", Mode: "tel"},
	{Name: kit.ContactEmail, Label: "E-mail", Hint: "Such as hello@shop.example.", Mode: "email"},
	{Name: kit.ContactHours, Label: "Opening hours", Hint: "In your own words: Tue to Fri 10–18."},
	{Name: kit.TextIn(kit.ContactHours, "fr"), Label: "Opening hours in French", Hint: "Empty: the customer reads the English."},
	{Name: kit.TextIn(kit.ContactHours, "de"), Label: "Opening hours in German", Hint: "Such as Di bis Fr 10–18 Uhr."},
	{Name: kit.TextIn(kit.ContactHours, "nl"), Label: "Opening hours in Dutch", Hint: "Such as di t/m vr 10–18 uur."},
}

func (room *Room) shopForm(w http.ResponseWriter, r *http.Request) error {
	c, err := room.store.Catalogue(r.Context())
	if err != nil {
		return err
	}
	texts, err := room.store.Texts(r.Context())
	if err != nil {
		return err
	}
	stands := shopStands(c.Shop, texts)
	view := room.shopView(r, stands, nil, stands)
	if view.Checking, err = room.checking(r.Context()); err != nil {
		return err
	}
	view.Done = room.Sessions.PopString(r.Context(), settingsKey)
	return kit.Render(r.Context(), w, http.StatusOK, SettingsPage(view))
}

// saveShop changes the shop within the catalogue and its texts, as far as
// nobody else has changed the same since. Where answers follow from it, or the
// manager asks for "consequences", it is asked about first.
func (room *Room) saveShop(w http.ResponseWriter, r *http.Request) error {
	posted, err := kit.Posted(r)
	if err != nil {
		return err
	}
	before, revision, err := room.store.CatalogueAt(r.Context())
	if err != nil {
		return err
	}
	texts, err := room.store.Texts(r.Context())
	if err != nil {
		return err
	}
	stands := shopStands(before.Shop, texts)
	theirs := merge(posted, stands)
	typed := map[string]string{}
	for name := range posted {
		typed[name] = tidy(posted.Get(name))
	}
	after := *before
	faults := map[string]string{}
	after.Shop = readShop(typed, faults)
	if err := shopFaults(&after, faults); err != nil {
		return err
	}
	noteTheirs(faults, theirs)
	view := room.shopView(r, typed, faults, stands)
	if len(faults) > 0 {
		status := view.refuse(faults, theirs)
		return kit.Render(r.Context(), w, status, SettingsPage(view))
	}
	if view.Ask, err = room.askShop(r, before, &after); err != nil {
		return err
	}
	if view.Ask != nil {
		return kit.Render(r.Context(), w, http.StatusOK, SettingsPage(view))
	}
	if after.Shop != before.Shop {
		err = room.store.ReplaceCatalogueAt(r.Context(), revision, &after, room.Author(r, store.ByEdit))
	}
	if store.CodeOf(err) == store.Conflict {
		view.Faults = "Nothing was saved: somebody has changed the catalogue at the same moment. What you typed is still here; save again."
		return kit.Render(r.Context(), w, http.StatusConflict, SettingsPage(view))
	}
	if err != nil {
		return err
	}
	return room.saveContact(w, r, posted)
}

// askShop asks about a change of what the shop charges.
func (room *Room) askShop(r *http.Request, before, after *catalog.Catalogue) (*kit.Asking, error) {
	reach, err := room.watch.Reach(r.Context(), before, after)
	if err != nil {
		return nil, err
	}
	was, is := &before.Shop, &after.Shop
	var changes []kit.FieldChange
	for _, c := range []kit.FieldChange{
		{Field: "Currency", Old: was.Currency, New: is.Currency},
		{Field: "Labour for an hour", Old: was.LabourPerHour.Show(was.Currency), New: is.LabourPerHour.Show(is.Currency)},
		{Field: "Tax", Old: was.Tax.String(), New: is.Tax.String()},
	} {
		if c.Old != c.New {
			changes = append(changes, c)
		}
	}
	return kit.ToAsk(r, kit.AskingView(changes, reach, kit.Digest(*was, *is)), reach), nil
}

func (room *Room) saveContact(w http.ResponseWriter, r *http.Request, posted url.Values) error {
	texts := map[string]string{}
	for _, f := range contactFields {
		texts[f.Name] = tidy(posted.Get(f.Name))
	}
	if err := room.store.MergeTexts(r.Context(), texts); err != nil {
		return err
	}
	room.Sessions.Put(r.Context(), settingsKey, "Saved. Quotes and fit summaries that were made keep what they say.")
	http.Redirect(w, r, kit.SettingsAddress+"/shop", http.StatusSeeOther)
	return nil
}

// readShop reads the shop from the fields, and notes what cannot be read.
func readShop(typed, faults map[string]string) catalog.Shop {
	shop := catalog.Shop{Name: typed[shopName], Currency: strings.ToUpper(typed[shopCurrency]), PricesIncludeTax: typed[shopIncludes] == "yes"}
	var err error
	if shop.LabourPerHour, err = measure.ParseMoney(typed[shopLabour]); err != nil {
		faults[shopLabour] = say.Capital(err.Error()) + "."
	}
	if shop.Tax, err = measure.ParsePercentage(typed[shopTax]); err != nil {
		faults[shopTax] = say.Capital(err.Error()) + "."
	}
	if text := typed[kit.ContactEmail]; text != "" {
		if _, err := mail.ParseAddress(text); err != nil {
			faults[kit.ContactEmail] = "This is no e-mail address; write it like hello@shop.example."
		}
	}
	return shop
}

// shopFaults notes what the catalogue finds wrong with its shop.
func shopFaults(c *catalog.Catalogue, faults map[string]string) error {
	var list problem.List
	if err := c.Check(); err != nil && !errors.As(err, &list) {
		return err
	}
	for _, p := range list {
		if name, of := strings.CutPrefix(p.Path, "shop."); of {
			fault(faults, name, say.Capital(p.Text)+".")
		}
	}
	return nil
}

// shopStands is what the fields show of what is saved.
func shopStands(s catalog.Shop, texts map[string]string) map[string]string {
	stands := map[string]string{shopName: s.Name, shopCurrency: s.Currency, shopLabour: s.LabourPerHour.String(), shopTax: figures.Share.Show(int64(s.Tax)), shopIncludes: ""}
	if s.PricesIncludeTax {
		stands[shopIncludes] = "yes"
	}
	for _, f := range contactFields {
		stands[f.Name] = texts[f.Name]
	}
	return stands
}

// shopView draws the fields, over what stands.
func (room *Room) shopView(r *http.Request, typed, faults, stands map[string]string) Settings {
	view := room.settingsView(r, "Shop", "Who the shop is and how it charges. These are its own, so there are no defaults.", kit.SettingsAddress+"/shop")
	charges := SettingGroup{Title: "The shop and its prices"}
	for _, f := range []kit.Field{
		{Name: shopName, Label: "Name of the shop", Hint: "At the top of every page and quote.", Needed: true},
		{Name: shopCurrency, Label: "Currency", Hint: "The three letters of ISO 4217, such as EUR. Amounts keep their figures; nothing is converted.", Needed: true},
		{Name: shopTax, Label: "Tax", Hint: "Worked out once, on the total of a quote. Your tax office says how much.", Mode: "decimal", Needed: true},
		{Name: shopIncludes, Label: "Prices include the tax", Check: "yes"},
		{Name: shopLabour, Label: "Labour for an hour", Hint: "Every add-on states its minutes; each is rounded to a cent once.", Mode: "decimal", Needed: true},
	} {
		charges.Fields = append(charges.Fields, filledField(f, typed, faults))
	}
	contact := SettingGroup{Title: "How customers reach it"}
	for _, f := range contactFields {
		contact.Fields = append(contact.Fields, filledField(f, typed, faults))
	}
	view.Groups = []SettingGroup{charges, contact}
	view.keepTheirs(stands)
	return view
}

func filledField(f kit.Field, typed, faults map[string]string) SettingField {
	f.Value, f.Error = typed[f.Name], faults[f.Name]
	return SettingField{Field: f}
}

// settingsIndex leads to every page of the settings.
func (room *Room) settingsIndex(w http.ResponseWriter, r *http.Request) error {
	view := SettingsIndex{Shell: room.DeskShell(r, "Settings"), Links: []SettingsLink{
		{Href: kit.SettingsAddress + "/shop", Label: "Shop", Text: "Name, contact, currency, tax, labour."},
		{Href: kit.SettingsAddress + "/figures", Label: "Figures", Text: "Allowances, percentiles, margins, deposits and days, each with its default and its reason."},
		{Href: kit.SettingsAddress + "/criteria", Label: "Order of the frames", Text: "How much each criterion counts, with a preview for sample customers."},
		{Href: kit.SettingsAddress + "/staff", Label: "Staff", Text: "Who may sign in, and as what."},
		{Href: kit.SettingsAddress + "/tokens", Label: "API tokens", Text: "Other programs that may ask for matches."},
		{Href: kit.QualityAddress, Label: "Quality of the catalogue", Text: "What is missing or contradictory, worst first."},
		{Href: kit.ImportAddress, Label: "Catalogue in and out", Text: "Spreadsheets and documents."},
	}}
	return kit.Render(r.Context(), w, http.StatusOK, SettingsIndexPage(view))
}

// settingsView is what every page of the settings has.
func (room *Room) settingsView(r *http.Request, title, lead, action string) Settings {
	view := Settings{Shell: room.DeskShell(r, title), Heading: title, Lead: lead, Action: action, Unsaved: r.Method == http.MethodPost}
	for _, t := range []kit.Step{{Label: "Settings", Href: kit.SettingsAddress}, {Label: "Shop", Href: kit.SettingsAddress + "/shop"},
		{Label: "Figures", Href: kit.SettingsAddress + "/figures"}, {Label: "Order of the frames", Href: kit.SettingsAddress + "/criteria"}} {
		t.Current = t.Href == action
		view.Tabs = append(view.Tabs, t)
	}
	return view
}
