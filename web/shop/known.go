package shop

import (
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"net/http"
	"strconv"
	"strings"
	"time"

	"kinwain/internal/store"
)

const (
	knownCookie = "kinwain_known"
	// knownLife is how long a device stays known after somebody signed in on it.
	knownLife = 180 * 24 * time.Hour
	// knownSecret names what signs the cookie.
	knownSecret = "known devices"
)

// knownAs returns by what wrong tries to be a person are counted apart from
// those of strangers: by an enrolled device, or by one on which that person has
// signed in; nothing on any other. What a cookie says counts only as this
// program has signed it, and only until the person's sessions were ended
// everywhere: whoever lost a device is not known on it.
func (room *Room) knownAs(r *http.Request, p store.Person) (string, error) {
	d, err := room.device(r)
	if err != nil {
		return "", err
	}
	if d != nil {
		return fmt.Sprintf("device %d", d.ID), nil
	}
	cookie, err := r.Cookie(knownCookie)
	if err != nil || p.ID == 0 {
		return "", nil // there is none
	}
	claim, mac, _ := strings.Cut(cookie.Value, "~")
	person, epoch, day, device := "", "", "", ""
	if parts := strings.Split(claim, "."); len(parts) == 4 {
		person, epoch, day, device = parts[0], parts[1], parts[2], parts[3]
	}
	since, err := strconv.ParseInt(day, 10, 64)
	if err != nil || person != id(p.ID) || epoch != id(p.Epoch) || room.Now().Unix()-since > int64(knownLife/time.Second) {
		return "", nil
	}
	signed, err := room.signed(r, claim)
	if err != nil || !hmac.Equal([]byte(mac), []byte(signed)) {
		return "", err
	}
	return "known " + device, nil
}

// remember makes the browser that asks known for a person.
func (room *Room) remember(w http.ResponseWriter, r *http.Request, p store.Person) error {
	claim := strings.Join([]string{id(p.ID), id(p.Epoch), id(room.Now().Unix()), rand.Text()}, ".")
	mac, err := room.signed(r, claim)
	if err != nil {
		return err
	}
	room.setCookie(w, knownCookie, claim+"~"+mac, knownLife)
	return nil
}

func (room *Room) signed(r *http.Request, claim string) (string, error) {
	secret, err := room.store.Secret(r.Context(), knownSecret)
	if err != nil {
		return "", err
	}
	mac := hmac.New(sha256.New, secret)
	mac.Write([]byte(claim))
	return hex.EncodeToString(mac.Sum(nil)), nil
}

// setCookie keeps something with the browser that no script reads.
func (room *Room) setCookie(w http.ResponseWriter, name, value string, life time.Duration) {
	http.SetCookie(w, &http.Cookie{Name: name, Value: value, Path: "/", MaxAge: int(life / time.Second), HttpOnly: true, Secure: room.Secure, SameSite: http.SameSiteLaxMode})
}
