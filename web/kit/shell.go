package kit

import (
	"net/http"

	"kinwain/internal/staff"
	"kinwain/static"
)

// DeskShell is what the pages at the desk have around them.
func (k *Kit) DeskShell(r *http.Request, title string) Shell {
	shell := k.Shell(r, title)
	shell.Desk, shell.DeskJS = static.Address("desk.css"), static.Address("desk.js")
	return shell
}

// ProfileScript is the address of the script of the profile form.
func (k *Kit) ProfileScript() string { return static.Address("profile.js") }

// GuardScript is the address of the script that asks before a form is left with
// what is not saved.
func GuardScript() string { return static.Address("unsaved.js") }

// Shell is what every page has around it.
func (k *Kit) Shell(r *http.Request, title string) Shell {
	shell := Shell{Title: title, CSS: static.Address("app.css"), JS: static.Address("app.js"), Icon: static.Address("icon-192.png"),
		SignedIn: Who(r) != nil}
	if i := Who(r); i != nil {
		shell.Who, shell.Manager = i.Name, i.Role == staff.Manager
		if i.ByLink() {
			shell.Who = "Printed link" // the top has no room for more
		}
	}
	shell.Shop = k.ShopName(r.Context())
	return shell
}
