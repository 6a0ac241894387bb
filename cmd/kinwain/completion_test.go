package main

import (
	"os/exec"
	"slices"
	"strings"
	"testing"

	"kinwain/internal/skipped"
)

// shell returns the path of a shell of this machine.
func shell(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		skipped.Test(t, "the shell "+name)
	}
	return path
}

// runs runs a script in a shell, without any file of whoever runs the test,
// and returns the words that it prints.
func runs(t *testing.T, shell, script string, flags ...string) []string {
	t.Helper()
	c := exec.CommandContext(t.Context(), shell, append(flags, "-c", script)...)
	c.Env = []string{"HOME=" + t.TempDir(), "PATH=/usr/bin:/bin", "TERM=dumb"}
	c.Dir = t.TempDir()
	out, err := c.CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	return strings.Fields(string(out))
}

// lines are command lines, each with what may come in place of its last word.
func lines() map[string][]string {
	want := map[string][]string{
		"ma":                            {"match"},
		"export -format ":               {"json", "csv", "xlsx"},
		"export -format x":              {"xlsx"},
		"serve -log-level ":             {"INFO", "WARN", "ERROR"},
		"serve -addr :80 -log-level W":  {"WARN"},
		"-log-level E":                  {"ERROR"},
		"completion f":                  {"fish"},
		"restore -y":                    {"-yes"},
		"import -dry":                   {"-dry-run"},
		"match -profile a.json -catal":  {"-catalogue"},
		"match -catalogue x -profile -": nil, // a file may begin so
	}
	for _, c := range commands() {
		want[c.name[:len(c.name)-1]] = []string{c.name}
	}
	for _, c := range completions() {
		want[c.name+" -"] = c.names()
	}
	return want
}

func TestCompletesInBash(t *testing.T) {
	t.Parallel()
	bash, script := shell(t, "bash"), done(t, "completion", "bash")
	runs(t, bash, script, "-n")
	for line, want := range lines() {
		words := "'kinwain'"
		for _, word := range strings.Split(line, " ") {
			words += " " + quoted(word)
		}
		got := runs(t, bash, script+"\nCOMP_WORDS=("+words+")\nCOMP_CWORD=$((${#COMP_WORDS[@]} - 1))\n_kinwain\nprintf '%s\\n' \"${COMPREPLY[@]}\"", "--norc", "--noprofile")
		if !slices.Equal(got, want) {
			t.Errorf("%q offers %q, want %q", line, got, want)
		}
	}
}

func TestCompletesInFish(t *testing.T) {
	t.Parallel()
	fish, script := shell(t, "fish"), done(t, "completion", "fish")
	for line, want := range lines() {
		if want == nil {
			continue // fish offers files
		}
		got := runs(t, fish, script+"\ncomplete -C "+fishQuoted("kinwain "+line)+" | string replace -r '\\t.*' ''\ntrue", "--no-config")
		slices.Sort(got)
		slices.Sort(want)
		if !slices.Equal(got, want) {
			t.Errorf("%q offers %q, want %q", line, got, want)
		}
	}
}

func TestZshReadsCompletion(t *testing.T) {
	t.Parallel()
	zsh, script := shell(t, "zsh"), done(t, "completion", "zsh")
	if got := runs(t, zsh, "autoload -Uz compinit && compinit -u\n"+script+"\nprint -r -- $_comps[kinwain]", "-f"); !slices.Equal(got, []string{"_kinwain"}) {
		t.Errorf("zsh completes with %q", got)
	}
}

// TestCompletionHasEveryFlag holds what is written for each shell against what
// the commands say when they are asked for help.
func TestCompletionHasEveryFlag(t *testing.T) {
	t.Parallel()
	for name := range shells {
		script := done(t, "completion", name)
		for _, c := range commands() {
			_, _, help := execute(t, c.name, "-h")
			for line := range strings.Lines(help) {
				flag, is := strings.CutPrefix(line, "  -")
				if flag, _, _ = strings.Cut(strings.TrimSpace(flag), " "); is && !strings.Contains(script, flag) {
					t.Errorf("%s: -%s of %s is not there", name, flag, c.name)
				}
			}
		}
	}
	if status, _, err := execute(t, "completion", "sh"); status != 2 || !strings.Contains(err, "bash, zsh and fish") {
		t.Errorf("of a shell that nobody knows: %d, %s", status, err)
	}
}
