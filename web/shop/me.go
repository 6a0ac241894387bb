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

// changeMe changes what the button says.
func (room *Room) changeMe(w http.ResponseWriter, r *http.Request) error {
	if _, err := kit.Posted(r); err != nil {
		return err
	}
	do := r.PostForm.Get("do")
	if kit.Who(r).ByLink() {
		if do != "account" {
			return kit.ErrForm
		}
		return room.makeAccount(w, r)
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
	p, err := room.store.AddManager(r.Context(), name, staff.Hash(chosen), room.Now())
	if store.CodeOf(err) == store.Conflict {
		return room.showMe(w, r, meFaults{name: nameTaken}, http.StatusUnprocessableEntity)
	}
	if err != nil {
		return err
	}
	if err := room.admit(r, p); err != nil {
		return err
	}
	return room.Done(w, r, kit.MeAddress, "Your account is made, and you are signed in with it.")
}

func (room *Room) changePassphrase(w http.ResponseWriter, r *http.Request, p store.Person) error {
	chosen := r.PostForm.Get("new")
	if fault := staff.CheckPassphrase(chosen, p.Name); fault != "" {
		return room.showMe(w, r, meFaults{chosen: fault}, http.StatusUnprocessableEntity)
	}
	a, err := room.tries(r, p.Name, p.Passphrase, r.PostForm.Get("current"), nil)
	if err != nil {
		return err
	}
	if !a.right {
		fault, status := a.said("That is not your passphrase.")
		return room.showMe(w, r, meFaults{current: fault}, status)
	}
	if err := room.store.SetPassphrase(r.Context(), p.ID, staff.Hash(chosen)); err != nil {
		return err
	}
	if p, err = room.store.Person(r.Context(), p.ID); err != nil {
		return err
	}
	if err := room.admit(r, p); err != nil {
		return err
	}
	return room.Done(w, r, kit.MeAddress, "Your passphrase is changed.")
}

func (room *Room) changePIN(w http.ResponseWriter, r *http.Request, p store.Person, set bool) error {
	pin, hash, said := r.PostForm.Get("pin"), "", "You have no PIN any more."
	if fault := staff.CheckPIN(pin); set && fault != "" {
		return room.showMe(w, r, meFaults{pin: fault}, http.StatusUnprocessableEntity)
	}
	a, err := room.tries(r, p.Name, p.Passphrase, r.PostForm.Get("pin-current"), nil)
	if err != nil {
		return err
	}
	if !a.right {
		fault, status := a.said("That is not your passphrase.")
		return room.showMe(w, r, meFaults{pinCurrent: fault}, status)
	}
	if set {
		hash, said = staff.Hash(pin), "Your PIN is set."
	}
	if err := room.store.SetPIN(r.Context(), p.ID, hash); err != nil {
		return err
	}
	return room.Done(w, r, kit.MeAddress, said)
}
