package main

import (
	"fmt"
	"regexp"
	"runtime/debug"
	"testing"

	"kinwain/internal/store"
)

func TestVersion(t *testing.T) {
	t.Parallel()
	schema, err := store.Schema()
	if err != nil || schema < 15 {
		t.Fatalf("schema %d, %v", schema, err)
	}
	for _, flag := range []string{"version", "-version", "--version"} {
		said := done(t, flag)
		if want := regexp.MustCompile(fmt.Sprintf(`^kinwain \S+.*, go1\.\d+.* \w+/\w+, schema %d\n$`, schema)); !want.MatchString(said) {
			t.Errorf("%s says %q", flag, said)
		}
	}
}

func TestBuilt(t *testing.T) {
	t.Parallel()
	setting := func(pairs ...string) (settings []debug.BuildSetting) {
		for i := 0; i < len(pairs); i += 2 {
			settings = append(settings, debug.BuildSetting{Key: pairs[i], Value: pairs[i+1]})
		}
		return settings
	}
	for want, build := range map[string]debug.BuildInfo{
		"v1.2.0, revision 0123456789ab of 2026-11-26T10:00:00Z, go1.26 linux/arm64": {GoVersion: "go1.26", Main: debug.Module{Version: "v1.2.0"},
			Settings: setting("GOOS", "linux", "GOARCH", "arm64", "vcs.revision", "0123456789abcdef", "vcs.time", "2026-11-26T10:00:00Z", "vcs.modified", "false")},
		"(devel), revision 0123 with changes since": {Main: debug.Module{Version: "(devel)"}, Settings: setting("vcs.revision", "0123", "vcs.modified", "true")},
		"(devel)": {Main: debug.Module{Version: "(devel)"}},
	} {
		if got := built(&build); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
