package web

import (
	"github.com/go-json-experiment/json"

	"kinwain/static"
	"kinwain/web/kit"
)

// What a device of the shop keeps for when there is no network: a worker, and
// the one page that it shows then. Neither holds anything of the shop.
const (
	workerAddress  = "/worker.js"
	offlineAddress = "/offline"
)

// manifest says what the app is on a home screen (W3C, Web Application
// Manifest).
func manifest() []byte {
	type icon struct {
		Source  string `json:"src"`
		Sizes   string `json:"sizes"`
		Type    string `json:"type"`
		Purpose string `json:"purpose,omitzero"`
	}
	written, err := json.Marshal(object{
		{"id", kit.StartAddress}, {"name", "Kinwain"}, {"short_name", "Kinwain"}, {"description", "Bikes that carry, matched to who rides them and what they carry"}, {"lang", "en"},
		{"start_url", kit.StartAddress}, {"scope", kit.StartAddress}, {"display", "standalone"},
		{"theme_color", kit.LightPaper}, {"background_color", kit.LightPaper},
		{"icons", []icon{
			{Source: static.Address("icon-192.png"), Sizes: "192x192", Type: "image/png"}, {Source: static.Address("icon-512.png"), Sizes: "512x512", Type: "image/png"},
			{Source: static.Address("icon-maskable-512.png"), Sizes: "512x512", Type: "image/png", Purpose: "maskable"},
			{Source: static.Address("icon.svg"), Sizes: "any", Type: "image/svg+xml"},
		}},
	})
	if err != nil {
		panic("web: " + err.Error()) // of what is in this program
	}
	return written
}
