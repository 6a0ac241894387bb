package shop

import (
	"kinwain/web/kit"
)

// SettingsIndex leads to every page of the settings.
type SettingsIndex struct {
	kit.Shell
	Links []SettingsLink
}

// SettingsLink is one of them.
type SettingsLink struct{ Href, Label, Text string }

// Settings is one page of settings.
type Settings struct {
	kit.Shell
	Heading  string
	Lead     string
	Action   string
	Tabs     []kit.Step
	Done     string // what was just saved, or nothing
	Unsaved  bool   // what is typed was sent and is not kept yet
	Faults   string // that nothing was saved, and why
	Groups   []SettingGroup
	ResetAll bool
	Ask      *kit.Asking // what is to be looked at before it is saved
	Checking kit.Checking
	Live     string // where the script posts the fields for a preview
	Preview  *Preview
}

// SettingGroup is what stands under one heading.
type SettingGroup struct {
	Title  string
	Why    string
	Fields []SettingField
}

// SettingField is a question with the way back to its default.
type SettingField struct {
	kit.Field
	Was   string // what stood there when the page was made
	Reset string // the words of that button; nothing at the default
}

// Preview shows how the order of frames changes for sample customers.
type Preview struct {
	Summary string
	Waiting string            // why there is none
	Faults  map[string]string // by the name of the field
	Rows    []PreviewRow
}

// PreviewRow is one sample customer.
type PreviewRow struct {
	Customer string
	Before   []PreviewFrame
	After    []PreviewFrame
	Moved    bool
}

// PreviewFrame is a frame at its place.
type PreviewFrame struct {
	Name  string
	Score string
	Care  bool   // fits with care only, and so comes after all that simply fit
	Moved string // from where; nothing where it stays
}
