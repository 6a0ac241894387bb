package shop

import (
	"net/http"
	"time"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/staff"
	"kinwain/internal/store"
	"kinwain/web/kit"
)

// deviceLinkLife is how long a code to enrol a tablet works: as long as it takes
// to walk there.
const deviceLinkLife = 15 * time.Minute

var errDeviceLink = &kit.Failure{Status: http.StatusNotFound, Code: "device_link", Title: "This code enrols nothing", Text: "It was used already, or is older than 15 minutes. A manager makes another under Settings, Staff.", SignIn: true}

// deviceCode shows a link, as a code to scan, that enrols whatever opens it.
func (room *Room) deviceCode(w http.ResponseWriter, r *http.Request) error {
	values, err := kit.Posted(r)
	if err != nil {
		return err
	}
	label := staff.Name(values.Get("tablet"))
	if fault := labelFault(label); fault != "" {
		return room.showStaff(w, r, Staff{Tablet: tabletField(values.Get("tablet"), fault)}, http.StatusUnprocessableEntity)
	}
	token, err := room.store.IssueDeviceLink(r.Context(), label, kit.Who(r).Name, room.Now(), room.Now().Add(deviceLinkLife))
	if err != nil {
		return err
	}
	return room.showIssued(w, r, Issued{Title: "To enrol " + label, Value: room.PublicURL + kit.SignInAddress + "/device/" + token,
		Text: "Scan the code with the tablet, or type the address. It works once, within 15 minutes, and signs nobody in: people do that with their PIN."})
}

func tabletField(label, fault string) kit.Field {
	f := labelField(label, fault)
	f.Name = "tablet"
	return f
}

// deviceForm shows who has opened such a link a button, so that a preview of it
// enrols nothing.
func (room *Room) deviceForm(w http.ResponseWriter, r *http.Request) error {
	d, err := room.store.DeviceOfLink(r.Context(), chi.URLParam(r, "token"), room.Now())
	if store.CodeOf(err) == store.NotFound {
		return errDeviceLink
	}
	if err != nil {
		return err
	}
	return kit.Render(r.Context(), w, http.StatusOK, OneButtonPage(OneButton{Shell: room.DeskShell(r, "Enrol this device"), Heading: "Enrol this device", Action: r.URL.Path, Button: "Enrol it as " + d.Label,
		Text: "People then sign in here by picking their name and typing a PIN. Do this only on a device that stays in the shop."}))
}

func (room *Room) enrolByLink(w http.ResponseWriter, r *http.Request) error {
	token, err := room.store.EnrolByLink(r.Context(), chi.URLParam(r, "token"), room.Now())
	if store.CodeOf(err) == store.NotFound {
		return errDeviceLink
	}
	if err != nil {
		return err
	}
	room.setCookie(w, deviceCookie, token, deviceLife)
	http.Redirect(w, r, kit.SignInAddress, http.StatusSeeOther)
	return nil
}
