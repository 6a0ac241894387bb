package shop

import (
	"net/http"
	"strconv"
	"time"
	"unicode/utf8"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/staff"
	"kinwain/internal/store"
	"kinwain/web/kit"
)

const (
	staffAddress = kit.SettingsAddress + "/staff"
	// personLinkLife is how long a link to choose a passphrase works.
	personLinkLife = 24 * time.Hour

	nameTaken   = "Somebody has this name already. Add something that tells the two apart."
	lastManager = "This is the last manager who can sign in. Make somebody else a manager first."
)

// nameFault says why a name will not do for a person, or nothing.
func nameFault(name string) string {
	if staff.Fold(name) == staff.Fold(kit.LinkName) {
		return nameTaken // the header calls whoever is in by the printed link so
	}
	return staff.CheckName(name)
}

func (room *Room) people(w http.ResponseWriter, r *http.Request) error {
	return room.showStaff(w, r, Staff{Said: room.Sessions.PopString(r.Context(), kit.SaidKey)}, http.StatusOK)
}

// showStaff draws the page around what was typed or done.
func (room *Room) showStaff(w http.ResponseWriter, r *http.Request, v Staff, status int) error {
	people, err := room.store.People(r.Context())
	if err != nil {
		return err
	}
	devices, err := room.store.Devices(r.Context())
	if err != nil {
		return err
	}
	this, err := room.device(r)
	if err != nil {
		return err
	}
	if v.Entries, err = room.entryViews(r); err != nil {
		return err
	}
	v.Shell = room.DeskShell(r, "Staff")
	for _, p := range people {
		v.People = append(v.People, room.personView(p, kit.Who(r).Person))
	}
	for _, d := range devices {
		v.Devices = append(v.Devices, Device{ID: id(d.ID), Label: d.Label, Since: "Enrolled by " + d.EnrolledBy + ", " + room.day(d.Created) + "."})
	}
	if this != nil {
		v.This = this.Label
	}
	if len(v.Add) == 0 {
		v.Add = addFields("", string(staff.Salesperson), "")
	}
	if v.Label.Name == "" {
		v.Label = labelField("", "")
	}
	if v.Tablet.Name == "" {
		v.Tablet = tabletField("", "")
	}
	return kit.Render(r.Context(), w, status, StaffPage(v))
}

func id(n int64) string { return strconv.FormatInt(n, 10) }

// day writes a day as the shop's own calendar has it.
func (room *Room) day(t time.Time) string {
	return t.In(room.Now().Location()).Format("2 January 2006")
}

// minute writes a moment as the shop's own clock has it.
func (room *Room) minute(t time.Time) string {
	return t.In(room.Now().Location()).Format("2 January 2006, 15:04")
}

func (room *Room) personView(p store.Person, you int64) Person {
	state := "Can sign in."
	switch {
	case p.Disabled:
		state = "Switched off: cannot sign in."
	case p.Passphrase == "":
		state = "Has not chosen a passphrase yet."
	case p.PIN != "" && p.PINFailures >= pinTries:
		state = "Can sign in with the passphrase. The PIN is locked until then."
	case p.PIN != "":
		state = "Can sign in, and has a PIN."
	}
	role := roleField("role-"+id(p.ID), string(p.Role))
	return Person{ID: id(p.ID), Name: p.Name, State: state, Since: "Since " + room.day(p.Created) + ".", You: p.ID == you, Disabled: p.Disabled, Role: role}
}

func roleField(name, chosen string) kit.Field {
	return kit.Field{Name: name, Label: "Role", Value: chosen, Options: []kit.Option{
		{Value: string(staff.Salesperson), Label: "Salesperson"}, {Value: string(staff.Manager), Label: "Manager"}}}
}

func addFields(name, role, fault string) []kit.Field {
	return []kit.Field{{Name: "name", Label: "Name", Value: name, Error: fault, Hint: "As they sign in. Large or small letters do not matter.", Needed: true}, roleField("role", role)}
}

// maxLabel bounds what devices and tokens are called, in characters.
const maxLabel = 60

func labelField(label, fault string) kit.Field {
	return kit.Field{Name: "label", Label: "What it is called", Value: label, Error: fault, Begin: true, Hint: "Such as “counter tablet”", Needed: true}
}

func labelFault(label string) string {
	if n := utf8.RuneCountInString(label); n < 1 || n > maxLabel {
		return "Write what it is called, in at most 60 characters."
	}
	return ""
}

// addPerson stores a person and shows the link to sign in, this once.
func (room *Room) addPerson(w http.ResponseWriter, r *http.Request) error {
	values, err := kit.Posted(r)
	if err != nil {
		return err
	}
	name := staff.Name(values.Get("name"))
	role, known := staff.KnownRole(values.Get("role"))
	if !known {
		return kit.ErrForm
	}
	fault, added := nameFault(name), int64(0)
	if fault == "" {
		added, err = room.store.AddPerson(r.Context(), name, role, room.Now())
		if store.CodeOf(err) == store.Conflict {
			fault, err = nameTaken, nil
		}
	}
	if err != nil {
		return err
	}
	if fault != "" {
		return room.showStaff(w, r, Staff{Add: addFields(values.Get("name"), string(role), fault)}, http.StatusUnprocessableEntity)
	}
	return room.showLink(w, r, added, name)
}

// showLink makes a link with which a person chooses a passphrase, and shows
// it, this once.
func (room *Room) showLink(w http.ResponseWriter, r *http.Request, person int64, name string) error {
	token, err := room.store.IssueLink(r.Context(), person, room.Now().Add(personLinkLife))
	if err != nil {
		return err
	}
	return room.showIssued(w, r, Issued{Title: "A link for " + name, Value: room.PublicURL + kit.SignInAddress + "/new/" + token,
		Text: "Give it to " + name + ", and to nobody else: whoever opens it first chooses the passphrase. It works once, within a day, and is not shown again."})
}

// showIssued shows a link, this once, and as a code to scan.
func (room *Room) showIssued(w http.ResponseWriter, r *http.Request, i Issued) error {
	code, err := kit.QRCode(i.Value)
	if err != nil {
		return err
	}
	i.Code = string(code)
	return room.showStaff(w, r, Staff{Issued: &i}, http.StatusOK)
}

// changePerson does to a person what the button says.
func (room *Room) changePerson(w http.ResponseWriter, r *http.Request) error {
	values, err := kit.Posted(r)
	if err != nil {
		return err
	}
	p, err := room.personOf(r)
	if err != nil {
		return err
	}
	var said string
	switch values.Get("do") {
	case "role":
		role, known := staff.KnownRole(values.Get("role-" + id(p.ID)))
		if !known {
			return kit.ErrForm
		}
		said, err = p.Name+" is a "+string(role)+" now.", room.store.SetRole(r.Context(), p.ID, role)
	case "disable":
		said, err = p.Name+" is switched off, and signed out everywhere.", room.store.SetDisabled(r.Context(), p.ID, true)
	case "enable":
		said, err = p.Name+" can sign in again.", room.store.SetDisabled(r.Context(), p.ID, false)
	case "reset":
		return room.showLink(w, r, p.ID, p.Name)
	default:
		return kit.ErrForm
	}
	if store.CodeOf(err) == store.LastManager {
		return room.showStaff(w, r, Staff{Alert: lastManager}, http.StatusUnprocessableEntity)
	}
	if err != nil {
		return err
	}
	return room.Done(w, r, staffAddress, said)
}

func (room *Room) personOf(r *http.Request) (store.Person, error) {
	n, err := pathID(r)
	if err != nil {
		return store.Person{}, err
	}
	return room.store.Person(r.Context(), n)
}

// pathID is the number in the address.
func pathID(r *http.Request) (int64, error) {
	n, err := strconv.ParseInt(chi.URLParam(r, "id"), 10, 64)
	if err != nil {
		return 0, kit.ErrNotFound
	}
	return n, nil
}

// enrol makes the browser that asks a device on which a PIN works.
func (room *Room) enrol(w http.ResponseWriter, r *http.Request) error {
	values, err := kit.Posted(r)
	if err != nil {
		return err
	}
	label := staff.Name(values.Get("label"))
	if fault := labelFault(label); fault != "" {
		return room.showStaff(w, r, Staff{Label: labelField(values.Get("label"), fault)}, http.StatusUnprocessableEntity)
	}
	token, err := room.store.EnrolDevice(r.Context(), label, kit.Who(r).Name, room.Now())
	if err != nil {
		return err
	}
	room.setCookie(w, deviceCookie, token, deviceLife)
	return room.Done(w, r, staffAddress, "This device is enrolled as "+label+".")
}

func (room *Room) revokeDevice(w http.ResponseWriter, r *http.Request) error {
	n, err := pathID(r)
	if err != nil {
		return err
	}
	if err := room.store.RevokeDevice(r.Context(), n, room.Now()); err != nil {
		return err
	}
	return room.Done(w, r, staffAddress, "No PIN works on that device any more.")
}
