package web

import (
	"net/http"

	"kinwain/internal/staff"
	"kinwain/internal/store"
	"kinwain/web/page"
)

// me shows people what they can change about their own account.
func (s *server) me(w http.ResponseWriter, r *http.Request) error {
	return s.showMe(w, r, meFaults{}, http.StatusOK)
}

// meFaults is what was wrong with what was typed: for the field of each, and
// for all of it.
type meFaults struct{ alert, name, chosen, current, pinCurrent, pin string }

func (s *server) showMe(w http.ResponseWriter, r *http.Request, faults meFaults, status int) error {
	i := who(r)
	v := page.Me{Shell: s.deskShell(r, "Your account"), Alert: faults.alert, ByLink: i.byLink(), Role: string(i.role), Said: s.sessions.PopString(r.Context(), saidKey)}
	if v.ByLink {
		v.Account = []page.Field{{Name: "name", Label: "Name", Value: r.PostForm.Get("name"), Error: faults.name, Needed: true}, newPassphrase(faults.chosen)}
		return render(r.Context(), w, status, page.MePage(v))
	}
	p, err := s.Store.Person(r.Context(), i.person)
	if err != nil {
		return err
	}
	v.HasPIN, v.Devices = p.PIN != "", "It works only on a device that a manager has enrolled; this one is not."
	if d, err := s.device(r); err != nil {
		return err
	} else if d != nil {
		v.Devices = "It works on this device, " + d.Label + ", and on the others that a manager has enrolled."
	}
	v.Change = []page.Field{{Name: "current", Label: "Current passphrase", Error: faults.current, Needed: true}, newPassphrase(faults.chosen)}
	v.PIN = []page.Field{{Name: "pin-current", Label: "Your passphrase", Error: faults.pinCurrent, Needed: true},
		{Name: "pin", Label: "New PIN", Hint: "6 to 10 digits", Mode: "numeric", Error: faults.pin}}
	return render(r.Context(), w, status, page.MePage(v))
}

// changeMe changes what the button says.
func (s *server) changeMe(w http.ResponseWriter, r *http.Request) error {
	if _, err := postedValues(r); err != nil {
		return err
	}
	do := r.PostForm.Get("do")
	if who(r).byLink() {
		if do != "account" {
			return errForm
		}
		return s.makeAccount(w, r)
	}
	p, err := s.Store.Person(r.Context(), who(r).person)
	if err != nil {
		return err
	}
	switch do {
	case "passphrase":
		return s.changePassphrase(w, r, p)
	case "pin", "no-pin":
		return s.changePIN(w, r, p, do == "pin")
	case "everywhere":
		if err := s.Store.SignOutEverywhere(r.Context(), p.ID); err != nil {
			return err
		}
		return s.signOut(w, r)
	}
	return errForm
}

// makeAccount makes whoever is in by the printed link a manager with an
// account, and goes on as that.
func (s *server) makeAccount(w http.ResponseWriter, r *http.Request) error {
	name, chosen := staff.Name(r.PostForm.Get("name")), r.PostForm.Get("new")
	faults := meFaults{name: nameFault(name), chosen: staff.CheckPassphrase(chosen, name)}
	if faults != (meFaults{}) {
		return s.showMe(w, r, faults, http.StatusUnprocessableEntity)
	}
	p, err := s.Store.AddManager(r.Context(), name, staff.Hash(chosen), s.Now())
	if store.CodeOf(err) == store.Conflict {
		return s.showMe(w, r, meFaults{name: nameTaken}, http.StatusUnprocessableEntity)
	}
	if err != nil {
		return err
	}
	if err := s.admit(r, p); err != nil {
		return err
	}
	return s.done(w, r, "/me", "Your account is made, and you are signed in with it.")
}

func (s *server) changePassphrase(w http.ResponseWriter, r *http.Request, p store.Person) error {
	chosen := r.PostForm.Get("new")
	if fault := staff.CheckPassphrase(chosen, p.Name); fault != "" {
		return s.showMe(w, r, meFaults{chosen: fault}, http.StatusUnprocessableEntity)
	}
	a, err := s.tries(r, p.Name, p.Passphrase, r.PostForm.Get("current"), nil)
	if err != nil {
		return err
	}
	if !a.right {
		fault, status := a.said("That is not your passphrase.")
		return s.showMe(w, r, meFaults{current: fault}, status)
	}
	if err := s.Store.SetPassphrase(r.Context(), p.ID, staff.Hash(chosen)); err != nil {
		return err
	}
	if p, err = s.Store.Person(r.Context(), p.ID); err != nil {
		return err
	}
	if err := s.admit(r, p); err != nil {
		return err
	}
	return s.done(w, r, "/me", "Your passphrase is changed.")
}

func (s *server) changePIN(w http.ResponseWriter, r *http.Request, p store.Person, set bool) error {
	pin, hash, said := r.PostForm.Get("pin"), "", "You have no PIN any more."
	if fault := staff.CheckPIN(pin); set && fault != "" {
		return s.showMe(w, r, meFaults{pin: fault}, http.StatusUnprocessableEntity)
	}
	a, err := s.tries(r, p.Name, p.Passphrase, r.PostForm.Get("pin-current"), nil)
	if err != nil {
		return err
	}
	if !a.right {
		fault, status := a.said("That is not your passphrase.")
		return s.showMe(w, r, meFaults{pinCurrent: fault}, status)
	}
	if set {
		hash, said = staff.Hash(pin), "Your PIN is set."
	}
	if err := s.Store.SetPIN(r.Context(), p.ID, hash); err != nil {
		return err
	}
	return s.done(w, r, "/me", said)
}
