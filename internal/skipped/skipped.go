// Package skipped is for tests only: it says which checks a machine cannot
// make, and what they need, where nobody asked for it with -v.
//
// Of packages that pass go test shows a line and nothing that their tests
// wrote. What is said here goes around it, into the standard error of go test
// itself, which /proc has a name for. Where that is a file it is left alone:
// go test writes on over what others append. A result that go test remembers,
// "(cached)", was said when it was new.
package skipped

import (
	"fmt"
	"os"
	"sync"
	"testing"
)

var said sync.Map

// Test skips a test that needs something, and says so once for all tests of a
// package that need the same.
func Test(t testing.TB, need string) {
	t.Helper()
	if _, before := said.LoadOrStore(need, true); !before && !testing.Verbose() {
		tell(fmt.Sprintf("skipped, %s and whatever else needs it: %s\n", t.Name(), need))
	}
	t.Skip("needs " + need)
}

// tell writes to the standard error of the program that runs the tests, as
// far as there is a way.
func tell(text string) {
	name := fmt.Sprintf("/proc/%d/fd/2", os.Getppid())
	if info, err := os.Stat(name); err != nil || info.Mode().IsRegular() {
		return
	}
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_APPEND, 0)
	if err != nil {
		return
	}
	defer f.Close() // it was for people: whether they could read it changes no result
	_, _ = f.WriteString(text)
}
