// Package shop is the room where the shop looks after itself: its settings,
// its staff, their devices and tokens, signing in, and everybody's own account.
//
// What proves who somebody is: a passphrase or a PIN is hashed (staff.Hash), and
// a name that nobody has costs what a wrong passphrase costs. Wrong tries are
// counted by name and address together, by address, and by name, in the store; who
// comes from a device that is known is counted apart, so that no stranger keeps
// them out. What is random (sessions, links, devices, tokens) is kept as its hash
// alone and shown once.
package shop

import (
	"context"
	"net/http"
	"time"

	"kinwain/internal/advice"
	"kinwain/internal/catalog"
	"kinwain/internal/concern"
	"kinwain/internal/staff"
	"kinwain/internal/store"
	"kinwain/web/kit"
)

// Store is what the room uses of what is kept.
type Store interface {
	advice.Store
	APITokens(ctx context.Context) ([]store.APIToken, error)
	AddManager(ctx context.Context, name, passphrase string, now time.Time) (store.Person, error)
	AddPerson(ctx context.Context, name string, role staff.Role, now time.Time) (id int64, err error)
	ChangeSettings(ctx context.Context, c store.SettingsChange, by store.Author) error
	CatalogueAt(ctx context.Context) (c *catalog.Catalogue, revision int64, err error)
	BeginTry(ctx context.Context, now time.Time, keys ...staff.Key) (wait time.Duration, err error)
	Device(ctx context.Context, token string) (store.Device, error)
	DeviceOfLink(ctx context.Context, token string, now time.Time) (store.Device, error)
	Devices(ctx context.Context) ([]store.Device, error)
	EndLinkEntries(ctx context.Context) error
	EndLinkEntry(ctx context.Context, id int64) error
	EnrolByLink(ctx context.Context, link string, now time.Time) (token string, err error)
	EnrolDevice(ctx context.Context, label, by string, now time.Time) (token string, err error)
	ForgivePIN(ctx context.Context, id int64) error
	ForgiveTries(ctx context.Context, keys ...staff.Key) error
	IssueAPIToken(ctx context.Context, t store.APIToken) (token string, err error)
	IssueDeviceLink(ctx context.Context, label, by string, now, expires time.Time) (token string, err error)
	IssueLink(ctx context.Context, id int64, expires time.Time) (token string, err error)
	LinkEntries(ctx context.Context, now time.Time) ([]store.LinkEntry, error)
	MergeTexts(ctx context.Context, set map[string]string) error
	NoteSignIn(ctx context.Context, person int64, i store.SignIn) error
	People(ctx context.Context) ([]store.Person, error)
	Person(ctx context.Context, id int64) (store.Person, error)
	PersonNamed(ctx context.Context, name string) (store.Person, error)
	PersonOfLink(ctx context.Context, token string, now time.Time) (store.Person, error)
	Progress(ctx context.Context) (store.Progress, error)
	ReplaceCatalogueAt(ctx context.Context, revision int64, c *catalog.Catalogue, by store.Author) error
	RevokeAPIToken(ctx context.Context, id int64, now time.Time) error
	RevokeDevice(ctx context.Context, id int64, now time.Time) error
	Secret(ctx context.Context, name string) ([]byte, error)
	SetDisabled(ctx context.Context, id int64, disabled bool) error
	SetPIN(ctx context.Context, id int64, hash string) error
	SetPassphrase(ctx context.Context, id int64, hash string) error
	SetRole(ctx context.Context, id int64, role staff.Role) error
	SignInLinkValid(ctx context.Context, token string, now time.Time) (bool, error)
	SignIns(ctx context.Context, person int64) ([]store.SignIn, error)
	SignOutEverywhere(ctx context.Context, id int64) error
	Texts(ctx context.Context) (map[string]string, error)
	TryPIN(ctx context.Context, id int64, most int) (may bool, err error)
	TryWait(ctx context.Context, now time.Time, keys ...staff.Key) (wait time.Duration, err error)
	UseLink(ctx context.Context, token, passphrase string, now time.Time) (store.Person, error)
	UseSignInLink(ctx context.Context, token string, now time.Time, e store.LinkEntry) (id int64, err error)
}

// Room answers the requests about the shop itself.
type Room struct {
	*kit.Kit
	store  Store
	watch  *concern.Watch
	advice *advice.Advisor
	turns  staff.Turns
}

// New returns the room. watch says whom a change of the shop concerns.
func New(k *kit.Kit, s Store, watch *concern.Watch, a *advice.Advisor) *Room {
	return &Room{Kit: k, store: s, watch: watch, advice: a}
}

// Ways are the ways into the room.
func (room *Room) Ways(w kit.Ways) {
	w.Get(kit.SignInAddress, room.signInForm)
	w.Post(kit.SignInAddress, room.enter)
	w.Get(kit.SignInAddress+"/{token}", room.linkForm)
	w.Post(kit.SignInAddress+"/{token}", room.signIn)
	w.Get(kit.SignInAddress+"/new/{token}", room.newForm)
	w.Post(kit.SignInAddress+"/new/{token}", room.choose)
	w.Get(kit.SignInAddress+"/device/{token}", room.deviceForm)
	w.Post(kit.SignInAddress+"/device/{token}", room.enrolByLink)
	w.Post(kit.SignOutAddress, room.signOut)
	w.Get(kit.MeAddress, room.me)
	w.Post(kit.MeAddress, room.changeMe)
	w.Get(staffAddress, room.people)
	w.Post(staffAddress, room.addPerson)
	w.Post(staffAddress+"/{id}", room.changePerson)
	w.Post(staffAddress+"/devices", room.enrol)
	w.Post(staffAddress+"/devices/code", room.deviceCode)
	w.Post(staffAddress+"/devices/{id}", room.revokeDevice)
	w.Post(staffAddress+"/link/{id}", room.endEntry)
	w.Get(tokensAddress, room.tokens)
	w.Post(tokensAddress, room.issueToken)
	w.Post(tokensAddress+"/{id}", room.revokeToken)
	w.Get(kit.SettingsAddress, room.settingsIndex)
	w.Get(kit.SettingsAddress+"/shop", room.shopForm)
	w.Post(kit.SettingsAddress+"/shop", room.saveShop)
	for _, p := range []*figuresPage{figurePage(), criteriaPage()} {
		w.Get(p.address, func(w http.ResponseWriter, r *http.Request) error { return room.figuresForm(w, r, p) })
		w.Post(p.address, func(w http.ResponseWriter, r *http.Request) error { return room.saveFigures(w, r, p) })
	}
	w.Post(criteriaPreview, room.previewCriteria)
}
