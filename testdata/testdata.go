// Package testdata holds the demo shop: an invented catalogue of an invented
// shop, which the app starts with and the tests judge.
package testdata

import (
	"embed"
)

// Demo is the catalogue document of the demo shop.
//
//go:embed demo.json
var Demo []byte

// Texts is what the demo shop says about itself, by name.
//
//go:embed texts.json
var Texts []byte

// Settings are the figures that the demo shop set for itself, by name.
//
//go:embed settings.json
var Settings []byte

// Profiles are the documents of the sample customers, in the folder profiles.
//
//go:embed profiles/*.json
var Profiles embed.FS

// OpenAPI is the schema of OpenAPI 3.1 documents as its authors publish it, at
// https://spec.openapis.org/oas/3.1/schema/2022-10-07.
//
//go:embed openapi-3.1-schema.json
var OpenAPI []byte
