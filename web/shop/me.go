package shop

import (
	"net/http"

	"kinwain/internal/staff"
	"kinwain/internal/store"
	"kinwain/web/kit"
)

// me shows people what they can change about their own account.
func (room *Room) me(w http.ResponseWriter, r *http.Request) error {
	return room.showMe(w, r, meFaults{}, http.StatusOK)
}

// meFaults is what was wrong with what was typed: for the field of each, and
// for all of it.
type meFaults struct{ alert, name, chosen, current, pinCurrent, pin string }

func (room *Room) showMe(w http.ResponseWriter, r *http.Request, faults meFaults, status int) error {
	i := kit.Who(r)
	v := Me{Shell: room.DeskShell(r, "Your account"), Alert: faults.alert, ByLink: i.ByLink(), Role: string(i.Role), Said: room.Sessions.PopString(r.Context(), kit.SaidKey)}
	if v.ByLink {
		v.Account = []kit.Field{{Name: "name", Label: "Name", Value: r.PostForm.Get("name"), Error: faults.name, Needed: true}, newPassphrase(faults.chosen)}
		return kit.Render(r.Context(), w, status, MePage(v))
	}
	p, err := room.store.Person(r.Context(), i.Person)
	if err != nil {
		return err
	}
	if v.SignIns, err = room.signInViews(r, p); err != nil {
		return err
	}
	v.HasPIN, v.Devices = p.PIN != "", "It works only on a device that a manager has enrolled; this one is not."
	if d, err := room.device(r); err != nil {
		return err
	} else if d != nil {
		v.Devices = "It works on this device, " + d.Label + ", and on the others that a manager has enrolled."
	}
	v.Change = []kit.Field{{Name: "current", Label: "Current passphrase", Error: faults.current, Needed: true}, newPassphrase(faults.chosen)}
	v.PIN = []kit.Field{{Name: "pin-current", Label: "Your passphrase", Error: faults.pinCurrent, Needed: true},
		{Name: "pin", Label: "New PIN", Hint: "6 to 10 digits", Mode: "numeric", Error: faults.pin}}
	return kit.Render(r.Context(), w, status, MePage(v))
}

// signInViews lists where somebody signed in as a person of late, or failed to.
func (room *Room) signInViews(r *http.Request, p store.Person) ([]SignedIn, error) {
	list, err := room.store.SignIns(r.Context(), p.ID)
	if err != nil {
		return nil, err
	}
	var views []SignedIn
	for _, i := range list {
		v := SignedIn{When: room.minute(i.At), Where: i.Address, How: "with the " + i.How}
		if !i.LetIn {
			v.How, v.Wrong = "with a wrong "+i.How, true
		}
		views = append(views, v)
	}
	return views, nil
}

// changeMe changes what the button says.
func (room *Room) changeMe(w http.ResponseWriter, r *http.Request) error {
	if _, err := kit.Posted(r); err != nil {
		return err
	}
	do := r.PostForm.Get("do")
	if kit.Who(r).ByLink() {
		switch do {
		case "account":
			return room.makeAccount(w, r)
		case "everywhere":
			if err := room.store.EndLinkEntries(r.Context()); err != nil {
				return err
			}
			return room.signOut(w, r)
		}
		return kit.ErrForm
	}
	p, err := room.store.Person(r.Context(), kit.Who(r).Person)
	if err != nil {
		return err
	}
	switch do {
	case "passphrase":
		return room.changePassphrase(w, r, p)
	case "pin", "no-pin":
		return room.changePIN(w, r, p, do == "pin")
	case "everywhere":
		if err := room.store.SignOutEverywhere(r.Context(), p.ID); err != nil {
			return err
		}
		return room.signOut(w, r)
	}
	return kit.ErrForm
}

// makeAccount makes whoever is in by the printed link a manager with an
// account, and goes on as that.
func (room *Room) makeAccount(w http.ResponseWriter, r *http.Request) error {
	name, chosen := staff.Name(r.PostForm.Get("name")), r.PostForm.Get("new")
	faults := meFaults{name: nameFault(name), chosen: staff.CheckPassphrase(chosen, name)}
	if faults != (meFaults{}) {
		return room.showMe(w, r, faults, http.StatusUnprocessableEntity)
	}
	hash, err := room.hash(r, chosen)
	if err != nil {
		return err
	}
	p, err := room.store.AddManager(r.Context(), name, hash, room.Now())
	if store.CodeOf(err) == store.Conflict {
		return room.showMe(w, r, meFaults{name: nameTaken}, http.StatusUnprocessableEntity)
	}
	if err != nil {
		return err
	}
	if err := room.store.EndLinkEntry(r.Context(), kit.Who(r).Entry); err != nil { // it goes on by name
		return err
	}
	if err := room.admit(w, r, p, byLink); err != nil {
		return err
	}
	return room.Done(w, r, kit.MeAddress, "Your account is made, and you are signed in with it.")
}

func (room *Room) changePassphrase(w http.ResponseWriter, r *http.Request, p store.Person) error {
	chosen := r.PostForm.Get("new")
	if fault := staff.CheckPassphrase(chosen, p.Name); fault != "" {
		return room.showMe(w, r, meFaults{chosen: fault}, http.StatusUnprocessableEntity)
	}
	a, err := room.tries(r, ownClaim(p), r.PostForm.Get("current"), nil)
	if err != nil {
		return err
	}
	if !a.right {
		fault, status := a.said("That is not your passphrase.")
		return room.showMe(w, r, meFaults{current: fault}, status)
	}
	hash, err := room.hash(r, chosen)
	if err != nil {
		return err
	}
	if err := room.store.SetPassphrase(r.Context(), p.ID, hash); err != nil {
		return err
	}
	if p, err = room.store.Person(r.Context(), p.ID); err != nil {
		return err
	}
	if err := room.admit(w, r, p, byPassphrase); err != nil {
		return err
	}
	return room.Done(w, r, kit.MeAddress, "Your passphrase is changed.")
}

func (room *Room) changePIN(w http.ResponseWriter, r *http.Request, p store.Person, set bool) error {
	pin, hash, said := r.PostForm.Get("pin"), "", "You have no PIN any more."
	if fault := staff.CheckPIN(pin); set && fault != "" {
		return room.showMe(w, r, meFaults{pin: fault}, http.StatusUnprocessableEntity)
	}
	a, err := room.tries(r, ownClaim(p), r.PostForm.Get("pin-current"), nil)
	if err != nil {
		return err
	}
	if !a.right {
		fault, status := a.said("That is not your passphrase.")
		return room.showMe(w, r, meFaults{pinCurrent: fault}, status)
	}
	if set {
		if hash, err = room.hash(r, pin); err != nil {
			return err
		}
		said = "Your PIN is set."
	}
	if err := room.store.SetPIN(r.Context(), p.ID, hash); err != nil {
		return err
	}
	return room.Done(w, r, kit.MeAddress, said)
}
