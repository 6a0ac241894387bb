package counter

import (
	ics "github.com/arran4/golang-ical"

	"kinwain/internal/store"
	"kinwain/web/say"
)

// calendar writes a test ride as an appointment by RFC 5545. Times are UTC,
// so that every calendar shows its own; a ride that was changed has the same
// UID and a later SEQUENCE.
func calendar(r *store.Ride, s *say.Speaker, shop string) []byte {
	c := ics.NewCalendarFor("Kinwain")
	c.SetMethod(ics.MethodPublish)
	event := c.AddEvent(r.ID + "@kinwain")
	event.SetDtStampTime(r.Updated)
	event.SetCreatedTime(r.Created)
	event.SetModifiedAt(r.Updated)
	event.SetSequence(r.Version - 1)
	event.SetStartAt(r.Starts)
	event.SetEndAt(r.Ends)
	event.SetSummary(s.Say("Test ride: %v (%v)", r.FrameName, r.Unit))
	event.SetLocation(shop)
	about := s.Say("Bring what you ride in: shoes, clothes, a helmet for every head. Practise unloaded first.")
	if r.Rider != "" {
		about = s.Say("Rider: %v", r.Rider) + "\n" + about
	}
	event.SetDescription(about)
	event.SetStatus(ics.ObjectStatusConfirmed)
	if r.Status == store.RideCancelled {
		event.SetStatus(ics.ObjectStatusCancelled)
	}
	return []byte(c.Serialize(ics.WithNewLineWindows)) // RFC 5545, section 3.1: lines end in CRLF
}
