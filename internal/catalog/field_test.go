package catalog_test

import (
	"reflect"
	"testing"

	"kinwain/internal/catalog"
)

// TestEveryFactIsDeclaredOnce holds the tables against the types: every field
// of a thing is one fact of its table, and no two facts are one field.
func TestEveryFactIsDeclaredOnce(t *testing.T) {
	shop, frame, addOn, unit := catalog.Shop{}, catalog.Frame{}, catalog.AddOn{}, catalog.Unit{}
	declared(t, "shop", catalog.Of("shop"), &shop)
	declared(t, "frames", catalog.Of("frames"), &frame)
	declared(t, "add_ons", catalog.Of("add_ons"), &addOn)
	declared(t, "units", catalog.Of("units"), &unit)
	declared(t, "zones", catalog.Of("zones"), &catalog.Zone{})
	declared(t, "combined", catalog.Of("combined"), &catalog.Combined{})
	declared(t, "places", catalog.Of("places"), &catalog.Place{})
	declared(t, "on_frame", catalog.Of("on_frame"), &catalog.Pair{})
	for _, f := range catalog.Of("frames") {
		switch f.Name {
		case "upright":
			declared(t, f.Name, f.Sub, &frame.Upright)
		case "mounts":
			declared(t, f.Name, f.Sub, &catalog.Mount{})
		}
	}
	for _, f := range catalog.Of("add_ons") {
		if f.Name == "uses" {
			declared(t, f.Name, f.Sub, &catalog.Use{})
		}
	}
}

func declared(t *testing.T, list string, fields []catalog.Field, thing any) {
	t.Helper()
	names, at := map[string]bool{}, map[any]string{}
	for _, f := range fields {
		pointer := f.At(thing)
		if names[f.Name] || at[pointer] != "" {
			t.Errorf("%s: %s is declared twice, or the same as %q", list, f.Name, at[pointer])
		}
		names[f.Name], at[pointer] = true, f.Name
	}
	v := reflect.ValueOf(thing).Elem()
	for i := range v.NumField() {
		if at[v.Field(i).Addr().Interface()] == "" {
			t.Errorf("%s: %s is not declared", list, v.Type().Field(i).Name)
		}
	}
}
