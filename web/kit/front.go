package kit

import (
	"net/http"
	"time"
)

// What a session keeps of whose consultation was opened last on its tablet.
const (
	frontKey   = "front"    // the ID
	frontAtKey = "front_at" // seconds since 1970-01-01 UTC
)

// A customer is taken to stand in front of a tablet for so long after their
// consultation was last opened there. That it still is open is noted so often,
// for each note is a write.
const (
	frontLasts = 2 * time.Hour
	frontNoted = 10 * time.Minute
)

// PutInFront notes on the tablet of a request whose consultation is open there.
func (k *Kit) PutInFront(r *http.Request, consultation string) {
	now := k.Now().Unix()
	since := now - k.Sessions.GetInt64(r.Context(), frontAtKey)
	if k.Sessions.GetString(r.Context(), frontKey) == consultation && since < int64(frontNoted/time.Second) {
		return
	}
	k.Sessions.Put(r.Context(), frontKey, consultation)
	k.Sessions.Put(r.Context(), frontAtKey, now)
}

// InFront returns whose consultation is open on the tablet of a request; empty
// where none is, or none was opened for long.
func (k *Kit) InFront(r *http.Request) string {
	if k.Now().Unix()-k.Sessions.GetInt64(r.Context(), frontAtKey) > int64(frontLasts/time.Second) {
		return ""
	}
	return k.Sessions.GetString(r.Context(), frontKey)
}

// NobodyInFront forgets it.
func (k *Kit) NobodyInFront(r *http.Request) { k.Sessions.Remove(r.Context(), frontKey) }
