package skipped_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"testing"

	"kinwain/internal/skipped"
)

// part says what a process of these tests plays: "tests" that need something,
// or the "runner" of such tests, which keeps what they write to itself.
const part = "KINWAIN_TEST_PART"

func TestMain(m *testing.M) {
	if os.Getenv(part) != "runner" {
		os.Exit(m.Run())
	}
	tests := exec.Command(os.Args[0], os.Args[1:]...)
	tests.Env = append(os.Environ(), part+"=tests")
	if tests.Run() != nil {
		os.Exit(1)
	}
}

func TestOneOfTwo(t *testing.T)   { quiet(t) }
func TestOtherOfTwo(t *testing.T) { quiet(t) }

func quiet(t *testing.T) {
	if os.Getenv(part) == "tests" {
		skipped.Test(t, "a quiet day")
		t.Error("not skipped")
	}
}

// TestIsSaidPastTheRunner holds that what is skipped is said once, and not
// where -v says it or where a file would be written over.
func TestIsSaidPastTheRunner(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("there is no way on ", runtime.GOOS)
	}
	run := func(flags ...string) *exec.Cmd {
		runner := exec.CommandContext(t.Context(), os.Args[0], append([]string{"-test.run=OfTwo"}, flags...)...)
		runner.Env = append(os.Environ(), part+"=runner")
		return runner
	}
	for flag, want := range map[string]string{"-test.v=false": "skipped, TestOneOfTwo and whatever else needs it: a quiet day\n", "-test.v": ""} {
		var said bytes.Buffer
		runner := run(flag)
		runner.Stderr = &said
		if err := runner.Run(); err != nil || said.String() != want {
			t.Errorf("%s: said %q, want %q; %v", flag, &said, want, err)
		}
	}
	log, err := os.Create(filepath.Join(t.TempDir(), "log"))
	if err != nil {
		t.Fatal(err)
	}
	defer log.Close() // only read
	runner := run()
	runner.Stderr = log
	if err := runner.Run(); err != nil {
		t.Error(err)
	}
	if data, err := os.ReadFile(log.Name()); err != nil || len(data) != 0 {
		t.Errorf("in the file of a log: %q, %v", data, err)
	}
}
