package main

import (
	"context"
	"fmt"
	"runtime/debug"
	"strings"

	"kinwain/internal/store"
)

// versionFlag asks which program this is: a command, or with a dash as most
// programs have it.
const versionFlag = "version"

// versionCommand says which program this is, on one line: what it was built
// from as the Go tool noted it (go version -m says all of that), with what, and
// the schema of the stores that it writes.
func versionCommand(_ context.Context, p *program, args []string) error {
	if err := p.parse(p.flags(versionFlag), args, 0, 0); err != nil {
		return err
	}
	schema, err := store.Schema()
	if err != nil {
		return err
	}
	build, ok := debug.ReadBuildInfo()
	if !ok {
		build = &debug.BuildInfo{Main: debug.Module{Version: "of an unknown build"}}
	}
	_, err = fmt.Fprintf(p.out, "kinwain %s, schema %d\n", built(build), schema)
	return err
}

// built joins what is known of a build.
func built(build *debug.BuildInfo) string {
	noted := map[string]string{}
	for _, s := range build.Settings {
		noted[s.Key] = s.Value
	}
	words := []string{build.Main.Version}
	if revision := noted["vcs.revision"]; revision != "" {
		of := "revision " + revision[:min(12, len(revision))]
		if at := noted["vcs.time"]; at != "" {
			of += " of " + at
		}
		if noted["vcs.modified"] == "true" {
			of += " with changes since"
		}
		words = append(words, of)
	}
	if build.GoVersion != "" {
		words = append(words, strings.TrimSpace(build.GoVersion+" "+noted["GOOS"]+"/"+noted["GOARCH"]))
	}
	return strings.Join(words, ", ")
}
